"""Which sessions, lots and plans fit."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from math import isfinite

from packdesk.session import facts as f
from packdesk.session.admit.rule import not_before, rule, the_session
from packdesk.session.book_state import BookState
from packdesk.session.figures import AgreedLine
from packdesk.session.state import SessionState, State
from packdesk.session.terms import LotVerdict


@rule.register
def _(fact: f.SessionOpened, state: State, at: datetime) -> str:
    if not fact.name.strip():
        return "Give the session a name, such as the foods and the season."
    return "A session is open already. Leave it first." if state.session is not None else ""


@rule.register
def _(fact: f.LotReceived, state: State, at: datetime) -> str:
    if fact.lot in state.book.lots:
        return f"Lot {fact.lot} is in the book already. Give this one the next number."
    if not (fact.mass_g > 0 and isfinite(fact.mass_g)):
        return "A lot needs a mass above zero."
    return ""


@rule.register
def _(fact: f.LotLookedAt, state: State, at: datetime) -> str:
    lot = state.book.lots.get(fact.lot)
    if lot is None:
        return f"Lot {fact.lot} is not in the book. Receive it first."
    if lot.verdict is fact.verdict:
        return f"Lot {fact.lot} is {lot.verdict} already. Note what you saw as a note."
    if not fact.seen.strip():
        return f"Say what you saw. Without it lot {fact.lot} stays {lot.verdict}."
    return not_before(at, lot.received_at, f"lot {fact.lot} was received")


@rule.register
def _(fact: f.PlanAgreed, state: State, at: datetime) -> str:
    if not fact.lines:
        return "A plan needs at least one food."
    if len({line.line for line in fact.lines}) != len(fact.lines):
        return "Two plan lines have the same number. Number them apart."
    session = the_session(state)
    return (
        _first(_against_lot(state.book, line) for line in fact.lines)
        or _first(_against_figures(line) for line in fact.lines)
        or _against_filled(session, fact)
    )


def _against_lot(book: BookState, line: AgreedLine) -> str:
    lot = book.lots.get(line.lot)
    if lot is None:
        return f"Lot {line.lot} is not in the book. Receive it first."
    if lot.verdict is not LotVerdict.ACCEPTED:
        return (
            f"Lot {line.lot} was {lot.verdict}. Only an accepted lot can be packed. "
            "Look at it again, or take it off."
        )
    if lot.food != line.food:
        return f"Lot {line.lot} is {lot.food_name}. Choose a lot of {line.food_name}."
    return ""


def _against_figures(line: AgreedLine) -> str:
    if line.never and not line.against_advice.strip():
        return f"{line.food_name}: {line.never} Take it off, or say why it is put up all the same."
    if line.never and line.absorbers_cc:
        return f"{line.food_name}: no absorber may go into it. Plan it without."
    if line.count < 1:
        return f"Plan at least one pouch of {line.food_name}."
    if not line.fill_mass_g > 0:
        return f"A pouch of {line.food_name} needs a mass above zero."
    if any(rating < 1 for rating in line.absorbers_cc):
        return f"An absorber for {line.food_name} needs a rating above zero."
    return ""


def _against_filled(session: SessionState, fact: f.PlanAgreed) -> str:
    """What is filled stays as it is: its plan line, its food, and at least as many pouches."""
    lines = {line.line: line for line in fact.lines}
    for pouch in session.pouches.values():
        now = lines.get(pouch.line)
        then = session.plan.line(pouch.line) if session.plan is not None else None
        if now is None or (then is not None and now.food != then.food):
            return f"Pouch {pouch.number} is already filled. Keep its plan line."
    for line in fact.lines:
        filled = len(session.working_pouches(line.line))
        if filled > line.count:
            return f"{filled} pouches of {line.food_name} are filled; plan at least as many."
    return ""


def _first(objections: Iterable[str]) -> str:
    return next((words for words in objections if words), "")
