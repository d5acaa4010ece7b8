"""What entries about loads change: freezing, readings, taking out, uncovering."""

from __future__ import annotations

from dataclasses import replace

from packdesk.session import facts as f
from packdesk.session.apply.change import applied, in_session, the_session, with_key
from packdesk.session.envelope import Entry
from packdesk.session.figures import FreezerOutlook, LoadOutlook
from packdesk.session.load import FreezerReading, Load, ProbeReading, RoomReading
from packdesk.session.moments import reading_at
from packdesk.session.state import State


def _with_load(state: State, load: Load) -> State:
    return in_session(state, loads=with_key(the_session(state).loads, load.load, load))


def _with_outlook(state: State, outlook: LoadOutlook, *, read: bool = True) -> State:
    """A load's new forecast, beside what held before a reading of its own surroundings."""
    load = the_session(state).loads.get(outlook.load)
    if load is None:
        return state
    if outlook.cold is not None:
        load = replace(load, forecast=outlook.cold, forecast_before=load.forecast if read else None)
    if outlook.held_h is not None:
        load = replace(
            load, held_h=outlook.held_h, dose=outlook.dose, dose_stage=outlook.dose_stage
        )
    return _with_load(state, replace(load, thaw=outlook.thaw or load.thaw))


def _with_freezer(
    state: State,
    outlooks: tuple[LoadOutlook, ...],
    freezer: FreezerOutlook | None,
    *,
    read: bool = False,
) -> State:
    """Every load in it has a new outlook, and so has the freezer."""
    for outlook in outlooks:
        state = _with_outlook(state, outlook, read=read)
    if freezer is None:
        return state
    return in_session(
        state, freezers=with_key(the_session(state).freezers, freezer.freezer, freezer)
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
    return _with_freezer(_with_load(state, load), fact.outlooks, fact.freezer)


@applied.register
def _(fact: f.LotBypassedCold, state: State, entry: Entry) -> State:
    return in_session(state, bypassed=with_key(the_session(state).bypassed, fact.lot, fact.reason))


@applied.register
def _(fact: f.ColdRuleChosen, state: State, entry: Entry) -> State:
    return in_session(state, cold_rule=fact.rule)


@applied.register
def _(fact: f.CoreRead, state: State, entry: Entry) -> State:
    load = the_session(state).loads[fact.load]
    reading = ProbeReading(entry.happened_at, fact.temp_c, fact.probe)
    state = _with_load(state, replace(load, readings=(*load.readings, reading)))
    return _with_outlook(state, fact.outlook)


@applied.register
def _(fact: f.FreezerRead, state: State, entry: Entry) -> State:
    reading = FreezerReading(entry.happened_at, fact.temp_c, fact.freezer)
    state = in_session(state, freezer_readings=(*the_session(state).freezer_readings, reading))
    return _with_freezer(state, fact.outlooks, fact.freezer_outlook, read=True)


@applied.register
def _(fact: f.LoadTakenOut, state: State, entry: Entry) -> State:
    load = replace(
        the_session(state).loads[fact.load],
        taken_out=reading_at(entry.happened_at, entry.recorded),
        room_at_take_out_c=fact.forecast.room_c,
        humidity_at_take_out=fact.forecast.room_relative_humidity,
        held_h=fact.held_h,
        dose=fact.dose,
        dose_stage=fact.dose_stage,
        rule=fact.rule,
        short_reason=fact.reason,
        thaw=fact.forecast,
    )
    return _with_freezer(_with_load(state, load), fact.outlooks, fact.freezer)


@applied.register
def _(fact: f.RoomRead, state: State, entry: Entry) -> State:
    room = RoomReading(entry.happened_at, fact.temp_c, fact.relative_humidity)
    state = in_session(state, room_readings=(*the_session(state).room_readings, room))
    for outlook in fact.outlooks:
        state = _with_outlook(state, outlook)
    return state


@applied.register
def _(fact: f.FactVoided, state: State, entry: Entry) -> State:
    if state.session is None:
        return state
    state = _with_freezer(state, fact.outlooks, None)
    for freezer in fact.freezers:
        state = _with_freezer(state, (), freezer)
    return state


@applied.register
def _(fact: f.LoadUncovered, state: State, entry: Entry) -> State:
    load = replace(
        the_session(state).loads[fact.load],
        uncovered=reading_at(entry.happened_at, entry.recorded),
        uncover_reason=fact.reason,
    )
    return _with_load(state, load)
