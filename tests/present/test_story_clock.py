"""What the story says of a wall clock that was set."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from packdesk.instants import When, local
from packdesk.present.measures import Measures
from packdesk.present.story import record_lines, story_lines
from packdesk.session.case import Refusal
from tests.fakes.clock import DrivenClock
from tests.script import TREATED, tell

ROUND = f"{TREATED}; fill 8; packet 200x10; +4 min"


def test_says_where_the_clock_was_set() -> None:
    """The first entry after the setting says so, in the story and in the record alike."""
    told = tell(ROUND)
    told.clock.step_wall(hours=-2)
    told.do("place 3; place 2")
    measures = Measures("metric")

    for lines in (
        story_lines(told.entries, measures, told.desk.now()),
        record_lines(told.entries, told.desk.state, measures, told.desk.now()),
    ):
        said = [line.entered for line in lines if line.entered]
        assert said == ["the computer's clock was set back 2 h before this"]


def test_says_what_was_entered_by_a_clock_that_was_behind() -> None:
    """What counts as just after the last entry says when it was entered, and by what a clock."""
    told = tell(ROUND)
    told.clock.step_wall(hours=-2)
    told.clock.reboot(minutes=10)
    asked = told.try_to("place 3")
    assert isinstance(asked, Refusal)
    told.desk.submit(told.order("place 3"), asked.when)

    line = story_lines(told.entries, Measures("metric"), told.desk.now())[-1]

    assert line.when == "2026-11-20 19:00"
    assert line.entered == "entered 2026-11-20 17:14 by a clock that was behind"


WINTER_TIME = datetime(2026, 10, 25, 1, 0, tzinfo=UTC)
"""From when on the clocks of central Europe are one hour ahead, not two (EU Directive 2000/84)."""


def _place(at: datetime) -> int:
    return 120 if at < WINTER_TIME else 60


def test_what_happened_in_summer_time_is_told_by_summer_time() -> None:
    """On Sunday, the clocks set back overnight, 21:30 of Saturday is told as 21:30."""
    clock = DrivenClock(datetime(2026, 10, 24, 17, 0, tzinfo=UTC), place=_place)
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg", clock=clock)
    clock.go(hours=15)
    assert clock.reading().utc_offset_min == 60
    told.desk.submit(told.order("freeze wheat"), When(datetime(2026, 10, 24, 19, 30, tzinfo=UTC)))
    now, measures = told.desk.now(), Measures("metric")

    assert story_lines(told.entries, measures, now)[-1].when == "2026-10-24 21:30"
    assert record_lines(told.entries, told.desk.state, measures, now)[-1].when == "2026-10-24 21:30"


def test_what_was_written_elsewhere_is_told_by_the_offset_of_its_writing() -> None:
    """Read at a place with other clocks, an entry keeps the time of day it was written with."""
    told = tell("receive wheat 8 kg")
    far = replace(told.desk.now(), utc_offset_min=-300, place=lambda _: -300)

    there = local(told.entries[-1].happened_at, 60)

    said = story_lines(told.entries, Measures("metric"), far)[-1].when
    assert said == f"{there:%Y-%m-%d %H:%M}"
