"""Days and times to come, as they are typed."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from packdesk.instants import Reading
from packdesk.ui.pages.day_ahead import DayAhead
from packdesk.units import NotUnderstood

# 12 October 2026 is a Monday (ISO 8601 calendar).
NOW = Reading(datetime(2026, 10, 12, 8, 0, tzinfo=UTC), 120, 0.0, "")


def berlin(at: datetime) -> int:
    """Summer time ends on 25 October 2026 at 01:00 UTC (Directive 2000/84/EC, article 3)."""
    return 120 if at < datetime(2026, 10, 25, 1, 0, tzinfo=UTC) else 60


def read(text: str) -> str:
    """What is meant, in UTC."""
    return f"{DayAhead(lambda: NOW, berlin)(text):%m-%d %H:%M}"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Saturday", "10-17 07:00"),
        ("Saturday at nine", "10-17 07:00"),
        ("sat 14:30", "10-17 12:30"),
        ("Sat, 2 pm", "10-17 12:00"),
        ("monday 8", "10-19 06:00"),
        ("tomorrow at noon", "10-13 10:00"),
        ("2026-10-18 9.30", "10-18 07:30"),
        ("2026-10-24", "10-24 07:00"),
        ("2026-10-25", "10-25 08:00"),
        ("2026-10-26 at six", "10-26 05:00"),
    ],
)
def test_a_day_with_or_without_its_time(typed: str, meant: str) -> None:
    """Nine where no time is typed; after the clocks went back by the new time."""
    assert read(typed) == meant


@pytest.mark.parametrize(
    "typed", ["", "t", "someday", "Saturday at lots", "Sat 25:00", "2026-13-01", "2024-01-01"]
)
def test_what_is_no_day_is_answered_in_words(typed: str) -> None:
    """Every refusal says how to write it, or what is wrong with the day."""
    with pytest.raises(NotUnderstood, match="Write"):
        read(typed)
