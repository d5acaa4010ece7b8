"""How a lot is divided into freezer loads, and what the heat reckoning of one load rests on."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packdesk.catalog.foods import Food
from packdesk.catalog.pails import Pail
from packdesk.physics.ranges import within
from packdesk.planning.fill import even_fills, settled_density_g_per_cc, weighed_down_g
from packdesk.units import Dimension, System, say

FREEZER_COEFFICIENT_W_M2_K = 8.0
ROOM_COEFFICIENT_W_M2_K = 9.0
"""Convection and radiation on a pail in free air, 6 to 10 W/m²K (computed with the correlation of
Churchill and Chu for a plate); pails that touch each other or the walls lose less."""

TOUCHING_COEFFICIENT_W_M2_K = 5.0
STACKED_COEFFICIENT_W_M2_K = 4.0
"""Pails that touch each other or a wall, and such that stand on one another (3 to 6, a guess, no
source; see ``physics.heat_bodies.Surroundings``)."""

USUAL_SPARE_POWER_W = 60.0
USUAL_FROZEN_KG = 10.0
"""What a household freezer draws out beyond its own losses, and what lies frozen in it (orders of
magnitude, no source; see ``physics.freezer``)."""

LID_AND_FLOOR_MM = 15.0
"""What a pail is taller outside than inside, its lid on (common practice, no source)."""


class DoesNotFit(ValueError):
    """A load that its container cannot hold; the message says by how much and what helps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PailLoad:
    """One pail of one food as the heat reckoning takes it: a cylinder of the pail's mean width."""

    radius_mm: float
    fill_height_mm: float
    conductivity_w_m_k: float
    heat_capacity_j_kg_k: float
    bulk_density_kg_m3: float
    freezer_coefficient_w_m2_k: float = FREEZER_COEFFICIENT_W_M2_K
    room_coefficient_w_m2_k: float = ROOM_COEFFICIENT_W_M2_K
    start_temp_c: float
    freezer_temp_c: float
    container_height_mm: float | None = None


def pail_holds_g(food: Food, pail: Pail) -> float:
    """How much of a food a pail takes as poured, without tapping it down."""
    return pail.usable_volume_l * 1000.0 * food.bulk_density_g_per_cc


def pail_loads(
    mass_g: float, food: Food, pail: Pail, units: System = System.METRIC
) -> tuple[float, ...]:
    """How a lot is divided into the fewest pails: alike, so that they are cold at the same time.

    The masses add up to ``mass_g``; each goes in as poured.
    """
    fills = even_fills(mass_g, pail_holds_g(food, pail), units)
    return (*(fills.fill_mass_g,) * (fills.count - 1), fills.last_mass_g)


def load_figures(
    food: Food,
    pail: Pail,
    mass_g: float,
    *,
    start_temp_c: float,
    freezer_temp_c: float,
    freezer_coefficient_w_m2_k: float = FREEZER_COEFFICIENT_W_M2_K,
    units: System = System.METRIC,
) -> PailLoad:
    """What the heat reckoning of ``mass_g`` of a food in a pail rests on.

    The food is taken as settled. Raises ``DoesNotFit`` for more than the pail holds tapped down.
    """
    return PailLoad(
        radius_mm=pail.inner_diameter_mm / 2.0,
        fill_height_mm=fill_height_mm(food, pail, mass_g, units),
        conductivity_w_m_k=food.bed_conductivity_w_m_k,
        heat_capacity_j_kg_k=food.heat_capacity_j_kg_k,
        bulk_density_kg_m3=settled_density_g_per_cc(food) * 1000.0,
        freezer_coefficient_w_m2_k=freezer_coefficient_w_m2_k,
        start_temp_c=within("start_temp_c", start_temp_c, -60.0, 50.0, "°C"),
        freezer_temp_c=within("freezer_temp_c", freezer_temp_c, -90.0, 5.0, "°C"),
        container_height_mm=pail.inner_height_mm + LID_AND_FLOOR_MM,
    )


def fill_height_mm(food: Food, pail: Pail, mass_g: float, units: System = System.METRIC) -> float:
    """How high ``mass_g`` of a food, settled, stands in a pail of the pail's mean width.

    Raises ``DoesNotFit`` for more than the pail holds tapped down.
    """
    mass = within("mass_g", mass_g, 1.0, 1e6, "g")
    density = settled_density_g_per_cc(food)
    most_g = pail.usable_volume_l * 1000.0 * density
    if mass > most_g * (1.0 + 1e-9):
        holds = say(weighed_down_g(most_g, units), Dimension.MASS, units, 100.0)
        asked = say(mass, Dimension.MASS, units, 100.0)
        raise DoesNotFit(
            f"{asked} of {food.name} is more than this pail takes: {holds} at most. Divide it "
            f"over {len(pail_loads(mass, food, pail, units))} pails or take a larger one."
        )
    return mass / density * 1000.0 / (math.pi * (pail.inner_diameter_mm / 2.0) ** 2)


def stands_in(pail: Pail, clear_height_mm: float) -> bool:
    """Whether a lidded pail stands upright in a freezer of this height inside."""
    return pail.inner_height_mm + LID_AND_FLOOR_MM <= clear_height_mm
