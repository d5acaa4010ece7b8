"""Orders of a round: ready check, packet, absorbers into pouches, the jar for the rest."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from packdesk.session.commands.command import Command
from packdesk.session.terms import Feel, Indicator, PacketCondition, ReadyItem, Vessel


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
    plan line counts. Without `first_at` the work began when the last absorber before them went in.
    Without `round` they are of the one whose turn it is (`session.lacking`). Without `each` as many
    go into every pouch as it lacks; with it so many, as where a packet is doubted.
    """

    line: int
    count: int
    pouches: tuple[int, ...] = ()
    first_at: datetime | None = None
    shut: bool = True
    round: int | None = None
    each: int | None = None


@dataclass(frozen=True, slots=True)
class ShutPouches(Command):
    """Pouches were pressed shut by zip or clip."""

    pouches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class ReopenPouches(Command):
    """Open pouches again that were pressed shut, or cut open sealed ones; all stays in them."""

    pouches: tuple[int, ...]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class FeelAbsorbers(Command):
    """The pouches of a round that may have no absorber were felt: those `without` have none."""

    round: int
    without: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class SwapPouches(Command):
    """Two numbered pouches were mixed up: exchange what is on record of them."""

    first: int
    second: int


@dataclass(frozen=True, slots=True)
class ShutRemainder(Command):
    """Shut up what is left of a round; `count` when it was counted by hand.

    `vessel` None: not said, and no air is reckoned with.
    """

    round: int
    count: int | None = None
    vessel: Vessel | None = Vessel.PINT_JAR
    place: str = ""
