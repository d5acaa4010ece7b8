from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.instants import (
    ABOUT_MIN,
    OWN_RUN,
    NotATime,
    Reading,
    date_and_time,
    day_and_time,
    elapsed_s,
    local,
    parse_time,
    span,
    time_of_day,
    uuid7,
    wall_set_s,
)

WEDNESDAY = datetime(2026, 11, 25, 13, 3, 20, tzinfo=UTC)
NOW = Reading(WEDNESDAY, utc_offset_min=60, steady_s=500.0, boot="a")
BERLIN = ZoneInfo("Europe/Berlin")


def later(
    start: Reading, wall_s: float, steady_s: float | None = None, boot: str | None = None
) -> Reading:
    """What the clocks say after the given seconds on each of them."""
    return Reading(
        start.utc + timedelta(seconds=wall_s),
        start.utc_offset_min,
        start.steady_s + (wall_s if steady_s is None else steady_s),
        start.boot if boot is None else boot,
    )


def unnamed(reading: Reading) -> Reading:
    """The same reading from a machine that does not tell its boot identity."""
    return Reading(reading.utc, reading.utc_offset_min, reading.steady_s, "")


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
# Elapsed time


def test_a_stepped_wall_clock_does_not_change_elapsed_time() -> None:
    """Within one run of the machine the steady clock answers and the step is told apart."""
    found = elapsed_s(NOW, later(NOW, wall_s=600 + 7200, steady_s=600))

    assert (found.seconds, found.wall_moved_s, found.certain) == (600, 7200, True)
    assert (found.least_s, found.most_s, found.contradicted) == (600, 600, False)


def test_a_wall_clock_set_back_below_the_start_is_still_no_trouble() -> None:
    """A clock set back a year does not make time negative while the machine keeps running."""
    found = elapsed_s(NOW, later(NOW, wall_s=-365 * 86400, steady_s=600))

    assert (found.seconds, found.certain) == (600, True)


def test_after_a_restart_the_wall_clock_is_left() -> None:
    """A reading from another run of the machine is compared by wall clock, and not certain."""
    found = elapsed_s(NOW, later(NOW, wall_s=9000, steady_s=-480, boot="b"))

    assert (found.seconds, found.wall_moved_s, found.certain) == (9000, 0, False)
    assert not found.contradicted


def test_a_longer_running_second_machine_is_compared_by_wall_clock() -> None:
    """The steady clock of another machine is never subtracted, however large it is."""
    found = elapsed_s(NOW, later(NOW, wall_s=600, steady_s=1_000_000, boot="b"))

    assert found.seconds == 600


def test_a_wall_clock_that_went_back_over_a_restart_is_asked_about() -> None:
    """No elapsed time is invented where the only clock left runs backwards."""
    found = elapsed_s(NOW, later(NOW, wall_s=-3600, steady_s=-480, boot="b"))

    assert found.contradicted
    assert (found.seconds, found.certain) == (0, False)


def test_a_steady_clock_that_fell_shows_a_restart_without_any_name() -> None:
    """Where runs have no names, a smaller steady figure means that the machine restarted."""
    found = elapsed_s(unnamed(NOW), unnamed(later(NOW, wall_s=9000, steady_s=-480)))

    assert (found.seconds, found.certain) == (9000, False)


def test_unnamed_runs_whose_clocks_agree_are_certain() -> None:
    """Two clocks that tell the same time span need no boot identity."""
    found = elapsed_s(unnamed(NOW), unnamed(later(NOW, wall_s=3610, steady_s=3600)))

    assert (found.seconds, found.wall_moved_s, found.certain) == (3600, 10, True)


def test_one_run_of_the_program_lies_in_one_run_of_the_machine() -> None:
    """Named by the program itself, the same run is certain; of another nobody knows."""
    own = replace(NOW, boot=f"{OWN_RUN}a")
    stepped = later(own, wall_s=7200, steady_s=3600)

    same, other = elapsed_s(own, stepped), elapsed_s(own, replace(stepped, boot=f"{OWN_RUN}b"))

    assert (same.seconds, same.certain) == (3600, True)
    assert (other.least_s, other.most_s, other.contradicted) == (3600, 7200, True)


@pytest.mark.parametrize(
    ("wall_s", "steady_s", "boot", "by_s"),
    [
        (3600, 3600, "a", 0),
        (3629, 3600, "a", 0),
        (0, 3600, "a", -3600),
        (7200.4, 3600, "a", 3600),
        (60 * 86400 + 300, 60 * 86400, "a", 0),
        (7200, 3600, "b", 0),
    ],
)
def test_tells_a_clock_that_was_set_from_one_that_runs_a_little_wrong(
    wall_s: float, steady_s: float, boot: str, by_s: float
) -> None:
    """Half a minute, or five minutes in two months, is no setting; another run is not judged."""
    assert wall_set_s(NOW, later(NOW, wall_s=wall_s, steady_s=steady_s, boot=boot)) == by_s


def test_unnamed_runs_whose_clocks_disagree_keep_both_answers() -> None:
    """Each kind of clock can take its own safe side of two contradicting answers."""
    found = elapsed_s(unnamed(NOW), unnamed(later(NOW, wall_s=7200, steady_s=3600)))

    assert (found.least_s, found.most_s) == (3600, 7200)
    assert (found.certain, found.contradicted) == (False, True)


@given(
    wall_s=st.floats(-1e9, 1e9),
    steady_s=st.floats(-1e9, 1e9),
    boots=st.tuples(st.sampled_from(["", "a", "b"]), st.sampled_from(["", "a", "b"])),
)
def test_elapsed_time_is_never_negative_and_lies_between_its_bounds(
    wall_s: float, steady_s: float, boots: tuple[str, str]
) -> None:
    """Whatever the clocks say, 0 <= least <= best <= most."""
    start = Reading(WEDNESDAY, 0, 0.0, boots[0])

    found = elapsed_s(start, later(start, wall_s, steady_s, boots[1]))

    assert 0 <= found.least_s <= found.seconds <= found.most_s


# --------------------------------------------------------------------------------------------
# Identifiers


def test_uuid7_carries_the_instant_of_the_standards_example() -> None:
    """RFC 9562 appendix A.6: the example's time and random tail land in the same bits."""
    utc = datetime.fromisoformat("2022-02-22T14:22:22-05:00")
    example = UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")

    made = uuid7(utc, lambda count: example.bytes[-count:])

    assert example.int >> 80 == made.int >> 80
    assert example.bytes[8:] == made.bytes[8:]
    assert (7, example.variant) == (made.version, made.variant)


@given(
    first=st.datetimes(datetime(1970, 1, 1), datetime(9999, 12, 30), timezones=st.just(UTC)),
    micros=st.integers(1, 10_000),
    noise=st.tuples(st.binary(min_size=8, max_size=8), st.binary(min_size=8, max_size=8)),
)
def test_uuid7_sorts_by_the_microsecond(
    first: datetime, micros: int, noise: tuple[bytes, bytes]
) -> None:
    """A later instant has the larger identifier, whatever the random bits are."""
    second = first + timedelta(microseconds=micros)

    assert uuid7(first, lambda _: noise[0]) < uuid7(second, lambda _: noise[1])


def test_uuid7_differs_at_one_instant() -> None:
    """Two facts of one instant get two identifiers."""
    assert len({uuid7(WEDNESDAY) for _ in range(1000)}) == 1000


# --------------------------------------------------------------------------------------------
# Words


def test_wall_clock_words() -> None:
    """An instant is said in the local time of its own offset, over midnight too."""
    late = datetime(2026, 11, 27, 22, 50, tzinfo=UTC)

    assert time_of_day(late, 60) == "23:50"
    assert day_and_time(late, 0) == "Fri 22:50"
    assert day_and_time(late, 330) == "Sat 04:20"
    assert date_and_time(late, 330) == "2026-11-28 04:20"
    assert datetime(2026, 11, 27, 17, 50) == local(late, -300)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 s"),
        (20, "20 s"),
        (60, "1 min"),
        (380, "6 min 20 s"),
        (599.4, "9 min 59 s"),
        (599.6, "10 min"),
        (48 * 60, "48 min"),
        (3599, "1 h"),
        (2 * 3600 + 6 * 60, "2 h 6 min"),
        (86399, "1 d"),
        (54 * 3600, "2 d 6 h"),
        (-380, "6 min 20 s"),
    ],
)
def test_span_says_a_length_of_time_in_two_parts(seconds: float, words: str) -> None:
    """Each length is said in two units at most, and rounding carries into the larger one."""
    assert words == span(seconds)


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
    ],
)
def test_typed_times_are_read(typed: str, meant: str) -> None:
    """A time is read as people write it; one later than now was yesterday's or last week's."""
    found = parse_time(typed, NOW)

    assert datetime.fromisoformat(meant + "+00:00") == found.at
    assert found.about_min == 0


@pytest.mark.parametrize("word", ["about ", "around ", "ca. ", "~", "About "])
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
