"""The calendar file, read back and held against RFC 5545."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar, Event

from packdesk.desk.ports import Trouble
from packdesk.paper.calendar_file import calendar_bytes, write_calendar
from packdesk.present.calendar_entries import CalendarEntry

STAMP = datetime(2026, 10, 20, 8, 0, tzinfo=UTC)
AWKWARD = "Out; lid on, “rice” C:\\pails\nsecond line " + "and more words " * 8
ENTRIES = (
    CalendarEntry(
        UUID(int=7), datetime(2026, 10, 24, 7, 0, tzinfo=UTC), "Into the freezer", AWKWARD,
        (timedelta(hours=1), timedelta(0)),
    ),
    CalendarEntry(UUID(int=8), datetime(2026, 10, 25, 8, 0, tzinfo=UTC), AWKWARD),
)  # fmt: skip


def events() -> list[Event]:
    """The events as a reader finds them."""
    return list(Calendar.from_ical(calendar_bytes(ENTRIES, "Autumn, wheat", STAMP)).walk("VEVENT"))


def test_lines_end_and_fold_as_the_standard_says() -> None:
    """Every line ends with CR LF and has at most 75 octets (RFC 5545 section 3.1)."""
    content = calendar_bytes(ENTRIES, "Autumn, wheat", STAMP)

    assert content.endswith(b"\r\n")
    assert b"\n" not in content.replace(b"\r\n", b"")
    assert max(len(line) for line in content.split(b"\r\n")) <= 75


def test_the_calendar_says_who_made_it_and_its_version() -> None:
    """PRODID and VERSION 2.0 are required (RFC 5545 section 3.6)."""
    calendar = Calendar.from_ical(calendar_bytes(ENTRIES, "Autumn, wheat", STAMP))

    assert str(calendar["VERSION"]) == "2.0"
    assert "PackDesk" in str(calendar["PRODID"])


def test_every_event_has_its_identity_its_stamp_and_utc_instants() -> None:
    """UID and DTSTAMP are required, and instants in UTC end with Z (3.6.1, 3.3.5)."""
    content = calendar_bytes(ENTRIES, "Autumn, wheat", STAMP)

    for event, entry in zip(events(), ENTRIES, strict=True):
        assert str(event["UID"]) == str(entry.uid)
        assert event.decoded("DTSTAMP") == STAMP
        assert event.decoded("DTSTART") == entry.start
        assert event.decoded("DTEND") > entry.start
    assert b"DTSTART:20261024T070000Z\r\n" in content
    assert b"DTSTAMP:20261020T080000Z\r\n" in content


def test_commas_semicolons_backslashes_and_line_ends_come_back() -> None:
    """TEXT is escaped (3.3.11), and reads as it was."""
    content = calendar_bytes(ENTRIES, "Autumn, wheat", STAMP).replace(b"\r\n ", b"")

    assert str(events()[0]["DESCRIPTION"]) == AWKWARD
    assert str(events()[1]["SUMMARY"]) == AWKWARD
    assert r"Out\; lid on\, “rice” C:\\pails\nsecond line".encode() in content


def test_alarms_show_words_so_long_before() -> None:
    """Each alarm is a DISPLAY with a description and a trigger (3.6.6), before or at the start."""
    alarms = list(events()[0].walk("VALARM"))

    assert [alarm.decoded("TRIGGER") for alarm in alarms] == [timedelta(hours=-1), timedelta(0)]
    for alarm in alarms:
        assert str(alarm["ACTION"]) == "DISPLAY"
        assert str(alarm["DESCRIPTION"]) == "Into the freezer"


def test_a_night_in_which_the_clocks_change_shifts_nothing() -> None:
    """25 hours apart, both at nine on a clock in central Europe when summer time ends.

    The clocks go back on the last Sunday of October, at 01:00 UTC (Directive 2000/84/EC,
    article 3): 25 October 2026.
    """
    there = ZoneInfo("Europe/Berlin")
    first, second = (event.decoded("DTSTART") for event in events())

    assert second - first == timedelta(hours=25)
    assert [f"{at.astimezone(there):%a %H:%M}" for at in (first, second)] == [
        "Sat 09:00", "Sun 09:00",
    ]  # fmt: skip


def test_written_again_it_is_the_same_file() -> None:
    """Nothing in it is random."""
    assert calendar_bytes(ENTRIES, "x", STAMP) == calendar_bytes(ENTRIES, "x", STAMP)


def test_reaches_its_place_whole_or_says_why_not(tmp_path: Path) -> None:
    """It is written to a file or a stream; a folder that is not there is told in words."""
    stream = BytesIO()
    write_calendar(ENTRIES, "x", STAMP, stream)
    write_calendar(ENTRIES, "x", STAMP, tmp_path / "x.ics")

    assert (tmp_path / "x.ics").read_bytes() == stream.getvalue()
    with pytest.raises(Trouble):
        write_calendar(ENTRIES, "x", STAMP, tmp_path / "gone" / "x.ics")
