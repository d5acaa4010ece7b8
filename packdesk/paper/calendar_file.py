"""A calendar file (iCalendar, RFC 5545) of what a session still has to come."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import BinaryIO

from icalendar import Alarm, Calendar, Event

from packdesk import __version__
from packdesk.paper.delivery import deliver
from packdesk.present.calendar_entries import CalendarEntry

LASTS = timedelta(minutes=15)
"""An act is told as a quarter of an hour: readers show no entry of no length."""


def write_calendar(
    entries: Sequence[CalendarEntry], name: str, stamp: datetime, out: Path | BinaryIO
) -> None:
    """Write `entries` to `out`, whole or not at all; `stamp` (UTC) is when that was asked for."""
    deliver(calendar_bytes(entries, name, stamp), out)


def calendar_bytes(entries: Sequence[CalendarEntry], name: str, stamp: datetime) -> bytes:
    """The file's content: instants in UTC, so that no change of the clocks can shift them."""
    calendar = Calendar()
    calendar.add("prodid", f"-//PackDesk//PackDesk {__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("name", name)
    for entry in entries:
        calendar.add_component(_event(entry, stamp))
    return bytes(calendar.to_ical())


def _event(entry: CalendarEntry, stamp: datetime) -> Event:
    event = Event()
    event.add("uid", str(entry.uid))
    event.add("dtstamp", stamp)
    event.add("dtstart", entry.start)
    event.add("dtend", entry.start + LASTS)
    event.add("summary", entry.summary)
    if entry.description:
        event.add("description", entry.description)
    event.add("transp", "TRANSPARENT")
    for before in entry.alarms:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", entry.summary)
        alarm.add("trigger", -before)
        event.add_component(alarm)
    return event
