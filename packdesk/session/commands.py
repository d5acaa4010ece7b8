"""What a person asks: orders in the imperative, with what was typed and chosen, nothing computed.

Each is decided by `decide`, which answers facts or a refusal. When it happened is said beside
the command, not in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from packdesk.session.figures import AgreedLine, LoadFigures
from packdesk.session.terms import (
    ColdRule,
    Feel,
    Indicator,
    LotVerdict,
    PacketCondition,
    Probe,
    ReadyItem,
    SealVerdict,
    Vessel,
)


@dataclass(frozen=True, slots=True)
class Command:
    """An order; its subclasses are named in the imperative."""


# Before -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class OpenSession(Command):
    """Begin a packing project; `units` is metric or us, `code` stands on its labels."""

    name: str
    units: str
    code: str


@dataclass(frozen=True, slots=True)
class ReceiveLot(Command):
    """Take a purchase of one food into the book, as looked at."""

    food: str
    food_name: str
    mass_g: float
    supplier_lot: str = ""
    verdict: LotVerdict = LotVerdict.ACCEPTED
    seen: str = ""


@dataclass(frozen=True, slots=True)
class LookAtLot(Command):
    """Look at a lot of the book again: what it is found to be now, and what was seen."""

    lot: str
    verdict: LotVerdict
    seen: str


@dataclass(frozen=True, slots=True)
class AgreePlan(Command):
    """Settle the plan lines with the figures they were shown with."""

    lines: tuple[AgreedLine, ...]
    numbered: bool
    elevation_m: float
    packing_temp_c: float
    pack_at: datetime | None = None


# Cold treatment and thaw equilibration ------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FreezeLoad(Command):
    """Put a closed container of a lot into the freezer.

    `confirmed`, here and below: what was questioned is so all the same.
    """

    lot: str
    container: str
    container_name: str
    mass_g: float
    figures: LoadFigures
    treat_c: float = -15.0
    hold_h: float = 72.0
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class BypassCold(Command):
    """Let a lot go without cold treatment, for a reason."""

    lot: str
    reason: str


@dataclass(frozen=True, slots=True)
class NoteCoreReading(Command):
    """Note what a probe in, or on the wall of, a load showed."""

    load: str
    temp_c: float
    probe: Probe = Probe.CORE
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class NoteFreezerReading(Command):
    """Note what a freezer's own thermometer showed."""

    temp_c: float
    freezer: int = 1
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class ChooseColdRule(Command):
    """Say which rule the cold is complete by: the plain hold, or the dose of the insects."""

    rule: ColdRule


@dataclass(frozen=True, slots=True)
class NoteRoomReading(Command):
    """Note room temperature and, if read, relative humidity (0 to 1)."""

    temp_c: float
    relative_humidity: float | None = None
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class TakeLoadOut(Command):
    """Take a load out of the freezer, lid on; a reason when its hold is not complete."""

    load: str
    room_c: float
    room_relative_humidity: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class UncoverLoad(Command):
    """Take the lid off a warmed load; a reason when its food may still be too cold."""

    load: str
    reason: str = ""


# Filling ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FillPouches(Command):
    """Count pouches of a plan line as filled, each with this mass if it was weighed.

    `net_mass_g` is the food alone; `shown_g` instead is what the scale showed, from which the
    empty pouch is taken off if one was weighed. `confirmed`: asked about, and right all the same.
    `loads` are those the food came from, in that order. Without them the open load of the lot is
    meant, if there is just one; of several nobody can know which.
    """

    line: int
    count: int = 1
    net_mass_g: float | None = None
    shown_g: float | None = None
    confirmed: bool = False
    loads: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WeighEmptyPouch(Command):
    """Take the mass of an empty pouch of this kind off whatever the scale shows from now on."""

    pouch: str
    tare_g: float


@dataclass(frozen=True, slots=True)
class NoteFoodLost(Command):
    """Note food of a plan line that was spilled or spoiled."""

    line: int
    mass_g: float
    reason: str


@dataclass(frozen=True, slots=True)
class RevisePlan(Command):
    """Plan another number of pouches of a plan line, as many as what is left will fill."""

    line: int
    count: int


@dataclass(frozen=True, slots=True)
class CheckReady(Command):
    """Everything for the round is at hand: pouches open and wiped, jar out, iron hot.

    `checked` are the things looked at one by one; `hands` people will work at the counter.
    """

    checked: tuple[ReadyItem, ...] = ()
    hands: int = 1


@dataclass(frozen=True, slots=True)
class OpenPacket(Command):
    """Open a sealed packet of absorbers and start its round; hard ones start none."""

    absorber: str
    rating_cc: int
    count: int
    condition: PacketCondition
    room_c: float
    indicator: Indicator = Indicator.NOT_SEEN
    feel: Feel = Feel.NOT_FELT


@dataclass(frozen=True, slots=True)
class TakeRemainder(Command):
    """Start a round with absorbers that were shut up before."""

    remainder: str
    room_c: float


@dataclass(frozen=True, slots=True)
class PlaceAbsorbers(Command):
    """Absorbers went into pouches; `shut`: pressed shut (with a zip) at the same time.

    Without `pouches` the next `count` open ones of the plan line are meant; with them their own
    plan line counts. Without `first_at` the work began when the last of this round ended.
    """

    line: int
    count: int
    pouches: tuple[int, ...] = ()
    first_at: datetime | None = None
    shut: bool = True


@dataclass(frozen=True, slots=True)
class ShutPouches(Command):
    """Pouches were pressed shut by zip or clip."""

    pouches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class ShutRemainder(Command):
    """Shut up what is left of a round; `count` when it was counted by hand.

    `vessel` None: not said, and no air is reckoned with.
    """

    round: int
    count: int | None = None
    vessel: Vessel | None = Vessel.PINT_JAR
    place: str = ""


@dataclass(frozen=True, slots=True)
class ReopenPouches(Command):
    """Open pouches again that were pressed shut, or cut open sealed ones; all stays in them."""

    pouches: tuple[int, ...]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class SwapPouches(Command):
    """Two numbered pouches were mixed up: exchange what is on record of them."""

    first: int
    second: int


# Sealing, labelling, after ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SealPouches(Command):
    """Heat seams were made; with `gap_left` a gap stays for drawing off air.

    `against_advice` is the reason that sealing a food marked never needs.
    """

    pouches: tuple[int, ...]
    seams: int = 2
    gap_left: bool = False
    against_advice: str = ""


@dataclass(frozen=True, slots=True)
class DrawOffAir(Command):
    """Air was drawn off through the gap of a seam."""

    pouches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class NoteLabelsMade(Command):
    """Labels were made as the PDF `file`; nobody has said yet how they came out.

    `line` is the plan line of labels with numbers alone, 0 for labels with everything.
    """

    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    next_cell: int
    reprint: bool = False
    line: int = 0
    file: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NoteLabelsPrinted(Command):
    """Labels were made, and `cells_used` places of the top sheet are gone after it."""

    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    cells_used: int
    reprint: bool = False


@dataclass(frozen=True, slots=True)
class NoteNumberLabels(Command):
    """Labels with numbers alone were made for pouches of a plan line, before filling.

    `cells_used` places of the top sheet are gone after it; `reprint`: some had one already.
    """

    line: int
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    cells_used: int
    reprint: bool = False


@dataclass(frozen=True, slots=True)
class StowPouches(Command):
    """Pouches went into a pail."""

    pail: str
    pouches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class LidPail(Command):
    """The lid went on a pail."""

    pail: str


@dataclass(frozen=True, slots=True)
class CheckSeals(Command):
    """Pouches were pressed and looked at."""

    pouches: tuple[int, ...]
    verdict: SealVerdict


@dataclass(frozen=True, slots=True)
class SetAside(Command):
    """Pouches leave the work for a reason; `emptied`: their food went back."""

    pouches: tuple[int, ...]
    reason: str
    emptied: bool = False


@dataclass(frozen=True, slots=True)
class ReturnPouches(Command):
    """Pouches set aside come back, open, to be shut or sealed anew."""

    pouches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CloseSession(Command):
    """Finish the session."""

    remark: str = ""


# At any time --------------------------------------------------------------------------------------


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
