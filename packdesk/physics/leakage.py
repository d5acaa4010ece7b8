"""How much oxygen comes through a pouch's film, and how long that takes to matter.

The film gets a verdict of its own: absorbers are there for the air shut in and one year's leakage;
thirty years of a leaky film are beyond them.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import overload

import numpy as np

from packdesk.physics import air
from packdesk.physics.air import DRY_AIR_OXYGEN_FRACTION, ROOM_TEMP_C, STANDARD_PRESSURE_PA
from packdesk.physics.ranges import Quantity, plain, within

LOW_OXYGEN_FRACTION = 0.01
"""Up to here a pouch counts as low in oxygen: below 1 % held for 12 days kills all stages of
storage insects (Utah State University Extension, insects in stored food)."""

_MOST_GAS_CC = 1e6


class RatedIn(StrEnum):
    """What stood on the far side of a film when its oxygen transmission was measured."""

    PURE_OXYGEN = "pure oxygen"
    """One atmosphere of oxygen (the usual way: ASTM D3985, from memory)."""

    AIR = "air"
    """Air at sea level, so a fifth of an atmosphere of oxygen."""


def pouch_film_area_m2(width_mm: float, height_mm: float) -> float:
    """How much film oxygen can come through: both faces of a flat pouch, in square metres.

    Symbols: ``width_mm`` and ``height_mm`` between the seams, mm, 10 to 2000.
    Source: geometry.
    Example: 10 by 14 inches, 2 × 0.254 × 0.3556 = 0.181 m², worked by hand.

    >>> f"{pouch_film_area_m2(254.0, 355.6):.3f}"
    '0.181'

    Limits: the seams' edges, where oxygen creeps in through the sealant, are left out.
    """
    width = within("width_mm", width_mm, 10.0, 2000.0, "mm")
    return 2e-6 * width * within("height_mm", height_mm, 10.0, 2000.0, "mm")


@overload
def leak_cc_per_year(
    transmission_cc_per_m2_day: float,
    area_m2: float,
    rated_in: RatedIn = RatedIn.PURE_OXYGEN,
    *,
    pressure_pa: float = STANDARD_PRESSURE_PA,
    counted_at_temp_c: float = 0.0,
) -> float: ...
@overload
def leak_cc_per_year(
    transmission_cc_per_m2_day: Quantity,
    area_m2: Quantity,
    rated_in: RatedIn = RatedIn.PURE_OXYGEN,
    *,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    counted_at_temp_c: float = 0.0,
) -> Quantity: ...
def leak_cc_per_year(
    transmission_cc_per_m2_day: Quantity,
    area_m2: Quantity,
    rated_in: RatedIn = RatedIn.PURE_OXYGEN,
    *,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    counted_at_temp_c: float = 0.0,
) -> Quantity:
    """How much oxygen comes through the film in the first year, while there is none inside.

    Symbols: ``transmission_cc_per_m2_day`` the film's rating, 0 to 20,000 cc per m² and day, driven
    by one atmosphere of pure oxygen or by air, as ``rated_in`` says; ``area_m2`` 0 to 20;
    ``pressure_pa`` where the pouch is stored, Pa, 50,000 to 110,000; ``counted_at_temp_c`` at which
    the rating's cc are counted, 0 to 30 °C (standard conditions, 0 °C, in ASTM D3985, from memory).
    The answer is in reference cc.
    Source: the flow is in proportion to the difference in oxygen pressure; outside stand 20.95 % of
    the local pressure.
    Example: 0.6 cc/m²·day over 0.181 m² is 0.6 × 0.181 × 365.25 = 39.7 cc a year if rated in air,
    and 0.2095 of it, 8.3 cc, if rated in pure oxygen (worked by hand, counted at 25 °C).

    >>> f"{leak_cc_per_year(0.6, 0.181, RatedIn.AIR, counted_at_temp_c=25.0):.1f}"
    '39.7'
    >>> f"{leak_cc_per_year(0.6, 0.181, RatedIn.PURE_OXYGEN, counted_at_temp_c=25.0):.1f}"
    '8.3'

    Limits: the flat, unflexed film at the temperature of its test (23 °C as a rule); folds and
    pinholes in a foil let in more than the film itself, and so does a poor seam.
    """
    rating = within("transmission_cc_per_m2_day", transmission_cc_per_m2_day, 0.0, 2e4, "cc/m²·day")
    area = within("area_m2", area_m2, 0.0, 20.0, "m²")
    outside = within("pressure_pa", pressure_pa, 50_000.0, 110_000.0, "Pa") / STANDARD_PRESSURE_PA
    counted = within("counted_at_temp_c", counted_at_temp_c, 0.0, 30.0, "°C")
    if rated_in is RatedIn.PURE_OXYGEN:
        outside = outside * DRY_AIR_OXYGEN_FRACTION
    return plain(rating * area * 365.25 * outside * air.reference_cc_per_cc(counted))


def _filling_time(fraction: Quantity) -> Quantity:
    """Time to fill nitrogen with oxygen up to a share, in units of (nitrogen / leak).

    With N of inert gas and a share y of oxygen (so N y / (1 − y) of oxygen in a pouch that gives
    way), N dy / (1 − y)² = L (1 − y/a) dt, a the share outside: integrated by partial fractions.
    """
    a, y = DRY_AIR_OXYGEN_FRACTION, fraction
    slowing = np.log1p(-y) - np.log1p(-y / a)
    return plain(a * (slowing / (1.0 - a) ** 2 - y / (1.0 - y) / (1.0 - a)))


@overload
def years_to_fraction(
    air_cc: float,
    leak_cc_per_year: float,
    target_fraction: float = LOW_OXYGEN_FRACTION,
    *,
    spare_cc: float = 0.0,
    temp_c: float = ROOM_TEMP_C,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> float: ...
@overload
def years_to_fraction(
    air_cc: Quantity,
    leak_cc_per_year: Quantity,
    target_fraction: Quantity = LOW_OXYGEN_FRACTION,
    *,
    spare_cc: Quantity = 0.0,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
) -> Quantity: ...
def years_to_fraction(
    air_cc: Quantity,
    leak_cc_per_year: Quantity,
    target_fraction: Quantity = LOW_OXYGEN_FRACTION,
    *,
    spare_cc: Quantity = 0.0,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
) -> Quantity:
    """How many years a film keeps a pouch below a share of oxygen: the film's own verdict.

    Symbols: ``air_cc`` shut in before absorption, 0.001 to 1,000,000; ``leak_cc_per_year`` as the
    function of that name, 0 to 100,000 (0 keeps for ever: infinity); ``target_fraction`` of oxygen,
    0 to 0.2; ``spare_cc`` of absorber left after the air's own oxygen, reference cc, 0 to
    1,000,000, which goes first; ``temp_c`` and ``pressure_pa`` of the air as it was shut in, −40 to
    50 °C and 50,000 to 110,000 Pa.
    Source: mass balance; the leak falls as oxygen gathers inside, in proportion to what is still
    missing to the share outside.
    Example: 500 cc of air leave 395 cc of nitrogen; 1 % of oxygen in it is 395 × 0.01/0.99 = 4.0
    cc; at 0.5 cc a year slowed by about 2.5 % that takes 8.2 years, worked by hand.

    >>> f"{years_to_fraction(500.0, 0.5, 0.01, temp_c=25.0):.1f}"
    '8.2'

    Limits: nitrogen and water vapour are taken to stay; the seal is taken to be sound.
    """
    gas = within("air_cc", air_cc, 1e-3, _MOST_GAS_CC, "cc")
    leak = within("leak_cc_per_year", leak_cc_per_year, 0.0, 1e5, "cc/year")
    target = within("target_fraction", target_fraction, 0.0, 0.2)
    spare = within("spare_cc", spare_cc, 0.0, _MOST_GAS_CC, "cc")
    inert = gas * air.reference_cc_per_cc(temp_c, pressure_pa) * (1.0 - DRY_AIR_OXYGEN_FRACTION)
    room = np.asarray(spare + inert * _filling_time(target))
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        return plain(np.where(np.asarray(leak) > 0.0, room / leak, math.inf))
