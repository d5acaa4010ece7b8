"""What the story says of a wall clock that was set."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.present.story import record_lines, story_lines
from packdesk.session.case import Refusal
from tests.script import TREATED, tell

ROUND = f"{TREATED}; fill 8; packet 200x10; +4 min"


def test_says_where_the_clock_was_set() -> None:
    """The first entry after the setting says so, in the story and in the record alike."""
    told = tell(ROUND)
    told.clock.step_wall(hours=-2)
    told.do("place 3; place 2")
    measures = Measures("metric")

    for lines in (
        story_lines(told.entries, measures),
        record_lines(told.entries, told.desk.state, measures),
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

    line = story_lines(told.entries, Measures("metric"))[-1]

    assert line.when == "2026-11-20 19:00"
    assert line.entered == "entered 2026-11-20 17:14 by a clock that was behind"
