"""One pouch on its way from filled to checked: what is in it, how tight it is, how it felt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from packdesk.instants import Reading
from packdesk.session.terms import PouchStage, SealVerdict

MOST_SEAMS = 2
"""Two seams close a pouch: the second stands in when the first leaks."""


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
    is never to be. `out_of` is the pail it was in when it was set aside. `turn` is its place in the
    order of filling; `left_g` what was left for it (g), where that was less than the others hold.
    `back` is when it came back into work, open, after it had been further than filled.
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
    out_of: str = ""
    turn: int = 0
    left_g: float | None = None
    back: Reading | None = None

    @property
    def reopened(self) -> Reading | None:
        """When a pouch that stands open was opened again; None if it was never shut."""
        last = self.turns[-1] if self.turns else None
        return last.reading if last is not None and last.closure is Closure.OPEN else None

    @property
    def back_and_open(self) -> bool:
        """Whether it came back from further than filled, and no absorber is in it since."""
        return self.back is not None and self.stage is PouchStage.FILLED

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
