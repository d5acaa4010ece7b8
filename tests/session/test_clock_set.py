"""The record read by the clock as it is set now: lengths of time are those that passed."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.session import facts as f
from packdesk.session.clock_set import by_the_clock_now, set_before
from packdesk.session.figures import Span
from tests.script import TREATED, Script, tell

FROZEN = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat"


def hold_done(told: Script) -> Span:
    """The forecast of load A as it stands."""
    found = told.session.loads["A"].forecast.hold_done
    assert found is not None
    return found


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(0, 500), st.sampled_from([-90, -2, 0, 0, 3, 50])), max_size=12),
    st.sampled_from([-20, 0, 7]),
)
def test_time_between_entries_is_what_the_steady_clock_says(
    steps: list[tuple[int, int]], last_h: int
) -> None:
    """However often the clock was set, in whatever direction, the last one is that of now."""
    told = tell()
    for minutes, set_h in steps:
        told.clock.step_wall(hours=set_h)
        told.do(f"+{minutes} min; note: here")
    told.clock.step_wall(hours=last_h)
    now = told.clock.reading()

    read = by_the_clock_now(told.entries, now)

    for entry in read:
        assert (
            now.utc - entry.happened_at
        ).total_seconds() == now.steady_s - entry.recorded.steady_s
    assert by_the_clock_now(read, now) == read
    sets = [set_h * 3600.0 for _, set_h in steps if set_h]
    assert list(set_before(told.entries).values()) == sets


def test_a_record_on_which_no_clock_was_set_is_as_it_was_written() -> None:
    """Neither a restart nor a change of season sets a clock."""
    told = tell(f"{TREATED}; fill 3")
    told.clock.change_season(-60)
    told.clock.reboot(hours=9)
    told.do("fill 2")

    assert by_the_clock_now(told.entries, told.clock.reading()) == told.entries


def test_the_times_that_a_forecast_names_move_along() -> None:
    """A load that is done in so many hours is done in as many once the clock is set."""
    told = tell(f"{FROZEN}; +20 h")
    before = hold_done(told).likely - told.clock.reading().utc
    told.clock.step_wall(hours=-7)
    told.do("note: the clock was wrong")

    assert hold_done(told).likely - told.clock.reading().utc == before


def test_names_of_ringings_and_the_packing_day_stay() -> None:
    """What a ringing is known by does not change with the clock, so that it sounds once."""
    told = tell(f"{TREATED}; fill 8; packet 200x10; +21 min")
    told.desk.ring_due()
    rang_for = told.session.alarms["packet:1"].due_at
    told.clock.step_wall(hours=5)
    told.do("note: the clock was wrong")

    assert told.session.alarms["packet:1"].due_at == rang_for
    assert told.last(f.AlarmRang).happened_at < told.session.alarms["packet:1"].rang.utc


def test_one_station_does_not_move_what_another_recorded() -> None:
    """The clock of one machine says nothing of the entries of another one."""
    told = tell(f"{TREATED}; fill 2")
    there = told.clock.reading()
    told.clock.reboot(minutes=1)
    told.do("fill 2; +1 min")
    told.clock.step_wall(hours=-3)

    read = by_the_clock_now(told.entries, told.clock.reading())

    moved = [entry.recorded.boot for entry in read if entry.recorded.set_s]
    assert set(moved) == {told.clock.reading().boot}
    assert there.boot not in moved
