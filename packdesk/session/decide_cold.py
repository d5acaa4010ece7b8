"""Decisions about loads: freezing, readings, taking out, uncovering.

The heat calculation is imported inside the rules that need it, so that the window can open
before numpy is loaded.
"""

from __future__ import annotations

import string

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.admit.cold import no_such_load
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.figures import LoadOutlook
from packdesk.session.load_story import begin, story
from packdesk.session.state import Load, ProbeReading, SessionState
from packdesk.session.terms import Probe


def next_letter(session: SessionState) -> str:
    """Name the next load: A to Z, then AA, AB and so on."""
    letters = string.ascii_uppercase
    names: list[str] = [*letters, *(first + second for first in letters for second in letters)]
    return next(name for name in names if name not in session.loads)


def _load(case: Case, letter: str) -> Load:
    session = the_session(case)
    load = session.loads.get(letter)
    if load is None:
        raise Refused(no_such_load(session, letter))
    return load


@facts_of.register
def _(command: c.FreezeLoad, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.forecast import cold_forecast

    session = the_session(case)
    lot = case.state.book.lots.get(command.lot)
    if lot is None:
        raise Refused(f"Lot {command.lot} is not in the book. Receive it first.")
    told = begin(command.figures, case.when.at)
    return (
        f.LoadFrozen(
            load=next_letter(session),
            lot=command.lot,
            food_name=lot.food_name,
            container=command.container,
            container_name=command.container_name,
            mass_g=command.mass_g,
            figures=command.figures,
            forecast=cold_forecast(told, case.when.at, command.treat_c, command.hold_h),
        ),
    )


@facts_of.register
def _(command: c.BypassCold, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.LotBypassedCold(lot=command.lot, reason=command.reason.strip()),)


@facts_of.register
def _(command: c.NoteCoreReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.forecast import cold_forecast, thaw_forecast

    session = the_session(case)
    load = _load(case, command.load)
    reading = ProbeReading(case.when.at, command.temp_c, command.probe)
    told = story(session, load).with_reading(reading)
    if load.taken_out is None:
        outlook = LoadOutlook(
            load=load.load,
            cold=cold_forecast(told, case.when.at, load.forecast.treat_c, load.forecast.hold_h),
        )
    elif load.thaw is not None and command.probe is Probe.CORE:
        thaw = load.thaw
        outlook = LoadOutlook(
            load=load.load,
            thaw=thaw_forecast(told, load.taken_out.utc, thaw.room_c, thaw.room_relative_humidity),
        )
    else:
        outlook = LoadOutlook(load=load.load)
    return (
        f.CoreRead(load=load.load, temp_c=command.temp_c, probe=command.probe, outlook=outlook),
    )


@facts_of.register
def _(command: c.NoteFreezerReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.forecast import cold_forecast

    session = the_session(case)
    outlooks = tuple(
        LoadOutlook(
            load=load.load,
            cold=cold_forecast(
                story(session, load).with_air(case.when.at, command.temp_c),
                case.when.at,
                load.forecast.treat_c,
                load.forecast.hold_h,
            ),
        )
        for load in session.loads.values()
        if load.taken_out is None and load.frozen.utc <= case.when.at
    )
    return (f.FreezerRead(temp_c=command.temp_c, outlooks=outlooks),)


@facts_of.register
def _(command: c.NoteRoomReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.forecast import thaw_forecast

    session = the_session(case)
    outlooks = tuple(
        LoadOutlook(
            load=load.load,
            thaw=thaw_forecast(
                story(session, load).with_air(case.when.at, command.temp_c),
                load.taken_out.utc,
                command.temp_c,
                command.relative_humidity,
            ),
        )
        for load in session.loads.values()
        if load.taken_out is not None
        and load.uncovered is None
        and load.taken_out.utc <= case.when.at
    )
    return (
        f.RoomRead(
            temp_c=command.temp_c,
            relative_humidity=command.relative_humidity,
            outlooks=outlooks,
        ),
    )


@facts_of.register
def _(command: c.TakeLoadOut, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.forecast import held_hours, thaw_forecast

    session = the_session(case)
    load = _load(case, command.load)
    told = story(session, load)
    out = told.taken_out(case.when.at, command.room_c)
    return (
        f.LoadTakenOut(
            load=load.load,
            held_h=held_hours(told, case.when.at, command.room_c, load.forecast.treat_c),
            needed_h=load.forecast.hold_h,
            reason=command.reason.strip(),
            forecast=thaw_forecast(
                out, case.when.at, command.room_c, command.room_relative_humidity
            ),
        ),
    )


@facts_of.register
def _(command: c.UncoverLoad, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.forecast import coldest_c

    session = the_session(case)
    load = _load(case, command.load)
    if load.thaw is None:
        raise Refused(f"Load {load.load} is still in the freezer. Take it out first, lid on.")
    return (
        f.LoadUncovered(
            load=load.load,
            core_c=coldest_c(story(session, load), case.when.at),
            open_above_c=load.thaw.open_above_c,
            reason=command.reason.strip(),
        ),
    )
