"""The envelope every fact travels in, from the command that caused it to the record and back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from packdesk.instants import Reading
from packdesk.session.fact import Fact, Home, UnknownFact

BOOK_STREAM = UUID(int=0)
"""The stream of what outlives a session: lots, packets, label sheets, stowed pouches."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A fact about to be recorded: everything but what only the record book can give.

    The facts of one command share `act`, so that one press undoes them together, whichever
    stream each of them belongs to.
    """

    id: UUID
    act: UUID
    stream: UUID
    happened_at: datetime
    about_min: float
    recorded: Reading
    who: str
    fact: Fact


@dataclass(frozen=True, slots=True)
class Entry:
    """A recorded fact: durable, numbered without gaps within its station, never changed."""

    id: UUID
    act: UUID
    stream: UUID
    happened_at: datetime
    about_min: float
    recorded: Reading
    who: str
    station: UUID
    station_seq: int
    fact: Fact | UnknownFact


def stream_of(fact: Fact, session: UUID) -> UUID:
    """Say which stream `fact` belongs to while `session` is open."""
    return BOOK_STREAM if fact.home is Home.BOOK else session
