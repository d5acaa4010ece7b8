"""Which entries about filling fit."""

from __future__ import annotations

from datetime import datetime
from math import isfinite

from packdesk.session import facts as f
from packdesk.session.admit.cold import no_such_load
from packdesk.session.admit.pouches import each, must_be_open
from packdesk.session.admit.rule import MINUTES_A_DAY, not_before, not_outside, rule, the_session
from packdesk.session.numbers import listed
from packdesk.session.state import SessionState, State
from packdesk.session.terms import LotVerdict

MOST_TARE_G = 5000.0
"""Heavier than any pouch, and than a liner in its pail."""
MOST_HANDS = 20


@rule.register
def _(fact: f.PouchesFilled, state: State, at: datetime) -> str:
    session = the_session(state)
    line = session.plan.line(fact.line) if session.plan is not None else None
    if line is None:
        return "Agree a plan with this food first."
    if not fact.pouches or len(set(fact.pouches)) != len(fact.pouches):
        return "Say how many pouches were filled."
    taken = [number for number in fact.pouches if number in session.pouches]
    if taken:
        return f"{listed(taken)} already filled. Undo first, if that was wrong."
    if len(session.working_pouches(fact.line)) + len(fact.pouches) > line.count:
        return f"That is more than the {line.count} pouches planned. Plan more first."
    if fact.net_mass_g is not None and not (fact.net_mass_g > 0 and isfinite(fact.net_mass_g)):
        return "A filled pouch needs a mass above zero."
    if abs(fact.utc_offset_min or 0) > MINUTES_A_DAY:
        return "No local time is a day from UTC. Check the time."
    lot = state.book.lots.get(line.lot)
    if lot is not None and lot.verdict is not LotVerdict.ACCEPTED:
        return f"Lot {line.lot} was {lot.verdict} since. Look at it again before filling."
    return _ready(session, line.lot, at) or _from_loads(session, line.lot, fact.loads, at)


def _from_loads(session: SessionState, lot: str, letters: tuple[str, ...], at: datetime) -> str:
    """Object to loads that food of this lot cannot have come from."""
    if len(set(letters)) != len(letters):
        return "Name each load once."
    for letter in letters:
        load = session.loads.get(letter)
        if load is None:
            return no_such_load(session, letter)
        if load.lot != lot:
            return f"Load {letter} is lot {load.lot}. Choose a load of lot {lot}."
        if load.uncovered is None:
            return f"Load {letter} is still shut. Open it first, or fill from an open load."
        if words := not_before(at, load.uncovered.utc, f"load {letter} was uncovered"):
            return words
    return ""


@rule.register
def _(fact: f.EmptyPouchWeighed, state: State, at: datetime) -> str:
    return not_outside(fact.tare_g, 0.0, MOST_TARE_G, "An empty pouch", "g")


@rule.register
def _(fact: f.FoodLost, state: State, at: datetime) -> str:
    session = the_session(state)
    line = session.plan.line(fact.line) if session.plan is not None else None
    if line is None:
        return "Agree a plan with this food first."
    if not fact.reason.strip():
        return "Say what became of this food."
    lost_g = session.lost_g.get(fact.line, 0.0) + fact.mass_g
    if not (fact.mass_g > 0 and lost_g <= line.mass_g):
        return (
            f"{fact.mass_g:g} g of {line.food_name} cannot be lost: the plan has "
            f"{line.mass_g:g} g of it. Check the unit and the decimal mark."
        )
    return ""


def _ready(session: SessionState, lot: str, at: datetime) -> str:
    """Object to a lot that is neither open nor excused from the cold."""
    if lot in session.bypassed:
        return ""
    loads = [load for load in session.loads.values() if load.lot == lot]
    opened = [load.uncovered.utc for load in loads if load.uncovered is not None]
    if not opened:
        return (
            f"Lot {lot} is not ready: uncover one of its loads first, or note why it needs no cold."
        )
    return not_before(at, min(opened), f"a load of lot {lot} was uncovered")


@rule.register
def _(fact: f.ReadyChecked, state: State, at: datetime) -> str:
    return each(state, fact.pouches, must_be_open) or not_outside(
        fact.hands, 1, MOST_HANDS, "A number of people", "at the counter"
    )
