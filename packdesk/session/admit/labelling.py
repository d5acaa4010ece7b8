"""Which entries about labels and their sheets fit."""

from __future__ import annotations

from datetime import datetime

from packdesk.session import facts as f
from packdesk.session.admit.pouches import each, must_not_be_emptied
from packdesk.session.admit.rule import rule, the_session
from packdesk.session.numbers import listed
from packdesk.session.state import SessionState, State


@rule.register
def _(fact: f.LabelsMade, state: State, at: datetime) -> str:
    if fact.line:
        return _number_labels(state, fact)
    return _place(fact.first_cell) or each(state, fact.pouches, must_not_be_emptied)


@rule.register
def _(fact: f.LabelsPrinted, state: State, at: datetime) -> str:
    return _place(fact.first_cell) or each(state, fact.pouches, must_not_be_emptied)


@rule.register
def _(fact: f.NumberLabelsPrinted, state: State, at: datetime) -> str:
    return _number_labels(state, fact)


def _number_labels(state: State, fact: f.LabelsMade | f.NumberLabelsPrinted) -> str:
    session = the_session(state)
    plan = session.plan
    line = plan.line(fact.line) if plan is not None else None
    if plan is None or line is None:
        return "Agree a plan with this food first."
    if not plan.numbered:
        return "This plan works with counted pouches. Plan numbered working to print numbers."
    if not fact.pouches or len(set(fact.pouches)) != len(fact.pouches):
        return "Say which numbers, each once."
    return (
        _place(fact.first_cell)
        or _numbers(session, fact)
        or _against_plan(session, fact, line.count)
    )


def _place(first_cell: int) -> str:
    return "The first place on the sheet is 1." if first_cell < 0 else ""


def _numbers(session: SessionState, fact: f.LabelsMade | f.NumberLabelsPrinted) -> str:
    """Object to numbers that no pouch of this line can have, or that were printed before.

    A pouch filled between the making of its label and the answer how it came out is no objection.
    """
    if min(fact.pouches) < 1:
        return "Pouches are numbered from 1."
    asked = session.labels_asked
    made = asked.pouches if asked is not None and asked.line == fact.line else ()
    filled = [n for n in fact.pouches if n in session.pouches and n not in made]
    if filled:
        return f"{listed(filled)} filled. Print the label with everything."
    printed = session.numbers_printed
    other = [number for number in fact.pouches if printed.get(number, fact.line) != fact.line]
    if other:
        return f"{listed(other)} numbered for another food. Choose other numbers."
    again = [number for number in fact.pouches if number in printed]
    if again and not fact.reprint:
        return f"{listed(again)} numbered on a label already. Print those again, or leave them out."
    return ""


def _against_plan(
    session: SessionState, fact: f.LabelsMade | f.NumberLabelsPrinted, planned: int
) -> str:
    waiting = {
        number
        for number, line in session.numbers_printed.items()
        if line == fact.line and number not in session.pouches
    }
    filled = len(session.working_pouches(fact.line))
    if filled + len((waiting | set(fact.pouches)) - session.pouches.keys()) > planned:
        return f"That is more than the {planned} pouches planned. Plan more first."
    return ""


@rule.register
def _(fact: f.StockSheetUsed, state: State, at: datetime) -> str:
    return "" if fact.cells >= 0 else "A sheet has 0 or more places used."
