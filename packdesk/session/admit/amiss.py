"""Which entries fit that put something right: pouches opened again, felt, or mixed up."""

from __future__ import annotations

from datetime import datetime

from packdesk.session import facts as f
from packdesk.session.admit.pouches import PouchRule, each, must_be_in_work
from packdesk.session.admit.rule import not_before, rule, the_session
from packdesk.session.numbers import named
from packdesk.session.pouch import Pouch
from packdesk.session.state import State


@rule.register
def _(fact: f.PouchesReopened, state: State, at: datetime) -> str:
    return each(
        state, fact.pouches, must_be_in_work, _must_be_out_of_pails, _must_be_closed, _after(at)
    )


@rule.register
def _(fact: f.AbsorbersFelt, state: State, at: datetime) -> str:
    round_ = the_session(state).rounds.get(fact.round)
    if round_ is None or not round_.over:
        return "No more absorbers were left than reckoned. There is nothing to feel for."
    strangers = [number for number in fact.without if number not in fact.pouches]
    if strangers:
        return (
            f"No absorber of {round_.source} went into {named(strangers)}. "
            f"Enter some of {named(fact.pouches)}."
        )
    if len(fact.without) > round_.over:
        most = "1 pouch" if round_.over == 1 else f"{round_.over} pouches"
        return f"{round_.over} more than reckoned: at most {most} can have none. Name those."
    return each(state, fact.pouches) or (
        each(state, fact.without, must_be_in_work, _must_be_out_of_pails, _after(at))
        if fact.without
        else ""
    )


def _must_be_out_of_pails(state: State, pouch: Pouch) -> str:
    if not pouch.pail:
        return ""
    return f"Pouch {pouch.number} is in pail {pouch.pail}. Set it aside to take it out."


def _must_be_closed(state: State, pouch: Pouch) -> str:
    return "" if pouch.closed else f"Pouch {pouch.number} stands open already."


def _after(at: datetime) -> PouchRule:
    def rule_at(state: State, pouch: Pouch) -> str:
        if not pouch.turns:
            return ""  # one that stands open since it was filled
        return not_before(at, pouch.turns[-1].reading.utc, f"pouch {pouch.number} was shut")

    return rule_at


@rule.register
def _(fact: f.PouchesSwapped, state: State, at: datetime) -> str:
    if fact.first == fact.second:
        return "Say which two pouches were mixed up."
    words = each(state, (fact.first, fact.second), must_be_in_work, _must_be_told_apart)
    if words:
        return words
    pouches = the_session(state).pouches
    first, second = pouches[fact.first], pouches[fact.second]
    stowed = next((pouch for pouch in (first, second) if pouch.pail or pouch.checks), None)
    if stowed is not None and first.gas_tight != second.gas_tight:
        unsealed = second if first.gas_tight else first
        return f"Pouch {unsealed.number} is not sealed yet, the other one is put away. Look again."
    lidded = [p.pail for p in (first, second) if p.pail and the_session(state).pails[p.pail].lidded]
    if lidded:
        return f"Pail {lidded[0]} has its lid on; what it holds is on its card. Leave it."
    return ""


def _must_be_told_apart(state: State, pouch: Pouch) -> str:
    if pouch.told_apart:
        return ""
    return f"Pouch {pouch.number} was worked in a group; its pouches are alike. Nothing to swap."
