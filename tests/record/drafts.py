"""Drafts for tests of the record: invented facts at invented times."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import UUID

from packdesk.instants import Reading
from packdesk.session.envelope import BOOK_STREAM, Draft
from packdesk.session.fact import Fact, Home
from packdesk.session.facts import (
    FactVoided,
    LotReceived,
    NoteAdded,
    SessionClosed,
    SessionOpened,
)
from packdesk.session.terms import LotVerdict

STATION = UUID("0193aaaa-0000-7000-8000-000000000001")
OTHER_STATION = UUID("0193bbbb-0000-7000-8000-000000000002")
SESSION = UUID("0193cccc-0000-7000-8000-000000000003")
OTHER_SESSION = UUID("0193dddd-0000-7000-8000-000000000004")
START = datetime(2026, 11, 25, 13, 0, tzinfo=UTC)

OPENED = SessionOpened(name="Invented winter wheat", code="W26", units="metric")
CLOSED = SessionClosed()
LOT = LotReceived(
    lot="L1",
    food="wheat",
    food_name="Wheat",
    mass_g=22_680.0,
    supplier_lot="A-17",
    verdict=LotVerdict.ACCEPTED,
)


def identity(number: int) -> UUID:
    """An identifier that differs for each number."""
    return UUID(int=0x0193_0000_0000_7000_8000_0000_0000_0000 + number)


def note(text: str) -> NoteAdded:
    """A fact that says nothing but a text."""
    return NoteAdded(text=text)


def voided(*targets: UUID) -> FactVoided:
    """A fact that takes back others of its session."""
    return FactVoided(of=Home.SESSION, targets=targets, reason="mis-tap", mistap=True)


def draft(
    number: int,
    fact: Fact | None = None,
    *,
    session: UUID = SESSION,
    minute: float | None = None,
    who: str = "sam",
    about_min: float = 0.0,
    act: int | None = None,
) -> Draft:
    """The `number`th fact of a test, recorded that many minutes after the start."""
    fact = note(f"note {number}") if fact is None else fact
    at = START + timedelta(minutes=number if minute is None else minute)
    return Draft(
        id=identity(number),
        act=identity(number if act is None else act),
        stream=BOOK_STREAM if fact.home is Home.BOOK else session,
        happened_at=at - timedelta(minutes=about_min),
        about_min=about_min,
        recorded=Reading(at, 60, 1000.125 + 60 * number, "boot-1"),
        who=who,
        fact=fact,
    )
