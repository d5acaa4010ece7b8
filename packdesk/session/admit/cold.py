"""Which entries about loads fit: freezing, readings, taking out, uncovering."""

from __future__ import annotations

from datetime import datetime

from packdesk.session import facts as f
from packdesk.session.admit.rule import not_before, not_outside, rule, the_session
from packdesk.session.likely_meant import likely_meant
from packdesk.session.load import cold_is_complete
from packdesk.session.state import SessionState, State
from packdesk.session.terms import LotVerdict

LID_TOLERANCE_K = 0.2
"""A forecast is worked out on half hours; at its own due time the food may seem this much short."""

COLDEST_FREEZER_C, WARMEST_ROOM_C = -60.0, 45.0
COLDEST_ROOM_C = 0.0


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
    words = not_outside(fact.temp_c, COLDEST_FREEZER_C, WARMEST_ROOM_C, "A reading", "°C")
    return _with_cure(words, fact.temp_c, COLDEST_FREEZER_C, WARMEST_ROOM_C, state) or not_before(
        at, load.frozen.utc, f"load {fact.load} was frozen"
    )


@rule.register
def _(fact: f.FreezerRead, state: State, at: datetime) -> str:
    loads = the_session(state).loads.values()
    if not any(load.taken_out is None or at <= load.taken_out.utc for load in loads):
        return "No load is in the freezer. Freeze one first."
    words = not_outside(
        fact.temp_c, COLDEST_FREEZER_C, WARMEST_ROOM_C, "A freezer's temperature", "°C"
    )
    return _with_cure(words, fact.temp_c, COLDEST_FREEZER_C, 0.0, state)


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
    return not_before(at, load.frozen.utc, f"load {fact.load} was frozen")


@rule.register
def _(fact: f.RoomRead, state: State, at: datetime) -> str:
    humidity = fact.relative_humidity
    if humidity is not None and not 0.01 <= humidity <= 1.0:
        return "Relative humidity lies between 1 and 100 %. Enter what the hygrometer shows."
    words = not_outside(fact.temp_c, COLDEST_ROOM_C, WARMEST_ROOM_C, "A room temperature", "°C")
    return _with_cure(words, fact.temp_c, COLDEST_ROOM_C, WARMEST_ROOM_C, state)


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


def _with_cure(words: str, temp_c: float, low_c: float, high_c: float, state: State) -> str:
    """An objection to a temperature with what was likely meant by it."""
    if not words:
        return ""
    return f"{words} {likely_meant(temp_c, low_c, high_c, the_session(state).units)}".rstrip()


def no_such_load(session: SessionState, letter: str) -> str:
    """Object to a load that was never frozen."""
    if not session.loads:
        return f"There is no load {letter}. Freeze one first."
    return f"There is no load {letter}. Choose one of: {', '.join(session.loads)}."
