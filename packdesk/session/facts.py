"""Every kind of fact a record can hold, in the order of a session; the words are the format."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar
from uuid import UUID

from packdesk.session.fact import BookFact, Fact, Home, concrete_kinds
from packdesk.session.figures import (
    AgreedLine,
    ColdForecast,
    FreezerOutlook,
    LoadFigures,
    LoadOutlook,
    ThawForecast,
)
from packdesk.session.terms import (
    ColdRule,
    Feel,
    Indicator,
    LotVerdict,
    OpenLimit,
    PacketCondition,
    Probe,
    ReadyItem,
    SealVerdict,
    Vessel,
)

# Before ------------------------------------------------------------------------------------------


class SessionOpened(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A packing project began. `code` stands on its labels; `units` is metric or us."""

    kind: ClassVar[str] = "session_opened"
    name: str
    code: str
    units: str


class LotReceived(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One purchase of one food was looked at: accepted, quarantined or refused."""

    kind: ClassVar[str] = "lot_received"
    lot: str
    food: str
    food_name: str
    mass_g: float
    supplier_lot: str
    verdict: LotVerdict
    seen: str = ""


class LotLookedAt(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A lot of the book was looked at again; the newest verdict holds. `seen` is why."""

    kind: ClassVar[str] = "lot_looked_at"
    lot: str
    food_name: str
    verdict: LotVerdict
    seen: str


class PlanAgreed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The plan lines were agreed. A later one replaces an earlier one."""

    kind: ClassVar[str] = "plan_agreed"
    lines: tuple[AgreedLine, ...]
    numbered: bool
    elevation_m: float
    packing_temp_c: float
    pack_at: datetime | None = None


# Cold treatment and thaw equilibration -----------------------------------------------------------


class LoadFrozen(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One closed container of one lot went into the freezer.

    `outlooks` are those of the loads in there already, which it keeps waiting. `confirmed`: it
    was questioned, for its height or its heat, and went in all the same.
    """

    kind: ClassVar[str] = "load_frozen"
    load: str
    lot: str
    food_name: str
    container: str
    container_name: str
    mass_g: float
    figures: LoadFigures
    forecast: ColdForecast
    outlooks: tuple[LoadOutlook, ...] = ()
    freezer: FreezerOutlook | None = None
    confirmed: bool = False


class LotBypassedCold(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A lot needs no cold treatment, for a stated reason."""

    kind: ClassVar[str] = "lot_bypassed_cold"
    lot: str
    reason: str


class ColdRuleChosen(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A person chose which rule says when the cold of this session's loads is complete."""

    kind: ClassVar[str] = "cold_rule_chosen"
    rule: ColdRule


class CoreRead(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A probe at the core, or at the outside wall, of a load was read.

    `confirmed`, here and in the two that follow: it was far from what is reckoned, and stands.
    """

    kind: ClassVar[str] = "core_read"
    load: str
    temp_c: float
    probe: Probe
    outlook: LoadOutlook
    confirmed: bool = False


class FreezerRead(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The freezer's own thermometer was read; every load in it has a new outlook."""

    kind: ClassVar[str] = "freezer_read"
    temp_c: float
    outlooks: tuple[LoadOutlook, ...]
    freezer: int = 1
    freezer_outlook: FreezerOutlook | None = None
    confirmed: bool = False


class LoadTakenOut(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A load left the freezer, still closed. `held_h` counts the lag in the closed pail.

    `reason` is given when the cold ended before it was complete by `rule`: held for `needed_h`,
    or a whole `dose` (1) for `dose_stage`, the toughest life stage; None: not reckoned.
    """

    kind: ClassVar[str] = "load_taken_out"
    load: str
    held_h: float
    needed_h: float
    reason: str
    forecast: ThawForecast
    rule: ColdRule = ColdRule.PLAIN
    dose: float | None = None
    dose_stage: str = ""
    outlooks: tuple[LoadOutlook, ...] = ()
    freezer: FreezerOutlook | None = None


class RoomRead(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Room temperature and, where known, humidity were read; warming loads have a new outlook."""

    kind: ClassVar[str] = "room_read"
    temp_c: float
    relative_humidity: float | None
    outlooks: tuple[LoadOutlook, ...]
    confirmed: bool = False


class LoadUncovered(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The lid came off a load. `reason` is given when its food was still below the limit.

    `core_c` is its coldest food (°C), which in a load taken out early is not the middle.
    """

    kind: ClassVar[str] = "load_uncovered"
    load: str
    core_c: float
    open_above_c: float
    reason: str


# Filling -----------------------------------------------------------------------------------------


class PouchesFilled(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches of one plan line were filled. `net_mass_g` is each one's mass when it was weighed.

    `told_apart`: numbered working, where what follows holds for single pouches; otherwise the
    pouches of the group are alike and figures hold for the group. `tare_g` is the mass of the
    empty pouch that was taken off what the scale showed, None where it showed the food alone.
    `confirmed`: the mass was unlike the others, was asked about, and is right. `loads`: the food
    came from these, in that order; more than one where a pouch took the last of a load and the
    first of the next. Empty: not known, or of a lot that needed no cold.
    `utc_offset_min` is the local clock minus UTC at the filling, None where it was the same when
    it was noted.
    """

    kind: ClassVar[str] = "pouches_filled"
    line: int
    pouches: tuple[int, ...]
    net_mass_g: float | None
    told_apart: bool
    tare_g: float | None = None
    confirmed: bool = False
    loads: tuple[str, ...] = ()
    utc_offset_min: int | None = None


class EmptyPouchWeighed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """An empty pouch of one kind was weighed; 0: the scale shows the food alone from now on."""

    kind: ClassVar[str] = "empty_pouch_weighed"
    pouch: str
    pouch_name: str
    tare_g: float


class FoodLost(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Food of a plan line was spilled or spoiled and goes into no pouch."""

    kind: ClassVar[str] = "food_lost"
    line: int
    food_name: str
    mass_g: float
    reason: str


class ReadyChecked(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Everything for a round was looked over before the packet was opened.

    `checked` are the things looked at one by one; none where all was said to be ready at once.
    `most_in_time` pouches can be shut within `limit_min` minutes at `pace_s` seconds a pouch,
    which was `measured` in this session or is what is usual for so many `hands` (people); 0: not
    reckoned.
    """

    kind: ClassVar[str] = "ready_checked"
    pouches: tuple[int, ...]
    checked: tuple[ReadyItem, ...] = ()
    hands: int = 1
    pace_s: float = 0.0
    measured: bool = False
    limit_min: float = 0.0
    most_in_time: int = 0


class PacketOpened(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A sealed packet of `count` absorbers of `rating_cc` (cc of oxygen each) was opened.

    Hard absorbers are spent: no round follows.
    """

    kind: ClassVar[str] = "packet_opened"
    packet: str
    absorber: str
    rating_cc: int
    count: int
    condition: PacketCondition
    indicator: Indicator = Indicator.NOT_SEEN
    feel: Feel = Feel.NOT_FELT


class RemainderTaken(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Absorbers that had been shut up were taken out of their jar for a round of `session`."""

    kind: ClassVar[str] = "remainder_taken"
    session: UUID
    remainder: str


class RoundStarted(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A round began with an opened packet or a remainder.

    `limit_min` minutes in open air is the earlier of the margin used up and the practice cap,
    `margin_min` the first of the two alone (None: not known, or no margin to use up);
    `capacity_cc` is what one absorber still takes up at the start (low, likely).
    """

    kind: ClassVar[str] = "round_started"
    round: int
    source: str
    rating_cc: int
    count: int
    capacity_low_cc: float
    capacity_likely_cc: float
    limit: OpenLimit
    limit_min: float
    room_c: float
    margin_min: float | None = None


class AbsorbersPlaced(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """`each` absorbers of the round went into each of the pouches between two instants.

    The capacity is what one absorber had left at `last_at`, low and likely (cc of oxygen).
    """

    kind: ClassVar[str] = "absorbers_placed"
    round: int
    pouches: tuple[int, ...]
    each: int
    first_at: datetime
    last_at: datetime
    capacity_low_cc: float
    capacity_likely_cc: float


class PouchesShut(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches were pressed shut by zip or clip: not gas-tight, so the iron follows in time."""

    kind: ClassVar[str] = "pouches_shut"
    pouches: tuple[int, ...]
    seal_within_min: float


class PouchesReopened(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches pressed shut or sealed were opened again, what was in them left in."""

    kind: ClassVar[str] = "pouches_reopened"
    pouches: tuple[int, ...]
    reason: str = ""


class PouchesSwapped(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Two numbered pouches had been mixed up: what was recorded of each is the other's."""

    kind: ClassVar[str] = "pouches_swapped"
    first: int
    second: int


class RemainderShut(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The absorbers left of a round were shut up again; the round is over.

    `gas_cc` is the air shut up with them in `vessel` (0: not known, none is reckoned with), `place`
    where that stands. `reckoned` is what the record says was left, where another count was found.
    """

    kind: ClassVar[str] = "remainder_shut"
    session: UUID
    round: int
    remainder: str
    absorber: str
    rating_cc: int
    count: int
    oldest_opening: datetime
    capacity_low_cc: float
    capacity_likely_cc: float
    vessel: Vessel | None = None
    gas_cc: float = 0.0
    place: str = ""
    reckoned: int | None = None


# Sealing -----------------------------------------------------------------------------------------


class PouchesSealed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A seam was made by heat. `gap_left`: not yet closed all along, for drawing off air.

    A gap is to be closed within `close_within_min` minutes; 0 where none was left.
    `against_advice`: why a food that is never to be sealed was sealed all the same.
    """

    kind: ClassVar[str] = "pouches_sealed"
    pouches: tuple[int, ...]
    seams: int
    gap_left: bool
    close_within_min: float = 0.0
    against_advice: str = ""


class AirDrawnOff(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Air was drawn off through the gap left in a seam."""

    kind: ClassVar[str] = "air_drawn_off"
    pouches: tuple[int, ...]


# Labelling ---------------------------------------------------------------------------------------


class LabelsMade(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Labels were made as the PDF `file`; until `LabelsPrinted` is asked how they came out.

    They go on from `first_cell` (counted from 0) of a sheet of `stock`; `next_cell` is the first
    free place of the last sheet after them. `line` is the plan line of labels with numbers
    alone, made before filling; 0 for labels with everything.
    """

    kind: ClassVar[str] = "labels_made"
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    next_cell: int
    reprint: bool
    line: int = 0
    file: str = ""
    remarks: tuple[str, ...] = ()


class LabelsPrinted(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Labels were made for pouches, from `first_cell` (counted from 0) of a sheet of `stock`."""

    kind: ClassVar[str] = "labels_printed"
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    reprint: bool


class NumberLabelsPrinted(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Labels with numbers alone were made for pouches of a plan line that are still to be filled.

    They lie from `first_cell` (counted from 0) of a sheet of `stock`; a pouch that bears one is
    not labelled by it: what is in it is said by the later label with everything.
    """

    kind: ClassVar[str] = "number_labels_printed"
    line: int
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    reprint: bool


class StockSheetUsed(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Places of the label sheet on top were used: `cells` are gone now, 0 on a fresh sheet."""

    kind: ClassVar[str] = "stock_sheet_used"
    stock: str
    cells: int


# After -------------------------------------------------------------------------------------------


class PouchesStowed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches were put into a pail."""

    kind: ClassVar[str] = "pouches_stowed"
    pail: str
    pouches: tuple[int, ...]


class PailLidded(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The lid went on a pail; `net_mass_g` is what its pouches hold together."""

    kind: ClassVar[str] = "pail_lidded"
    pail: str
    net_mass_g: float


class SealChecked(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Seams were checked: how the pouches felt. A swollen one is thereby set aside for good."""

    kind: ClassVar[str] = "seal_checked"
    session: UUID
    pouches: tuple[int, ...]
    verdict: SealVerdict


class PouchesSetAside(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches left the line of work for a reason; `emptied`: their food went back to the lot."""

    kind: ClassVar[str] = "pouches_set_aside"
    pouches: tuple[int, ...]
    emptied: bool
    reason: str


class PouchesReturned(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches set aside came back to the work: open again, to be shut or sealed anew."""

    kind: ClassVar[str] = "pouches_returned"
    pouches: tuple[int, ...]


class SessionClosed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The session is finished."""

    kind: ClassVar[str] = "session_closed"
    remark: str = ""


# At any time -------------------------------------------------------------------------------------


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
    """

    kind: ClassVar[str] = "fact_voided"
    of: Home
    targets: tuple[UUID, ...]
    reason: str
    mistap: bool
    session: UUID | None = None

    @property
    def home(self) -> Home:
        """A voiding lies in the stream of what it voids."""
        return self.of


KINDS: dict[str, type[Fact]] = concrete_kinds(Fact)
"""Every fact class by the word that the record keeps."""
