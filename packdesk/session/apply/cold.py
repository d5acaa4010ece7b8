"""What entries about loads change: freezing, readings, taking out, uncovering."""

from __future__ import annotations

from dataclasses import replace

from packdesk.session import facts as f
from packdesk.session.apply.change import applied, in_session, the_session, with_key
from packdesk.session.envelope import Entry
from packdesk.session.figures import LoadOutlook
from packdesk.session.moments import reading_at
from packdesk.session.state import Load, ProbeReading, RoomReading, State
from packdesk.session.terms import Probe


def _with_load(state: State, load: Load) -> State:
    return in_session(state, loads=with_key(the_session(state).loads, load.load, load))


def _with_outlook(state: State, outlook: LoadOutlook) -> State:
    load = the_session(state).loads.get(outlook.load)
    if load is None:
        return state
    return _with_load(
        state,
        replace(load, forecast=outlook.cold or load.forecast, thaw=outlook.thaw or load.thaw),
    )


@applied.register
def _(fact: f.LoadFrozen, state: State, entry: Entry) -> State:
    load = Load(
        load=fact.load,
        lot=fact.lot,
        food_name=fact.food_name,
        container=fact.container,
        container_name=fact.container_name,
        mass_g=fact.mass_g,
        figures=fact.figures,
        frozen=reading_at(entry.happened_at, entry.recorded),
        forecast=fact.forecast,
    )
    return _with_load(state, load)


@applied.register
def _(fact: f.LotBypassedCold, state: State, entry: Entry) -> State:
    return in_session(state, bypassed=with_key(the_session(state).bypassed, fact.lot, fact.reason))


@applied.register
def _(fact: f.CoreRead, state: State, entry: Entry) -> State:
    load = the_session(state).loads[fact.load]
    reading = ProbeReading(entry.happened_at, fact.temp_c, fact.probe)
    state = _with_load(state, replace(load, readings=(*load.readings, reading)))
    return _with_outlook(state, fact.outlook)


@applied.register
def _(fact: f.FreezerRead, state: State, entry: Entry) -> State:
    reading = ProbeReading(entry.happened_at, fact.temp_c, Probe.WALL)
    state = in_session(state, freezer_readings=(*the_session(state).freezer_readings, reading))
    for outlook in fact.outlooks:
        state = _with_outlook(state, outlook)
    return state


@applied.register
def _(fact: f.LoadTakenOut, state: State, entry: Entry) -> State:
    load = replace(
        the_session(state).loads[fact.load],
        taken_out=reading_at(entry.happened_at, entry.recorded),
        room_at_take_out_c=fact.forecast.room_c,
        held_h=fact.held_h,
        short_reason=fact.reason,
        thaw=fact.forecast,
    )
    return _with_load(state, load)


@applied.register
def _(fact: f.RoomRead, state: State, entry: Entry) -> State:
    room = RoomReading(entry.happened_at, fact.temp_c, fact.relative_humidity)
    state = in_session(state, room_readings=(*the_session(state).room_readings, room))
    for outlook in fact.outlooks:
        state = _with_outlook(state, outlook)
    return state


@applied.register
def _(fact: f.LoadUncovered, state: State, entry: Entry) -> State:
    load = replace(
        the_session(state).loads[fact.load],
        uncovered=reading_at(entry.happened_at, entry.recorded),
        uncover_reason=fact.reason,
    )
    return _with_load(state, load)
