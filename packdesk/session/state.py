"""What is the case, folded from facts: the book's things and the open session's things.

All frozen; mappings are never changed in place. Nothing here is stored: it can be folded anew
from the record at any time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType
from typing import Any
from uuid import UUID

from packdesk.instants import Reading
from packdesk.session.figures import (
    AgreedLine,
    ColdForecast,
    FreezerOutlook,
    LoadFigures,
    ThawForecast,
)
from packdesk.session.once import once
from packdesk.session.terms import (
    ColdRule,
    Feel,
    Indicator,
    LotVerdict,
    OpenLimit,
    PacketCondition,
    PouchStage,
    Probe,
    SealVerdict,
    Vessel,
)

MOST_SEAMS = 2
"""Two seams close a pouch: the second stands in when the first leaks."""


def _none() -> Mapping[Any, Any]:
    return MappingProxyType({})


# What outlives a session --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Lot:
    """One purchase of one food; `verdict` and `seen` are those of the newest look at it."""

    lot: str
    food: str
    food_name: str
    mass_g: float
    supplier_lot: str
    verdict: LotVerdict
    seen: str
    received_at: datetime


@dataclass(frozen=True, slots=True)
class Packet:
    """An opened packet of absorbers."""

    packet: str
    absorber: str
    rating_cc: int
    count: int
    condition: PacketCondition
    opened: Reading
    indicator: Indicator = Indicator.NOT_SEEN
    feel: Feel = Feel.NOT_FELT


@dataclass(frozen=True, slots=True)
class Remainder:
    """Absorbers of an opened packet, shut up until a later round takes them.

    `gas_cc` of air was shut up with them in `vessel`; 0 where that is not known.
    """

    remainder: str
    absorber: str
    rating_cc: int
    count: int
    shut_at: datetime
    oldest_opening: datetime
    capacity_low_cc: float
    capacity_likely_cc: float
    taken: bool = False
    vessel: Vessel | None = None
    gas_cc: float = 0.0
    place: str = ""


@dataclass(frozen=True, slots=True)
class BookState:
    """The lots, packets, remainders and part-used label sheets of the record book."""

    lots: Mapping[str, Lot] = field(default_factory=_none)
    packets: Mapping[str, Packet] = field(default_factory=_none)
    remainders: Mapping[str, Remainder] = field(default_factory=_none)
    sheets: Mapping[str, int] = field(default_factory=_none)


# What belongs to one session ----------------------------------------------------------------------


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
class ProbeReading:
    """One temperature read on a load."""

    at: datetime
    temp_c: float
    probe: Probe


@dataclass(frozen=True, slots=True)
class FreezerReading:
    """What the thermometer of one freezer showed."""

    at: datetime
    temp_c: float
    freezer: int = 1


@dataclass(frozen=True, slots=True)
class Load:
    """One closed container of one lot on its way through the cold.

    `forecast_before` is what held until the last reading or neighbour changed it. `dose` is what
    the toughest life stage, `dose_stage`, had of its kill by the end of the cold.
    """

    load: str
    lot: str
    food_name: str
    container: str
    container_name: str
    mass_g: float
    figures: LoadFigures
    frozen: Reading
    forecast: ColdForecast
    readings: tuple[ProbeReading, ...] = ()
    forecast_before: ColdForecast | None = None
    taken_out: Reading | None = None
    room_at_take_out_c: float | None = None
    humidity_at_take_out: float | None = None
    held_h: float = 0.0
    dose: float | None = None
    dose_stage: str = ""
    short_reason: str = ""
    thaw: ThawForecast | None = None
    uncovered: Reading | None = None
    uncover_reason: str = ""


@dataclass(frozen=True, slots=True)
class RoomReading:
    """Temperature and, where known, relative humidity (0 to 1) of the room."""

    at: datetime
    temp_c: float
    relative_humidity: float | None


@dataclass(frozen=True, slots=True)
class Placed:
    """Absorbers in a pouch: how many of which rating, and what one had left (cc of oxygen) at `at`.

    `room_c` is the room's temperature they have been in since. Without `at` nothing is known of
    what came between placing and shutting.
    """

    rating_cc: int
    each: int
    capacity_low_cc: float
    capacity_likely_cc: float
    round: int
    at: datetime | None = None
    room_c: float = 21.0


class Closure(StrEnum):
    """How tight a pouch is about its absorbers."""

    OPEN = "open"
    GAP = "gap"
    PRESSED_SHUT = "pressed_shut"
    SEALED = "sealed"


@dataclass(frozen=True, slots=True)
class Turn:
    """A pouch became as tight as `closure` says, when so many groups of absorbers were in it."""

    reading: Reading
    closure: Closure
    placings: int


@dataclass(frozen=True, slots=True)
class SealCheck:
    """One look at the seams of a pouch; `utc_offset_min` makes its time the local one."""

    at: datetime
    verdict: SealVerdict
    utc_offset_min: int


@dataclass(frozen=True, slots=True)
class Pouch:
    """One pouch on its way from filled to checked.

    `filled_offset_min` is the local clock minus UTC where and when it was filled.
    `sealed` is when its newest seam was begun that still had to close it; `drawn_off` tells that
    the air went out through the gap left in it. `spent` and
    `earlier_checks` are what was in it, and how it felt, before it was opened again. `turns` tell
    how it was shut and opened since its absorbers came in.
    `mass_confirmed`: unlike the others of its line, and known to be so. `loads` are those its
    food came from, as in `PouchesFilled`. `against_advice` is why it was sealed, of a food that
    is never to be.
    """

    number: int
    line: int
    net_mass_g: float | None
    told_apart: bool
    filled_at: datetime
    filled_offset_min: int
    placed: tuple[Placed, ...] = ()
    shut: Reading | None = None
    seal_within_min: float = 0.0
    sealed: Reading | None = None
    seams: int = 0
    gap_left: bool = False
    drawn_off: bool = False
    labelled: bool = False
    pail: str = ""
    checks: tuple[SealCheck, ...] = ()
    aside: str = ""
    emptied: bool = False
    spent: tuple[Placed, ...] = ()
    earlier_checks: tuple[SealCheck, ...] = ()
    mass_confirmed: bool = False
    loads: tuple[str, ...] = ()
    turns: tuple[Turn, ...] = ()
    against_advice: str = ""

    @property
    def reopened(self) -> Reading | None:
        """When a pouch that stands open was opened again; None if it was never shut."""
        last = self.turns[-1] if self.turns else None
        return last.reading if last is not None and last.closure is Closure.OPEN else None

    @property
    def closed(self) -> bool:
        """Neither open to the hand nor to an absorber: pressed shut, or seamed but for a gap."""
        return self.shut is not None or self.sealed is not None

    @property
    def swollen(self) -> bool:
        """Whether the last look found it swollen: never to be opened, never to be eaten."""
        return bool(self.checks) and self.checks[-1].verdict is SealVerdict.SWOLLEN

    @property
    def gas_tight(self) -> bool:
        """A seam all along, made by heat."""
        return self.sealed is not None and not self.gap_left

    @property
    def stage(self) -> PouchStage:
        """The furthest this pouch has come."""
        if self.aside:
            return PouchStage.SET_ASIDE
        if self.checks:
            return PouchStage.SEAL_CHECKED
        if self.pail:
            return PouchStage.STOWED
        if self.gas_tight:
            return PouchStage.SEALED
        if self.closed:
            return PouchStage.PRESSED_SHUT
        if self.placed:
            return PouchStage.ABSORBERS_IN
        return PouchStage.FILLED


@dataclass(frozen=True, slots=True)
class Round:
    """From opening a packet, or taking a remainder, until its last absorber is shut in.

    `last_at` is when absorbers of it last went into a pouch; its start, if none has yet. `hands`
    people were to work at it.
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
    shut_up: bool = False
    hands: int = 1
    margin_min: float | None = None

    @property
    def left(self) -> int:
        """Absorbers of this round that lie open."""
        return 0 if self.shut_up else self.count - self.placed


@dataclass(frozen=True, slots=True)
class Pail:
    """A pail with pouches in it."""

    pail: str
    pouches: tuple[int, ...]
    lidded: bool = False


@dataclass(frozen=True, slots=True)
class Alarm:
    """A clock that has rung: for which instant, how late, and whether its sound was stopped."""

    clock: str
    due_at: datetime
    rang_at: datetime
    late_s: float
    silenced_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Count:
    """What a person counted beside what the tally says."""

    at: datetime
    line: int
    what: str
    counted: int
    tallied: int


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
    bypassed: Mapping[str, str] = field(default_factory=_none)
    loads: Mapping[str, Load] = field(default_factory=_none)
    freezer_readings: tuple[FreezerReading, ...] = ()
    freezers: Mapping[int, FreezerOutlook] = field(default_factory=_none)
    cold_rule: ColdRule = ColdRule.PLAIN
    room_readings: tuple[RoomReading, ...] = ()
    pouches: Mapping[int, Pouch] = field(default_factory=_none)
    tares: Mapping[str, float] = field(default_factory=_none)
    """Mass of an empty pouch (g) by its kind, where one was weighed."""
    lost_g: Mapping[int, float] = field(default_factory=_none)
    """Food spilled or spoiled (g) by plan line."""
    ready_for: tuple[int, ...] = ()
    hands: int = 1
    """How many people the last ready check counted at the counter."""
    alarm_heard: bool = False
    rounds: Mapping[int, Round] = field(default_factory=_none)
    labels_asked: LabelsAsked | None = None
    pails: Mapping[str, Pail] = field(default_factory=_none)
    numbers_printed: Mapping[int, int] = field(default_factory=_none)
    numbers_torn: Mapping[int, int] = field(default_factory=_none)
    alarms: Mapping[str, Alarm] = field(default_factory=_none)
    counts: tuple[Count, ...] = ()
    notes: tuple[str, ...] = ()
    closed_at: datetime | None = None
    worked_out: dict[tuple[Any, ...], Any] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    """What `once` has worked out from this session; no part of what is the case."""

    def working_pouches(self, line: int | None = None) -> tuple[Pouch, ...]:
        """Pouches that are neither set aside nor emptied, by number; of one line if given."""
        working = _working(self)
        return working if line is None else tuple(p for p in working if p.line == line)


@once
def _working(session: SessionState) -> tuple[Pouch, ...]:
    return tuple(pouch for _, pouch in sorted(session.pouches.items()) if not pouch.aside)


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
