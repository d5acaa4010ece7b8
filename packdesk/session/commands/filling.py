"""Orders at the scale."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.commands.command import Command


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
