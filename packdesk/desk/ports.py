"""What the desk needs from the outer world, and the one way in which that world may fail."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol
from uuid import UUID

from packdesk.instants import Reading
from packdesk.session.envelope import Draft, Entry


class Trouble(Exception):
    """The machine failed: disk full, file locked, no permission. Nothing recorded was lost.

    `sentence` says what happened, `cure` what to do about it; both are shown as they stand.
    """

    def __init__(self, sentence: str, cure: str) -> None:
        super().__init__(f"{sentence} {cure}")
        self.sentence = sentence
        self.cure = cure


class Clock(Protocol):
    """Answers what every clock of the machine says now."""

    def reading(self) -> Reading:
        """Read all clocks at one instant."""


@dataclass(frozen=True, slots=True)
class SessionHead:
    """A session as the list of sessions shows it."""

    session: UUID
    name: str
    opened_at: datetime
    last_at: datetime
    closed: bool
    entries: int


class RecordBook(Protocol):
    """Keeps entries durably; a fact is on the disk when `append` returns."""

    @property
    def station(self) -> UUID:
        """This installation's identity."""

    def append(self, drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        """Record all of `drafts` or none, in one transaction; raise `Trouble` when it failed."""

    def entries(self, streams: Collection[UUID]) -> tuple[Entry, ...]:
        """Read the entries of some streams in the order of the fold."""

    def sessions(self) -> tuple[SessionHead, ...]:
        """List the sessions of the book, the one used last first."""
