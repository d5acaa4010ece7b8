"""Which entries about loads fit: freezing, readings, taking out, uncovering."""

from __future__ import annotations

from datetime import datetime

from packdesk.session import facts as f
from packdesk.session.admit.rule import not_before, rule, the_session
from packdesk.session.load import cold_is_complete
from packdesk.session.state import SessionState, State
from packdesk.session.temperatures import no_such_freezer, no_such_probe, no_such_room
from packdesk.session.terms import LotVerdict

LID_TOLERANCE_K = 0.2
"""A forecast is worked out on half hours; at its own due time the food may seem this much short."""


@rule.register
def _(fact: f.LoadFrozen, state: State, at: datetime) -> str:
    session = the_session(state)
    lot = state.book.lots.get(fact.lot)
    if lot is None:
        return f"Lot {fact.lot} is not in the book. Receive it first."
    if lot.verdict is LotVerdict.REFUSED:
        return f"Lot {fact.lot} was refused. Freeze an accepted or quarantined lot."
    if fact.load in session.loads:
        return f"Load {fact.load} is in use. Take the next letter."
    if fact.lot in session.bypassed:
        return f"Lot {fact.lot} goes without cold. Void that first, to freeze it after all."
    return "" if fact.mass_g > 0 else "A load needs a mass above zero."


@rule.register
def _(fact: f.LotBypassedCold, state: State, at: datetime) -> str:
    session = the_session(state)
    if fact.lot not in state.book.lots:
        return f"Lot {fact.lot} is not in the book. Receive it first."
    if fact.lot in session.bypassed:
        return f"Lot {fact.lot} goes without cold already. It can be filled."
    if any(load.lot == fact.lot for load in session.loads.values()):
        return f"Lot {fact.lot} has a load in the cold already. Take that out instead."
    return "" if fact.reason.strip() else "Say why this lot needs no cold."


@rule.register
def _(fact: f.CoreRead, state: State, at: datetime) -> str:
    session = the_session(state)
    load = session.loads.get(fact.load)
    if load is None:
        return no_such_load(session, fact.load)
    if load.uncovered is not None and at > load.uncovered.utc:
        return f"Load {fact.load} was open by then. Only a reading from before counts."
    return no_such_probe(fact.temp_c, session.units) or not_before(
        at, load.frozen.utc, f"load {fact.load} was frozen"
    )


@rule.register
def _(fact: f.FreezerRead, state: State, at: datetime) -> str:
    session = the_session(state)
    loads = session.loads.values()
    if not any(load.taken_out is None or at <= load.taken_out.utc for load in loads):
        return "No load is in the freezer. Freeze one first."
    return no_such_freezer(fact.temp_c, session.units)


@rule.register
def _(fact: f.ColdRuleChosen, state: State, at: datetime) -> str:
    the_session(state)
    return ""


@rule.register
def _(fact: f.LoadTakenOut, state: State, at: datetime) -> str:
    session = the_session(state)
    load = session.loads.get(fact.load)
    if load is None:
        return no_such_load(session, fact.load)
    if load.taken_out is not None:
        return f"Load {fact.load} is out of the freezer already. Keep its lid on until it is warm."
    complete = cold_is_complete(fact.rule, fact.held_h, fact.needed_h, fact.dose)
    if not complete and not fact.reason.strip():
        return "The cold is not complete. Say why it ends early, or leave the load in."
    room_c, humidity = fact.forecast.room_c, fact.forecast.room_relative_humidity
    return no_such_room(room_c, humidity, session.units) or not_before(
        at, load.frozen.utc, f"load {fact.load} was frozen"
    )


@rule.register
def _(fact: f.RoomRead, state: State, at: datetime) -> str:
    return no_such_room(fact.temp_c, fact.relative_humidity, the_session(state).units)


@rule.register
def _(fact: f.LoadUncovered, state: State, at: datetime) -> str:
    session = the_session(state)
    load = session.loads.get(fact.load)
    if load is None:
        return no_such_load(session, fact.load)
    if load.taken_out is None:
        return f"Load {fact.load} is still in the freezer. Take it out first, lid on."
    if load.uncovered is not None:
        return f"Load {fact.load} is open already. Fill from it."
    if fact.core_c < fact.open_above_c - LID_TOLERANCE_K and not fact.reason.strip():
        return "The food is still too cold and would sweat. Keep the lid on, or say why not."
    return not_before(at, load.taken_out.utc, f"load {fact.load} was taken out")


def no_such_load(session: SessionState, letter: str) -> str:
    """Object to a load that was never frozen."""
    if not session.loads:
        return f"There is no load {letter}. Freeze one first."
    return f"There is no load {letter}. Choose one of: {', '.join(session.loads)}."
