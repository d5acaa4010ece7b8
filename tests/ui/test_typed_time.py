"""Times as people type them, in nights too in which the clocks change."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.instants import Reading, date_and_time, day_and_time, elapsed_s
from packdesk.ui.pages.typed_time import ABOUT_MIN, NotATime, parse_time

WEDNESDAY = datetime(2026, 11, 25, 13, 3, 20, tzinfo=UTC)
NOW = Reading(WEDNESDAY, utc_offset_min=60, steady_s=500.0, boot="a")
BERLIN = ZoneInfo("Europe/Berlin")


def berlin_offset_min(utc: datetime) -> int:
    """The offset of Berlin's wall clock at a UTC instant."""
    offset = utc.astimezone(BERLIN).utcoffset()
    assert offset is not None
    return round(offset.total_seconds() / 60)


def berlin(text: str) -> Reading:
    """A reading in Berlin at the wall-clock time written as ISO 8601."""
    utc = datetime.fromisoformat(text).replace(tzinfo=BERLIN).astimezone(UTC)
    return Reading(utc, berlin_offset_min(utc), 0.0, "a")


# --------------------------------------------------------------------------------------------
# Typed times; the local clock shows Wednesday 14:03:20, an hour ahead of UTC


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("13:30", "2026-11-25T12:30"),
        ("13.30", "2026-11-25T12:30"),
        ("1330", "2026-11-25T12:30"),
        ("930", "2026-11-25T08:30"),
        (" 1:30 PM ", "2026-11-25T12:30"),
        ("1 p.m.", "2026-11-25T12:00"),
        ("12am", "2026-11-24T23:00"),
        ("12:15 pm", "2026-11-25T11:15"),
        ("٩:٣٠", "2026-11-25T08:30"),
        ("21:30", "2026-11-24T20:30"),
        ("9:30 pm", "2026-11-24T20:30"),
        ("today 6:15", "2026-11-25T05:15"),
        ("yesterday 21:30", "2026-11-24T20:30"),
        ("yesterday 9:00", "2026-11-24T08:00"),
        ("Fri 22:50", "2026-11-20T21:50"),
        ("wednesday 9:00", "2026-11-25T08:00"),
        ("Wed 22:00", "2026-11-18T21:00"),
        ("2026-11-24 21:30", "2026-11-24T20:30"),
        ("2026-11-24T21:30", "2026-11-24T20:30"),
        ("2026-1-4 0:10", "2026-01-03T23:10"),
        ("21:30 yesterday", "2026-11-24T20:30"),
        ("yesterday at 21:30", "2026-11-24T20:30"),
        ("yesterday, 9:30 p.m.", "2026-11-24T20:30"),
        ("9 pm yesterday", "2026-11-24T20:00"),
        ("22:50 on Fri", "2026-11-20T21:50"),
        ("21:30 2026-11-24", "2026-11-24T20:30"),
        ("1,5 hours ago", "2026-11-25T11:33:20"),
        ("90 mins ago", "2026-11-25T11:33:20"),
        ("3 h ago", "2026-11-25T10:03:20"),
        ("20 minutes ago", "2026-11-25T12:43:20"),
        ("2 days ago", "2026-11-23T13:03:20"),
    ],
)
def test_typed_times_are_read(typed: str, meant: str) -> None:
    """A time is read as people write it; one later than now was yesterday's or last week's."""
    found = parse_time(typed, NOW)

    assert datetime.fromisoformat(meant + "+00:00") == found.at
    assert found.about_min == 0


@pytest.mark.parametrize("word", ["about ", "around ", "ca. ", "~", "About ", "yesterday about "])
def test_about_widens_the_time(word: str) -> None:
    """A time said roughly keeps its roughness."""
    found = parse_time(word + "21:30", NOW)

    assert found.about_min == ABOUT_MIN
    assert parse_time("21:30", NOW).at == found.at


def test_a_kitchen_clock_a_little_fast_means_now() -> None:
    """A time one minute ahead of the computer is now, not yesterday."""
    assert NOW.utc == parse_time("14:04", NOW).at
    assert parse_time("yesterday 14:06", NOW).at == parse_time("14:06", NOW).at


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("", "21:30"),
        ("soon", "is not a time"),
        ("last night 9:30", "is not a time"),
        ("9", "is not a time"),
        ("9.75", "no time that a clock shows"),
        ("24:00", "no time that a clock shows"),
        ("13 pm", "no time that a clock shows"),
        ("0:30 am", "no time that a clock shows"),
        ("2026-02-30 9:00", "no day 2026-02-30"),
        ("fryday 9:00", "is not a day"),
        ("0001-01-01 0:10", "outside the calendar"),
        ("today 23:00", "still to come"),
        ("2026-11-26 1:00", "still to come"),
    ],
)
def test_what_is_no_time_is_refused_with_a_sentence(typed: str, part: str) -> None:
    """The message names what is wrong, so that the person can type it again."""
    with pytest.raises(NotATime, match=part):
        parse_time(typed, NOW)


@given(ago_min=st.integers(0, 6 * 24 * 60), offset_min=st.integers(-720, 840))
def test_a_shown_time_can_be_typed_back(ago_min: int, offset_min: int) -> None:
    """What the program shows of the last six days is understood when typed."""
    now = Reading(WEDNESDAY.replace(second=0), offset_min, 0.0, "a")
    then = now.utc - timedelta(minutes=ago_min)

    assert then == parse_time(day_and_time(then, offset_min), now).at
    assert then == parse_time(date_and_time(then, offset_min), now).at


# --------------------------------------------------------------------------------------------
# Nights in which the clocks change: Berlin, 2026-10-25 03:00 back to 02:00 and 2026-03-29 02:00
# forward to 03:00 (IANA time zone database)


def test_yesterday_evening_keeps_its_own_offset_over_the_change() -> None:
    """A load frozen in summer time is 12 hours old at 08:30 winter time the morning after."""
    now = berlin("2026-10-25T08:30")

    found = parse_time("21:30", now, berlin_offset_min)

    assert timedelta(hours=12) == now.utc - found.at


def test_an_hour_that_came_twice_is_kept_as_about() -> None:
    """02:30 of the long night is one of two instants; both lie within what is kept."""
    found = parse_time("2:30", berlin("2026-10-25T08:30"), berlin_offset_min)

    assert datetime(2026, 10, 25, 1, 0, tzinfo=UTC) == found.at
    assert found.about_min == 30


def test_in_the_first_of_two_equal_hours_the_second_is_still_to_come() -> None:
    """At 02:40 summer time, 02:30 is ten minutes ago and nothing else."""
    now = Reading(datetime(2026, 10, 25, 0, 40, tzinfo=UTC), 120, 0.0, "a")

    found = parse_time("2:30", now, berlin_offset_min)

    assert (timedelta(minutes=10), 0) == (now.utc - found.at, found.about_min)


def test_an_hour_that_never_came_is_refused() -> None:
    """No clock showed 02:30 in the short night."""
    with pytest.raises(NotATime, match=r"never showed 02:30"):
        parse_time("2:30", berlin("2026-03-29T08:00"), berlin_offset_min)


def test_a_freeze_over_the_long_night_lasts_its_true_time() -> None:
    """Eight hours on the wall over the change to winter time are nine."""
    start, end = berlin("2026-10-24T22:00"), berlin("2026-10-25T06:00")

    assert elapsed_s(start, Reading(end.utc, 60, 9 * 3600.0, "a")).seconds == 9 * 3600
    assert elapsed_s(start, Reading(end.utc, 60, 5.0, "b")).seconds == 9 * 3600
