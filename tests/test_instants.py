from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.instants import (
    OWN_RUN,
    Reading,
    date_and_time,
    day_and_time,
    elapsed_s,
    local,
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
