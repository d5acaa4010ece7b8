"""Decisions about readings: of a load, of a freezer, of the room; each renews what rests on it.

The heat calculation is imported inside the rules that need it, so that the window can open
before numpy is loaded.
"""

from __future__ import annotations

from dataclasses import replace

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.decide_cold import possible, the_load
from packdesk.session.fact import Fact
from packdesk.session.figures import LoadOutlook
from packdesk.session.load import FreezerReading, ProbeReading, RoomReading
from packdesk.session.load_story import as_if, story
from packdesk.session.packing_room import known_room_c
from packdesk.session.temperatures import no_such_freezer, no_such_probe, no_such_room
from packdesk.session.terms import Probe


@facts_of.register
def _(command: c.NoteCoreReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session import cold_questions, outlooks

    session = the_session(case)
    load = the_load(case, command.load)
    possible(no_such_probe(command.temp_c, session.units))
    question = cold_questions.core_question(
        story(session, load), load, case.when.at, command.temp_c, command.probe, session.units
    )
    _ask(question, command)
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
    possible(no_such_freezer(command.temp_c, session.units))
    loads = outlooks.in_freezer(session, command.freezer, case.when.at)
    question = cold_questions.freezer_question(
        [story(session, load) for load in loads], case.when.at, command.temp_c, session.units
    )
    _ask(question, command)
    reading = FreezerReading(case.when.at, command.temp_c, command.freezer)
    told = replace(session, freezer_readings=(*session.freezer_readings, reading))
    renewed = outlooks.cold_outlooks(told, loads, case.when.at)
    question = question or cold_questions.stopped_question(
        session, renewed, case.when.at, command.temp_c
    )
    _ask(question, command)
    return (
        f.FreezerRead(
            temp_c=command.temp_c,
            outlooks=renewed,
            freezer=command.freezer,
            freezer_outlook=freezer_air.freezer_outlook(told, command.freezer, case.when.at),
            confirmed=bool(question),
        ),
    )


@facts_of.register
def _(command: c.NoteRoomReading, case: Case) -> tuple[Fact, ...]:
    from packdesk.session import cold_questions, outlooks

    session = the_session(case)
    possible(no_such_room(command.temp_c, command.relative_humidity, session.units))
    question = cold_questions.room_question(known_room_c(session), command.temp_c, session.units)
    _ask(question, command)
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
    question: str, command: c.NoteCoreReading | c.NoteFreezerReading | c.NoteRoomReading
) -> None:
    """Ask before a reading goes on record that can hardly be meant so."""
    if question and not command.confirmed:
        raise Refused(question, question=True)
