"""What happens at any stage: counts, alarms, notes, and entries that are voided."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar
from uuid import UUID

from packdesk.session.fact import BookFact, Fact, Home
from packdesk.session.figures import FreezerOutlook, LoadOutlook


class CountTaken(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A person counted pouches by hand; the tally's own number stands beside it, unrepaired."""

    kind: ClassVar[str] = "count_taken"
    line: int
    what: str
    counted: int
    tallied: int
    food_name: str = ""


class AlarmRang(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A clock fell due and its alarm was started, `late_s` seconds after it was due.

    `due_at` is told by the wall clock as it stood when the clock was started.
    """

    kind: ClassVar[str] = "alarm_rang"
    by_person: ClassVar[bool] = False
    clock: str
    due_at: datetime
    late_s: float


class WallClockSet(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The computer's clock was seen to have been set forward by `by_s` seconds (negative: back).

    It changes nothing by itself: what it is recorded by says how that clock is set from then on,
    also to a run of the machine that knows of no other entry.
    """

    kind: ClassVar[str] = "wall_clock_set"
    by_person: ClassVar[bool] = False
    by_s: float


class AlarmSilenced(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The sound was stopped; the work the clock stands for is not thereby done."""

    kind: ClassVar[str] = "alarm_silenced"
    by_person: ClassVar[bool] = False
    clocks: tuple[str, ...]


class NoteAdded(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A person wrote something down."""

    kind: ClassVar[str] = "note_added"
    text: str


class FactVoided(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Earlier facts of the same stream do not count. `mistap`: taken back by Undo.

    The entry that was meant is the first of the `targets` of its act; `session` as in a `BookFact`.
    `outlooks` and `freezers` are anew what later facts had worked out with them.
    """

    kind: ClassVar[str] = "fact_voided"
    of: Home
    targets: tuple[UUID, ...]
    reason: str
    mistap: bool
    session: UUID | None = None
    outlooks: tuple[LoadOutlook, ...] = ()
    freezers: tuple[FreezerOutlook, ...] = ()

    @property
    def home(self) -> Home:
        """A voiding lies in the stream of what it voids."""
        return self.of
