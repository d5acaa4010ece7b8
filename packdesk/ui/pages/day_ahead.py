"""How a day and time to come is typed: `Saturday at nine`, `Sat 14:30`, `2026-10-18 9:00`."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from packdesk.instants import Reading, instant, local
from packdesk.units import NotUnderstood

PACKING_HOUR = 9
"""A packing day is taken to begin at nine where no time is typed."""

LONGEST_AHEAD = timedelta(days=730)
_HOW = "Write it as Saturday at nine, Sat 14:30 or 2026-10-18 9:00."
_DATE = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_DAY_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_HOUR_NAMES = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "noon",
)  # fmt: skip
_TYPED = re.compile(r"(?P<day>[a-z]+|\d{4}-\d{1,2}-\d{1,2})(?:[\s,]+(?:at\s+)?(?P<time>\S.*))?")
_CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?(?:\s*([ap])\.?m\.?)?")


@dataclass(frozen=True, slots=True)
class DayAhead:
    """Reads a day to come with its time of day (nine if none is typed); answers it in UTC.

    `offset_min_at` tells the place's offset at an instant, so that a week in which the clocks
    change is read rightly.
    """

    now: Callable[[], Reading]
    offset_min_at: Callable[[datetime], int] | None = None

    def __call__(self, text: str) -> datetime:
        """The instant; raises `NotUnderstood`."""
        typed = text.strip().lower()
        now = self.now()
        today = local(now.utc, now.offset_min_at).date()
        if not typed:
            raise NotUnderstood(f"Nothing is typed. {_HOW}")
        found = _TYPED.fullmatch(typed)
        if found is None:
            raise NotUnderstood(f"“{text.strip()}” is not a day. {_HOW}")
        day = _day(found["day"], today, text.strip())
        hour, minute = _time(found["time"], text.strip())
        if not today <= day <= today + LONGEST_AHEAD:
            raise NotUnderstood(f"{day} is over or years away. Write a day within two years.")
        there = datetime(day.year, day.month, day.day, hour, minute)
        return instant(there, self.offset_min_at or now.offset_min_at)


def _day(word: str, today: date, typed: str) -> date:
    written = _DATE.fullmatch(word)
    if written is not None:
        try:
            return date(*(int(part) for part in written.groups()))
        except ValueError:
            raise NotUnderstood(f"There is no day {word} in the calendar. {_HOW}") from None
    if word in ("today", "tomorrow"):
        return today + timedelta(days=word == "tomorrow")
    names = [name for name in _DAY_NAMES if len(word) >= 3 and name.startswith(word)]
    if len(names) != 1:
        raise NotUnderstood(f"“{typed}” is not a day. {_HOW}")
    return today + timedelta(days=(_DAY_NAMES.index(names[0]) - today.weekday()) % 7 or 7)


def _time(word: str | None, typed: str) -> tuple[int, int]:
    if word is None:
        return PACKING_HOUR, 0
    if word in _HOUR_NAMES:
        return _HOUR_NAMES.index(word) + 1, 0
    clock = _CLOCK.fullmatch(word)
    hour, minute = (int(clock[1]), int(clock[2] or 0)) if clock is not None else (99, 0)
    if clock is not None and clock[3] is not None and 1 <= hour <= 12:
        hour = hour % 12 + (12 if clock[3] == "p" else 0)
    if hour > 23 or minute > 59:
        raise NotUnderstood(f"“{typed}” names no time that a clock shows. {_HOW}")
    return hour, minute
