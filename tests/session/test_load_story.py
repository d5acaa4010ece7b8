"""What a load went through: the air around it, step by step, and the readings that concern it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from packdesk.session.load_story import Step, begin, room_at, story
from tests.fakes.clock import START
from tests.script import PAIL, Script, tell


@pytest.fixture(scope="module")
def told() -> Script:
    """Two loads; the second still in the freezer when the first is out; all that was read."""
    return tell(
        """
        receive wheat 16 kg; agree wheat 16 x 1 kg; freeze wheat; +2 h; freeze wheat
        +2 h; freezer -19 C; +20 h; core A -8 C
        +100 h; out A 21 C; +1 h; freezer -17 C; +1 h; room 22 C 50 %
        """
    )


def steps(script: Script, load: str) -> list[tuple[float, float, bool]]:
    """Hours from the first freezing, temperature, in the freezer; of each step of a load."""
    found = story(script.session, script.session.loads[load])
    return [
        ((step.at - START).total_seconds() / 3600.0, step.temp_c, step.in_freezer)
        for step in found.steps
    ]


def test_a_load_goes_from_the_freezer_into_the_room(told: Script) -> None:
    """After take-out the room is read for it, and no longer the freezer."""
    assert steps(told, "A") == [
        (0.0, -18.0, True),
        (4.0, -19.0, True),
        (124.0, 21.0, False),
        (126.0, 22.0, False),
    ]


def test_a_load_in_the_freezer_knows_no_room(told: Script) -> None:
    """A load that is still frozen is touched by the freezer's readings alone."""
    assert steps(told, "B") == [(2.0, -18.0, True), (4.0, -19.0, True), (125.0, -17.0, True)]


def test_readings_belong_to_their_load(told: Script) -> None:
    """A probe in one load says nothing of another."""
    loads = told.session.loads

    assert [r.temp_c for r in story(told.session, loads["A"]).readings] == [-8.0]
    assert story(told.session, loads["B"]).readings == ()


def test_hours_count_from_the_freezing() -> None:
    """An hour of the story and its instant lead to each other."""
    told = begin(PAIL, START)

    assert told.hour(START + timedelta(hours=5)) == 5.0
    assert told.instant(5.0) == START + timedelta(hours=5)


def test_taking_out_ends_what_was_to_come_in_the_freezer() -> None:
    """Steps of the freezer later than the take-out do not happen to the load."""
    told = begin(PAIL, START)
    read = Step(START + timedelta(hours=50), -24.0, in_freezer=True)
    late = replace(told, steps=(*told.steps, read))

    out = late.taken_out(START + timedelta(hours=40), 21.0)

    assert [step.temp_c for step in out.steps] == [-18.0, 21.0]


def test_stories_are_not_changed_in_place() -> None:
    """What is asked «what if» leaves the load as it is."""
    told = begin(PAIL, START)
    told.taken_out(START, 21.0)

    assert len(told.steps) == 1


def test_a_room_read_afterwards_for_earlier_does_not_set_the_lid_limit() -> None:
    """Noted late, a reading of an hour ago stands behind one taken since; a newer one does not."""
    script = tell(
        """
        receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +120 h; out A 21 C 40 %
        +2 h; room 20 C 50 %
        """
    )
    load = script.session.loads["A"]
    assert load.thaw is not None
    limit_c = load.thaw.open_above_c

    script.do("1 h ago: room 25 C 80 %")

    late = script.session.loads["A"]
    room = room_at(script.session, late)
    assert room is not None
    assert (room.temp_c, room.relative_humidity) == (20.0, 0.5)
    assert late.thaw is not None
    assert (late.thaw.room_c, late.thaw.open_above_c) == (20.0, limit_c)

    script.do("+1 min; room 25 C 70 %")

    newer = script.session.loads["A"].thaw
    assert newer is not None
    assert newer.room_c == 25.0
    assert newer.open_above_c > limit_c + 5.0
