"""What is the case, folded from facts: the book's things and the open session's things.

All frozen; mappings are never changed in place. Nothing here is stored: it can be folded anew
from the record at any time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from packdesk.instants import Reading
from packdesk.session.book_state import BookState, empty
from packdesk.session.figures import AgreedLine, FreezerOutlook
from packdesk.session.load import FreezerReading, Load, RoomReading
from packdesk.session.once import once
from packdesk.session.pouch import Pouch
from packdesk.session.terms import ColdRule, OpenLimit, PouchStage


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan lines agreed last."""

    lines: tuple[AgreedLine, ...]
    numbered: bool
    elevation_m: float
    packing_temp_c: float
    pack_at: datetime | None
    agreed_at: datetime

    def line(self, number: int) -> AgreedLine | None:
        """Find a plan line by its number."""
        return next((line for line in self.lines if line.line == number), None)


@dataclass(frozen=True, slots=True)
class Press:
    """So many `pouches` were entered together, and the seconds since the hands were free before."""

    pouches: int
    work_s: float


@dataclass(frozen=True, slots=True)
class Round:
    """From opening a packet, or taking a remainder, until its last absorber is shut in.

    `placed` absorbers went into pouches, which were `served` so many times. `last_at` is when
    absorbers of it last went into a pouch; its start, if none has yet. `hands` people were to
    work at it. `more_each` where its time is reckoned with more in a pouch than planned.
    `presses` are the groups of pouches that were entered, in the order of entry.
    """

    round: int
    source: str
    rating_cc: int
    count: int
    capacity_low_cc: float
    capacity_likely_cc: float
    limit: OpenLimit
    limit_min: float
    room_c: float
    started: Reading
    last_at: datetime
    placed: int = 0
    served: int = 0
    shut_up: bool = False
    hands: int = 1
    margin_min: float | None = None
    more_each: bool = False
    presses: tuple[Press, ...] = ()
    over: int = 0
    """Absorbers found beyond those reckoned, until its pouches were felt: so many may have none."""

    @property
    def left(self) -> int:
        """Absorbers of this round that lie open."""
        return 0 if self.shut_up else self.count - self.placed

    @property
    def no_margin(self) -> bool:
        """Whether its absorbers were not enough from the first; old records have no limit then."""
        return 0.0 in (self.limit_min, self.margin_min)

    @property
    def due(self) -> datetime:
        """When its time in the open is over."""
        return self.started.utc + timedelta(minutes=self.limit_min)


@dataclass(frozen=True, slots=True)
class Pail:
    """A pail with pouches in it."""

    pail: str
    pouches: tuple[int, ...]
    lidded: bool = False


@dataclass(frozen=True, slots=True)
class Alarm:
    """A clock that has rung: for which instant, how late, and whether its sound was stopped.

    `due_at` names the ringing for good; when it `rang` is what all clocks said then.
    """

    clock: str
    due_at: datetime
    rang: Reading
    late_s: float
    silenced_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Count:
    """What a person counted beside what the tally says, and how the pouches stood then."""

    at: datetime
    line: int
    what: str
    counted: int
    tallied: int
    stages: tuple[tuple[int, PouchStage], ...] = ()


@dataclass(frozen=True, slots=True)
class LabelsAsked:
    """Labels made as a PDF, until a person says how they came out of the printer.

    `entry` is the entry that put them on record, `first` the place the first one goes to (from
    0), `next_cell` the first place left on the last sheet, `file` the name of the PDF, `remarks`
    what the person should know of them; `line` is the plan line of labels with numbers alone.
    """

    entry: UUID
    pouches: tuple[int, ...]
    stock: str
    first: int
    next_cell: int
    reprint: bool = False
    line: int = 0
    file: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SessionState:
    """One packing project as it stands.

    `numbers_printed` are the numbers on labels made before filling, each with its plan line;
    `numbers_torn` those whose label did not come out.
    """

    session: UUID
    name: str
    code: str
    units: str
    opened_at: datetime
    plan: Plan | None = None
    bypassed: Mapping[str, str] = field(default_factory=empty)
    loads: Mapping[str, Load] = field(default_factory=empty)
    freezer_readings: tuple[FreezerReading, ...] = ()
    freezers: Mapping[int, FreezerOutlook] = field(default_factory=empty)
    cold_rule: ColdRule = ColdRule.PLAIN
    room_readings: tuple[RoomReading, ...] = ()
    pouches: Mapping[int, Pouch] = field(default_factory=empty)
    tares: Mapping[str, float] = field(default_factory=empty)
    """Mass of an empty pouch (g) by its kind, where one was weighed."""
    lost_g: Mapping[int, float] = field(default_factory=empty)
    """Food spilled or spoiled (g) by plan line."""
    ready_for: tuple[int, ...] = ()
    hands: int = 1
    """How many people the last ready check counted at the counter."""
    alarm_heard: bool = False
    rounds: Mapping[int, Round] = field(default_factory=empty)
    labels_asked: LabelsAsked | None = None
    pails: Mapping[str, Pail] = field(default_factory=empty)
    numbers_printed: Mapping[int, int] = field(default_factory=empty)
    numbers_torn: Mapping[int, int] = field(default_factory=empty)
    alarms: Mapping[str, Alarm] = field(default_factory=empty)
    counts: tuple[Count, ...] = ()
    notes: tuple[str, ...] = ()
    closed_at: datetime | None = None
    worked_out: dict[tuple[Any, ...], Any] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    """What `once` has worked out from this session; no part of what is the case."""

    def working_pouches(self, line: int | None = None) -> tuple[Pouch, ...]:
        """Pouches that are neither set aside nor emptied, by number; of one line if given."""
        return _working(self) if line is None else _working_of(self, line)


@once
def _working(session: SessionState) -> tuple[Pouch, ...]:
    return tuple([pouch for _, pouch in sorted(session.pouches.items()) if not pouch.aside])


@once
def _working_of(session: SessionState, line: int) -> tuple[Pouch, ...]:
    return tuple([pouch for pouch in _working(session) if pouch.line == line])


@dataclass(frozen=True, slots=True)
class State:
    """The book and the open session; what a command is decided on.

    `disputed` lists recorded facts that did not fit what came before them (entries of two
    stations may cross); they are kept, shown and not counted. `newer_kinds` names kinds that
    only a newer PackDesk understands: the session is then read-only.
    """

    book: BookState = field(default_factory=BookState)
    session: SessionState | None = None
    disputed: tuple[UUID, ...] = ()
    newer_kinds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Milestone:
    """What was the case after the first so many `entries`: a fold can go on from here."""

    entries: int = 0
    state: State = field(default_factory=State)
