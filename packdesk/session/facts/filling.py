"""What happened at the scale."""

from __future__ import annotations

from typing import ClassVar

from packdesk.session.fact import Fact


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
