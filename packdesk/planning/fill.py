"""How much goes into one pouch, how many pouches that makes, and what the last one holds."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from packdesk.catalog.foods import Food
from packdesk.catalog.pails import Pail
from packdesk.catalog.pouches import Pouch, PouchKind
from packdesk.physics import pouch as geometry
from packdesk.physics.ranges import OutOfRange, within
from packdesk.units import System

OUNCE_G = 28.349523125
"""Exact, by definition of the international pound."""

_ALMOST = 1e-9
"""Two masses this close, as a share of a step, are the same: only rounding parts them."""

# Common practice, no source: from so many grams on a person sets a scale in steps of so many.
_USUAL_STEPS_G = {
    System.METRIC: ((5000.0, 500.0), (1000.0, 100.0), (250.0, 50.0), (0.0, 10.0)),
    System.US: ((0.0, OUNCE_G),),
}
_STEPS_G = {
    System.METRIC: (500.0, 100.0, 50.0, 20.0, 10.0, 5.0, 1.0),
    System.US: (OUNCE_G, OUNCE_G / 2.0, OUNCE_G / 5.0, OUNCE_G / 10.0),
}
"""Every step in use, coarse to fine: finer than usual is better than a last pouch nearly empty."""

_ANY_MASS_G = (0.1, 1e7)

FULL_ENOUGH = 1.0 / 3.0
"""What share of the others the last pouch should hold at least (own judgement, no source)."""


@dataclass(frozen=True, slots=True)
class Fills:
    """So many pouches: all hold ``fill_mass_g`` but the last, which holds what is left."""

    count: int
    fill_mass_g: float
    last_mass_g: float


def settled_density_g_per_cc(food: Food) -> float:
    """How dense a food lies once tapped down; never denser than its own substance."""
    settled = food.bulk_density_g_per_cc * food.settling_factor
    return min(settled, food.solid_density_g_per_cc)


def capacity_l(pouch: Pouch, pail: Pail | None = None) -> float:
    """How much settled food a pouch takes, by its geometry, seam and headspace.

    A liner is reckoned standing in ``pail`` and needs one (``ValueError``). Raises ``OutOfRange``
    for a pouch too small to be filled at all.
    """
    if pouch.kind is PouchKind.LINER:
        if pail is None:
            raise ValueError("A liner takes its shape from its pail; say which pail it stands in.")
        return _liner_capacity_l(pouch, pail, pouch.height_mm)
    if pouch.kind is PouchKind.GUSSETED:
        return geometry.gusseted_capacity_l(
            pouch.width_mm, pouch.height_mm, pouch.gusset_mm, pouch.seam_mm, pouch.headspace_mm
        )
    return geometry.flat_capacity_l(
        pouch.width_mm, pouch.height_mm, pouch.seam_mm, pouch.headspace_mm
    )


_TALLEST_LINER_MM = 2000.0


def _liner_capacity_l(liner: Pouch, pail: Pail, height_mm: float) -> float:
    return geometry.liner_capacity_l(
        liner.width_mm,
        height_mm,
        liner.seam_mm,
        liner.headspace_mm,
        pail_top_diameter_mm=pail.top_diameter_mm,
        pail_bottom_diameter_mm=pail.bottom_diameter_mm,
        pail_height_mm=pail.inner_height_mm,
        lid_gap_mm=pail.inner_height_mm - pail.usable_depth_mm,
    )


def pail_for_liner(liner: Pouch, pails: Iterable[Pail]) -> Pail | None:
    """The largest pail that a liner still closes over when filled up to the lid's gap; else None.

    Where it closes over none of them filled so far, the smallest pail that it goes into at all.
    """
    closes, goes_in = [], []
    for pail in pails:
        try:
            holds_l = capacity_l(liner, pail)
        except OutOfRange:
            continue
        goes_in.append(pail)
        if holds_l > _liner_capacity_l(liner, pail, _TALLEST_LINER_MM) - _ALMOST:
            closes.append(pail)
    if closes:
        return max(closes, key=lambda each: each.usable_volume_l)
    return min(goes_in, key=lambda each: each.usable_volume_l, default=None)


def weighed_down_g(mass_g: float, units: System) -> float:
    """The greatest round mass up to ``mass_g`` that a person sets a scale to.

    A mass below the smallest step is handed back as it is.
    """
    step = _usual_step_g(mass_g, units)
    return math.floor(mass_g / step + _ALMOST) * step or mass_g


def even_fills(mass_g: float, most_g: float, units: System) -> Fills:
    """How a mass is spread over the fewest pouches that take up to ``most_g`` each.

    All get the same round mass and the last one the rest. The mass is as round as it can be while
    the last pouch is at least a third full; ``most_g`` is never gone beyond.
    """
    mass = within("mass_g", mass_g, *_ANY_MASS_G, "g")
    most = within("most_g", most_g, *_ANY_MASS_G, "g")
    even = mass / _count(mass, most)
    fills = set_fills(mass, most)
    for step in _STEPS_G[units]:
        if step <= _usual_step_g(even, units) * (1.0 + _ALMOST):
            fills = set_fills(mass, min(most, math.ceil(even / step - _ALMOST) * step))
            if fills.last_mass_g >= (FULL_ENOUGH - _ALMOST) * fills.fill_mass_g:
                break
    return fills


def set_fills(mass_g: float, fill_mass_g: float) -> Fills:
    """How many pouches a mass makes when each holds ``fill_mass_g`` and the last one the rest."""
    mass = within("mass_g", mass_g, *_ANY_MASS_G, "g")
    fill = within("fill_mass_g", fill_mass_g, *_ANY_MASS_G, "g")
    count = _count(mass, fill)
    last = min(mass - (count - 1) * fill, fill)
    return Fills(count, min(fill, mass), last)


def _count(mass_g: float, fill_g: float) -> int:
    return max(1, math.ceil(mass_g / fill_g - _ALMOST))


def _usual_step_g(mass_g: float, units: System) -> float:
    return next(step for reached, step in _USUAL_STEPS_G[units] if mass_g >= reached)
