"""Instants: what the clocks said, how long ago that was, and how a person writes it.

May import nothing of the package.

All arithmetic is done in UTC; wall-clock time appears only in what a person types or reads.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from uuid import UUID

CLOCKS_AGREE_S = 120.0
"""Two clocks of one machine that differ by no more than this are taken to agree."""

CLOCK_SET_S = 30.0
"""A wall clock that is off by more was set; less is put right in passing and disturbs nothing."""

OWN_RUN = "run of the program "
"""How the run of a machine is named that does not name it itself: by a run of this program. Two of
the same name lie in one run of the machine; of two that differ nobody knows."""

POOR_CLOCK = 1e-4
"""What share of a length of time two clocks of one machine may drift apart without being set."""

ABOUT_MIN = 15.0
"""What the typed word "about" stands for, plus or minus."""

FAST_KITCHEN_CLOCK = timedelta(minutes=2)
"""A typed time of day this little ahead of the computer means "just now"."""

OffsetAt = Callable[[datetime], int]
"""How many minutes a place's wall clock is ahead of UTC at an instant, summer time included."""

Offset = int | OffsetAt
"""Either what held at the instant in question, or the place, which knows it of any instant."""

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Reading:
    """What every clock of the machine says at one instant."""

    utc: datetime
    """Wall clock, aware, in UTC."""
    utc_offset_min: int
    """Local wall clock minus UTC."""
    steady_s: float
    """Counts through sleep and cannot be set by a person; its zero has no meaning."""
    boot: str
    """Identity of this run of the machine; empty where the machine does not tell."""
    set_s: float = 0.0
    """How far the wall clock was set forward since (negative: back), `utc` having moved along."""
    place: OffsetAt | None = field(default=None, compare=False, repr=False)
    """Knows the local offset of any instant; None of a reading from the record."""

    def offset_min_at(self, at: datetime) -> int:
        """Local wall clock minus UTC at `at`; where the place is not known, as at the reading."""
        return self.place(at) if self.place is not None else self.utc_offset_min

    def offset_min_of(self, at: datetime, recorded: Reading) -> int:
        """The local offset at `at` of what was recorded at `recorded`, perhaps elsewhere.

        The offset on record is that of the writing. What happened in another season is told by
        its own, if this is the place where it was written.
        """
        here = self.offset_min_at(recorded.utc) == recorded.utc_offset_min
        return self.offset_min_at(at) if here else recorded.utc_offset_min


@dataclass(frozen=True, slots=True)
class When:
    """When something happened, as a person says it."""

    at: datetime
    """UTC."""
    about_min: float = 0.0
    """Plus or minus."""
    utc_offset_min: int | None = None
    """Local wall clock minus UTC at that instant; None where it is taken to be as now."""


@dataclass(frozen=True, slots=True)
class Elapsed:
    """How long it is since an earlier reading, and how far that can be trusted."""

    seconds: float
    """The best single figure; never negative."""
    wall_moved_s: float
    """How far the wall clock was set forward meanwhile (negative: back); 0 where unknown."""
    certain: bool
    """False once only the wall clock is left or the clocks contradict each other."""
    least_s: float
    """For a clock that means "at least"."""
    most_s: float
    """For a clock that means "no longer than"."""
    contradicted: bool = False
    """True when the clocks cannot both be right: the person has to be asked."""


class NotATime(ValueError):
    """What was typed is no time; the message says what to type instead."""


def elapsed_s(start: Reading, now: Reading) -> Elapsed:
    """How many seconds lie between two readings, whatever was done to the wall clock.

    While both come from one run of the machine the steady clock answers. After a restart, or
    on another machine, only the wall clock is left; the answer is then not certain. Where the
    machine does not name its runs and its two clocks disagree by more than `CLOCKS_AGREE_S`,
    both answers are kept as `least_s` and `most_s`.
    """
    wall = (now.utc - start.utc).total_seconds()
    steady = now.steady_s - start.steady_s
    same = _one_run(start.boot, now.boot)
    if steady < 0 or same is False:
        kept = max(wall, 0.0)
        return Elapsed(kept, 0.0, False, kept, kept, contradicted=wall < 0)
    if same or abs(wall - steady) <= CLOCKS_AGREE_S:
        return Elapsed(steady, wall - steady + start.set_s, True, steady, steady)
    least, most = sorted((max(wall, 0.0), steady))
    return Elapsed(steady, 0.0, False, least, most, contradicted=True)


def _one_run(boot: str, other: str) -> bool | None:
    """Whether both are one run of the machine; None where nobody knows."""
    if boot and boot == other:
        return True
    told = boot and other and not boot.startswith(OWN_RUN) and not other.startswith(OWN_RUN)
    return False if told else None


def wall_set_s(earlier: Reading, later: Reading) -> float:
    """How far the wall clock was set forward between two readings (negative: back), in seconds.

    0 where it was not, where the machine was restarted, and where that is not known.
    """
    if not earlier.boot or earlier.boot != later.boot:
        return 0.0
    steady = later.steady_s - earlier.steady_s
    moved = (later.utc - earlier.utc).total_seconds() - steady
    return float(round(moved)) if abs(moved) > CLOCK_SET_S + POOR_CLOCK * abs(steady) else 0.0


def uuid7(utc: datetime, random_bytes: Callable[[int], bytes] = os.urandom) -> UUID:
    """A new identifier that sorts by its instant, to the microsecond.

    Source: RFC 9562 section 5.7, with the 12 bits after the version holding the fraction of a
    millisecond (section 6.2, method 3). `utc` must be aware and not before 1970.
    """
    micros = (utc - _EPOCH) // timedelta(microseconds=1)
    millis, rest = divmod(micros, 1000)
    tail = int.from_bytes(random_bytes(8), "big") & (2**62 - 1)
    return UUID(int=millis << 80 | 0x7 << 76 | (rest * 4096 // 1000) << 64 | 0b10 << 62 | tail)


def local(utc: datetime, offset: Offset) -> datetime:
    """What the wall clock showed: a naive time of day and date."""
    ahead_min = offset if isinstance(offset, int) else offset(utc)
    return utc.astimezone(UTC).replace(tzinfo=None) + timedelta(minutes=ahead_min)


def instant(there: datetime, offset: Offset) -> datetime:
    """The instant at which the wall clock showed `there` (naive); UTC.

    Of an hour that came twice it is one of the two, of one that was left out the same hour by
    the season before or after.
    """
    as_if_utc = there.replace(tzinfo=UTC)
    if isinstance(offset, int):
        return as_if_utc - timedelta(minutes=offset)
    near = as_if_utc - timedelta(minutes=offset(as_if_utc))
    return as_if_utc - timedelta(minutes=offset(near))


def time_of_day(utc: datetime, offset: Offset) -> str:
    """`14:03`."""
    return f"{local(utc, offset):%H:%M}"


def day_and_time(utc: datetime, offset: Offset) -> str:
    """`Fri 22:50`; plain for instants less than a week away."""
    there = local(utc, offset)
    return f"{_DAYS[there.weekday()]} {there:%H:%M}"


def date_and_time(utc: datetime, offset: Offset) -> str:
    """`2026-11-24 21:30`; plain for any instant."""
    return local(utc, offset).isoformat(" ", "minutes")


def span(seconds: float) -> str:
    """`20 s`, `6 min 20 s`, `48 min`, `2 h 6 min`, `2 d 6 h`: a length of time in two parts.

    Rounded to the nearest second below ten minutes, minute below a day, hour above. The sign
    is left to the caller's words ("left", "late").
    """
    whole = round(abs(seconds))
    if whole < 600:
        return _two_parts(whole, 60, "min", "s")
    minutes = round(whole / 60)
    if minutes < 60:
        return f"{minutes} min"
    if minutes < 24 * 60:
        return _two_parts(minutes, 60, "h", "min")
    return _two_parts(round(whole / 3600), 24, "d", "h")


def _two_parts(total: int, size: int, large: str, small: str) -> str:
    many, few = divmod(total, size)
    parts = [f"{many} {large}"] if many else []
    if few or not many:
        parts.append(f"{few} {small}")
    return " ".join(parts)


# --------------------------------------------------------------------------------------------
# What a person types

_CLOCK = (
    r"(?:(?P<h>\d{1,2})[:.h](?P<m>\d{2})|(?P<h4>\d{1,2})(?P<m4>\d{2})|(?P<h1>\d{1,2})(?=\s*[ap]))"
    r"\s*(?P<half>[ap])?(?(half)\.?m\.?)"
)
_TYPED = re.compile(
    r"(?P<about>about|around|approx\.?|circa|ca\.?|~)?\s*"
    r"(?:(?P<date>\d{4}-\d{1,2}-\d{1,2})(?:\s+|t)|(?P<day>[a-z]+)\s+)?" + _CLOCK,
    re.IGNORECASE,
)
_HOW = "Type it as 21:30 or 9:30 pm; put yesterday, Fri or 2026-11-24 before it for another day."


def parse_time(text: str, now: Reading, offset_min_at: OffsetAt | None = None) -> When:
    """Which instant a person means by `21:30`, `9:30 pm`, `yesterday 21:30` or `about 21:30`.

    Also read: `21.30`, `2130`, `today 6:15`, `Fri 22:50` (the latest one) and
    `2026-11-24 21:30`. A bare time of day later than now means yesterday's. `offset_min_at`
    tells the local offset at a UTC instant, so that a night in which the clocks change is read
    rightly; without it the offset of `now` holds throughout. An hour that came twice gives the
    middle of the two with 30 minutes more of "about".

    Raises `NotATime`, with a sentence for the person, for anything else and for the future.
    """
    typed = _TYPED.fullmatch(text.strip())
    if typed is None:
        raise NotATime(f"“{text.strip()}” is not a time. {_HOW}" if text.strip() else _HOW)
    hour, minute = _hour_and_minute(typed, text)
    offset_min_at = offset_min_at or now.offset_min_at
    today = local(now.utc, now.utc_offset_min).date()
    latest = now.utc + FAST_KITCHEN_CLOCK
    day, step = _day_named(typed, today, text)
    for there in (day, day - step) if step else (day,):
        shown = datetime(there.year, there.month, there.day, hour, minute)
        past = [at for at in _instants(shown, offset_min_at, text) if at <= latest]
        if past:
            half_apart = (past[-1] - past[0]) / 2
            about_min = ABOUT_MIN if typed["about"] else 0.0
            at = min(past[0] + half_apart, now.utc)
            return When(at, about_min + half_apart.total_seconds() / 60, offset_min_at(at))
    raise NotATime(f"“{text.strip()}” is still to come. Type when it happened, not when it will.")


def _hour_and_minute(typed: re.Match[str], text: str) -> tuple[int, int]:
    hour = int(typed["h"] or typed["h4"] or typed["h1"])
    minute = int(typed["m"] or typed["m4"] or 0)
    half = (typed["half"] or "").lower()
    if minute > 59 or hour > 23 or (half and not 1 <= hour <= 12):
        raise NotATime(f"“{text.strip()}” names no time that a clock shows. {_HOW}")
    return (hour % 12 + (12 if half == "p" else 0) if half else hour), minute


def _day_named(typed: re.Match[str], today: date, text: str) -> tuple[date, timedelta | None]:
    """The day meant, and how far to go back if that lies in the future (None: do not)."""
    if typed["date"]:
        try:
            return date(*(int(part) for part in typed["date"].split("-"))), None
        except ValueError:
            raise NotATime(f"There is no day {typed['date']} in the calendar. {_HOW}") from None
    word = (typed["day"] or "").lower()
    if not word:
        return today, timedelta(days=1)
    if word == "today":
        return today, None
    if word == "yesterday":
        return today - timedelta(days=1), None
    for index, name in enumerate(("mon", "tues", "wednes", "thurs", "fri", "satur", "sun")):
        if len(word) >= 3 and f"{name}day".startswith(word):
            return today - timedelta(days=(today.weekday() - index) % 7), timedelta(days=7)
    raise NotATime(f"“{word}” in “{text.strip()}” is not a day. {_HOW}")


def _instants(shown: datetime, offset_min_at: OffsetAt, text: str) -> list[datetime]:
    """The UTC instants at which the wall clock showed `shown`: one, or two in an autumn night."""
    as_if_utc = shown.replace(tzinfo=UTC)
    try:
        near = {offset_min_at(as_if_utc + timedelta(days=side)) for side in (-1, 1)}
        tried = sorted(as_if_utc - timedelta(minutes=minutes) for minutes in near)
    except OverflowError:
        raise NotATime(f"“{text.strip()}” lies outside the calendar. {_HOW}") from None
    found = [at for at in tried if local(at, offset_min_at(at)) == shown]
    if not found:
        raise NotATime(f"The clocks went forward that night and never showed {shown:%H:%M}.")
    return found
