"""How warm the room is taken to be."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from packdesk.session.load import RoomReading
from packdesk.session.packing_room import USUAL_ROOM_C, known_room_c, planned_room_c
from tests.fakes.clock import START
from tests.script import tell


def test_the_room_is_as_planned_before_it_is_read() -> None:
    """Without a plan it is the usual one, with one the planned."""
    told = tell("receive wheat 16 kg")
    assert known_room_c(told.session) == USUAL_ROOM_C

    told.do("agree wheat 16 x 1 kg")
    plan = told.session.plan
    assert plan is not None
    warm = replace(plan, packing_temp_c=27.0)
    assert planned_room_c(warm) == known_room_c(replace(told.session, plan=warm)) == 27.0


def test_the_last_reading_is_the_one_last_taken() -> None:
    """A reading entered later for an earlier time does not stand for the room as it is now."""
    readings = (RoomReading(START, 24.0, None), RoomReading(START - timedelta(hours=3), 18.0, None))
    session = replace(tell("receive wheat 16 kg").session, room_readings=readings)

    assert known_room_c(session) == 24.0
