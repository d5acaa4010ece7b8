"""What happened in a round: ready check, packet, absorbers into pouches, the jar for the rest."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar
from uuid import UUID

from packdesk.session.fact import BookFact, Fact
from packdesk.session.terms import Feel, Indicator, OpenLimit, PacketCondition, ReadyItem, Vessel


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
    `margin_min` the first of the two alone (None: not known, or no margin to use up); `more_each`
    where as many as planned would leave too little time, and it is reckoned with more in a pouch;
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
    more_each: bool = False


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


class AbsorbersFelt(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """More absorbers were left of a round than reckoned, so its `pouches` were felt for theirs.

    Those `without` any are open from then on, and lack what they were thought to have of it.
    """

    kind: ClassVar[str] = "absorbers_felt"
    round: int
    pouches: tuple[int, ...]
    without: tuple[int, ...] = ()


class PouchesSwapped(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Two numbered pouches had been mixed up: what was recorded of each is the other's."""

    kind: ClassVar[str] = "pouches_swapped"
    first: int
    second: int


class RemainderShut(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The absorbers left of a round were shut up again; the round is over.

    `gas_cc` is the air shut up with them in `vessel` (0: not known, none is reckoned with), `place`
    where that stands. `reckoned` is what the record says was left, where another count was found;
    `packet` the one they came from first (empty: not known).
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
    packet: str = ""
