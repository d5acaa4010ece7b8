"""What outlives a session: the lots, packets and remainders of the record book, as they stand.

Folded from facts, as all of `state` is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from types import MappingProxyType
from typing import Any

from packdesk.instants import Reading
from packdesk.session.terms import Feel, Indicator, LotVerdict, PacketCondition, Vessel


def empty() -> Mapping[Any, Any]:
    """A mapping that holds nothing and never will."""
    return MappingProxyType({})


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

    `gas_cc` of air was shut up with them in `vessel`; 0 where that is not known. `packet` is the
    one they came from first; empty where that is not known.
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
    packet: str = ""


@dataclass(frozen=True, slots=True)
class BookState:
    """The lots, packets, remainders and part-used label sheets of the record book."""

    lots: Mapping[str, Lot] = field(default_factory=empty)
    packets: Mapping[str, Packet] = field(default_factory=empty)
    remainders: Mapping[str, Remainder] = field(default_factory=empty)
    sheets: Mapping[str, int] = field(default_factory=empty)
