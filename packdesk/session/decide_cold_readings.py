"""Decisions about readings: of a load, of a freezer, of the room; each renews what rests on it.

The heat calculation is imported inside the rules that need it, so that the window can open
before numpy is loaded.
"""

from __future__ import annotations

from dataclasses import replace

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.admit.cold import COLDEST_FREEZER_C, COLDEST_ROOM_C, WARMEST_ROOM_C
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.decide_cold import the_load
from packdesk.session.fact import Fact
from packdesk.session.figures import LoadOutlook
from packdesk.session.load import FreezerReading, ProbeReading, RoomReading
from packdesk.session.load_story import as_if, story
from packdesk.session.terms import Probe

PACKING_ROOM_C = 21.0


@facts_of.register
def _(command: c.NoteCoreReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session import cold_questions, outlooks

    session = the_session(case)
    load = the_load(case, command.load)
    question = cold_questions.core_question(
        story(session, load), load, case.when.at, command.temp_c, command.probe, session.units
    )
    _ask(question, command, COLDEST_FREEZER_C, WARMEST_ROOM_C)
    reading = ProbeReading(case.when.at, command.temp_c, command.probe)
    read = replace(load, readings=(*load.readings, reading))
    told = as_if(session, read)
    outlook = LoadOutlook(load=load.load)
    if load.taken_out is None:
        cold = outlooks.cold_of(told, read, case.when.at)
        outlook = LoadOutlook(load=load.load, cold=cold)
    elif load.thaw is not None and command.probe is Probe.CORE:
        outlook = LoadOutlook(load=load.load, thaw=outlooks.thaw_of(told, read))
    return (
        f.CoreRead(
            load=load.load,
            temp_c=command.temp_c,
            probe=command.probe,
            outlook=outlook,
            confirmed=bool(question),
        ),
    )


@facts_of.register
def _(command: c.NoteFreezerReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session import cold_questions, freezer_air, outlooks

    session = the_session(case)
    loads = outlooks.in_freezer(session, command.freezer, case.when.at)
    question = cold_questions.freezer_question(
        [story(session, load) for load in loads], case.when.at, command.temp_c, session.units
    )
    _ask(question, command, COLDEST_FREEZER_C, WARMEST_ROOM_C)
    reading = FreezerReading(case.when.at, command.temp_c, command.freezer)
    told = replace(session, freezer_readings=(*session.freezer_readings, reading))
    return (
        f.FreezerRead(
            temp_c=command.temp_c,
            outlooks=outlooks.cold_outlooks(told, loads, case.when.at),
            freezer=command.freezer,
            freezer_outlook=freezer_air.freezer_outlook(told, command.freezer, case.when.at),
            confirmed=bool(question),
        ),
    )


@facts_of.register
def _(command: c.NoteRoomReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session import cold_questions, outlooks

    session = the_session(case)
    known_c = PACKING_ROOM_C if session.plan is None else session.plan.packing_temp_c
    if session.room_readings:
        known_c = max(session.room_readings, key=lambda reading: reading.at).temp_c
    question = cold_questions.room_question(known_c, command.temp_c, session.units)
    _ask(question, command, COLDEST_ROOM_C, WARMEST_ROOM_C)
    reading = RoomReading(case.when.at, command.temp_c, command.relative_humidity)
    told = replace(session, room_readings=(*session.room_readings, reading))
    warming = [
        load
        for load in session.loads.values()
        if load.taken_out is not None
        and load.uncovered is None
        and load.taken_out.utc <= case.when.at
    ]
    return (
        f.RoomRead(
            temp_c=command.temp_c,
            relative_humidity=command.relative_humidity,
            outlooks=tuple(
                LoadOutlook(load=load.load, thaw=outlooks.thaw_of(told, load)) for load in warming
            ),
            confirmed=bool(question),
        ),
    )


def _ask(
    question: str,
    command: c.NoteCoreReading | c.NoteFreezerReading | c.NoteRoomReading,
    low_c: float,
    high_c: float,
) -> None:
    """Ask before a reading goes on record that can hardly be meant so.

    What lies beyond what any such place can be is not asked about but refused, by its rule.
    """
    if question and not command.confirmed and low_c <= command.temp_c <= high_c:
        raise Refused(question, question=True)
