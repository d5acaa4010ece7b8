"""Instants: what the clocks said, how long ago that was, and how a person writes it.

May import nothing of the package.

All arithmetic is done in UTC; wall-clock time appears only in what a person types or reads.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
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


def clock_set_words(by_s: float) -> str:
    """`the computer's clock was set back 2 h`: how far a wall clock was set forward, in words."""
    return f"the computer's clock was set {'forward' if by_s > 0.0 else 'back'} {span(by_s)}"


def _two_parts(total: int, size: int, large: str, small: str) -> str:
    many, few = divmod(total, size)
    parts = [f"{many} {large}"] if many else []
    if few or not many:
        parts.append(f"{few} {small}")
    return " ".join(parts)


# --------------------------------------------------------------------------------------------
# What a person types
