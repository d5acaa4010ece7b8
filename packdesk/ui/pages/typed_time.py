"""A time as people type it: `21:30`, `about 9 pm yesterday`, `Fri 22:50`, `3 h ago`."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

from packdesk.instants import FAST_KITCHEN_CLOCK, OffsetAt, Reading, When, local

ABOUT_MIN = 15.0
"""What the typed word "about" stands for, plus or minus."""

_CLOCK = (
    r"(?:(?P<h>\d{1,2})[:.h](?P<m>\d{2})|(?P<h4>\d{1,2})(?P<m4>\d{2})|(?P<h1>\d{1,2})(?=\s*[ap]))"
    r"\s*(?P<half>[ap])?(?(half)\.?m\.?)"
)
_DAY = r"(?P<{0}date>\d{{4}}-\d{{1,2}}-\d{{1,2}})|(?P<{0}day>[a-z]+)"
_TYPED = re.compile(
    rf"(?:(?:{_DAY.format('')})(?:\s+|(?<=\d)t))?{_CLOCK}(?:\s+(?:{_DAY.format('last_')}))?",
    re.IGNORECASE,
)
_ABOUT = re.compile(r"(?<!\S)(?:about|around|approx\.?|circa|ca\.?|~)(?=\s|\d)", re.IGNORECASE)
_SMALL = re.compile(r",(?!\d)|(?<!\S)(?:at|on)(?!\S)", re.IGNORECASE)
"""Signs and words that a person puts between day and time, and that say nothing."""
_AGO = re.compile(r"(?P<count>\d{1,3}(?:[.,]\d)?)\s*(?P<unit>min|h|d)[a-z]*\s+ago", re.IGNORECASE)
_UNIT = {"min": timedelta(minutes=1), "h": timedelta(hours=1), "d": timedelta(days=1)}
_HOW = "Type it as 21:30 or 9:30 pm; put yesterday, Fri or 2026-11-24 before it for another day."


class NotATime(ValueError):
    """What was typed is no time; the message says what to type instead."""


def parse_time(text: str, now: Reading, offset_min_at: OffsetAt | None = None) -> When:
    """Which instant a person means by `21:30`, `9:30 pm`, `yesterday 21:30` or `about 21:30`.

    Also read: `21.30`, `2130`, `today 6:15`, `Fri 22:50` (the latest one), `2026-11-24 21:30`, the
    day behind the time (`about 9 pm yesterday`) and `3 h ago`. A bare time of
    day later than now means yesterday's. `offset_min_at` tells the local offset at a UTC instant,
    so that a night in which the clocks change is read rightly; without it that of `now` serves. An
    hour that came twice gives the middle of the two with 30 minutes more of "about".

    Raises `NotATime`, with a sentence for the person, for anything else and for the future.
    """
    offset_min_at = offset_min_at or now.offset_min_at
    plain = " ".join(_SMALL.sub(" ", _ABOUT.sub(" ", text)).split())
    said_about = ABOUT_MIN if _ABOUT.search(text) else 0.0
    ago = _AGO.fullmatch(plain)
    if ago is not None:
        at = now.utc - float(ago["count"].replace(",", ".")) * _UNIT[ago["unit"].lower()]
        return When(at, said_about, offset_min_at(at))
    typed = _TYPED.fullmatch(plain)
    if typed is None or (
        (typed["date"] or typed["day"]) and (typed["last_date"] or typed["last_day"])
    ):
        raise NotATime(f"“{text.strip()}” is not a time. {_HOW}" if text.strip() else _HOW)
    hour, minute = _hour_and_minute(typed, text)
    today = local(now.utc, now.utc_offset_min).date()
    latest = now.utc + FAST_KITCHEN_CLOCK
    day, step = _day_named(typed, today, text)
    for there in (day, day - step) if step else (day,):
        shown = datetime(there.year, there.month, there.day, hour, minute)
        past = [at for at in _instants(shown, offset_min_at, text) if at <= latest]
        if past:
            half_apart = (past[-1] - past[0]) / 2
            at = min(past[0] + half_apart, now.utc)
            about_min = said_about + half_apart.total_seconds() / 60
            return When(at, about_min, offset_min_at(at))
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
    written = typed["date"] or typed["last_date"]
    if written:
        try:
            return date(*(int(part) for part in written.split("-"))), None
        except ValueError:
            raise NotATime(f"There is no day {written} in the calendar. {_HOW}") from None
    word = (typed["day"] or typed["last_day"] or "").lower()
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
