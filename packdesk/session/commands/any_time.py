"""Orders at any stage: count, alarms, notes, taking entries back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from packdesk.session.commands.command import Command


@dataclass(frozen=True, slots=True)
class TakeCount(Command):
    """Compare a count by hand with the tally; `what` is a pouch stage."""

    line: int
    what: str
    counted: int


@dataclass(frozen=True, slots=True)
class RingAlarm(Command):
    """A clock fell due: note it before the sound starts."""

    clock: str
    due_at: datetime
    late_s: float


@dataclass(frozen=True, slots=True)
class NoteClockSet(Command):
    """The computer's clock was set forward by so much (s; negative: back)."""

    by_s: float


@dataclass(frozen=True, slots=True)
class SilenceAlarm(Command):
    """Stop the sound; what the clock asks for is still to be done."""

    clocks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AddNote(Command):
    """Write something down."""

    text: str


@dataclass(frozen=True, slots=True)
class UndoLast(Command):
    """Take back the last entry as a mis-tap."""


@dataclass(frozen=True, slots=True)
class VoidFact(Command):
    """Let an entry not count, for a reason, together with `along`: all that rests on it.

    Refused, with the list, unless `along` names exactly what rests on it.
    """

    target: UUID
    reason: str
    along: tuple[UUID, ...] = ()
