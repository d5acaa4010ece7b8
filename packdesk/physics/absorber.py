"""What an absorber loses while it lies open, how fast it works, what is left in it.

How a rating's cc are counted: see ``oxygen``; how fast they go: see ``uptake``. Capacities here are
those of all the absorbers that lie together, in reference cc.

The iron packet gets warm and then hard: both are normal. It is not food, and it is taken out before
cooking.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import overload

from packdesk.physics import air, uptake
from packdesk.physics.air import DRY_AIR_OXYGEN_FRACTION, STANDARD_PRESSURE_PA
from packdesk.physics.ranges import Quantity, plain, within
from packdesk.physics.uptake import PUBLISHED_UPTAKE

PRACTICE_CAP_MINUTES = 20.0
"""The longest that absorbers lie open whatever their margin (common practice, no source: 15 to 30
minutes; Utah State University Extension says to take out what is used in the next few minutes)."""

_MOST_CC = 1e6


def _cc(symbol: str, value: Quantity) -> Quantity:
    return within(symbol, value, 0.0, _MOST_CC, "cc")


def _share_of_sea_level_oxygen(oxygen_fraction: Quantity, pressure_pa: Quantity) -> Quantity:
    fraction = within("oxygen_fraction", oxygen_fraction, 0.0, 1.0)
    pressure = within("pressure_pa", pressure_pa, 50_000.0, 110_000.0, "Pa")
    return plain(fraction / DRY_AIR_OXYGEN_FRACTION * pressure / STANDARD_PRESSURE_PA)


@overload
def capacity_after_open_cc(
    capacity_cc: float,
    minutes: float,
    temp_c: float,
    *,
    uptake_25_per_h: float = PUBLISHED_UPTAKE.high,
    oxygen_fraction: float = DRY_AIR_OXYGEN_FRACTION,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> float: ...
@overload
def capacity_after_open_cc(
    capacity_cc: Quantity,
    minutes: Quantity,
    temp_c: Quantity,
    *,
    uptake_25_per_h: Quantity = PUBLISHED_UPTAKE.high,
    oxygen_fraction: Quantity = DRY_AIR_OXYGEN_FRACTION,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
) -> Quantity: ...
def capacity_after_open_cc(
    capacity_cc: Quantity,
    minutes: Quantity,
    temp_c: Quantity,
    *,
    uptake_25_per_h: Quantity = PUBLISHED_UPTAKE.high,
    oxygen_fraction: Quantity = DRY_AIR_OXYGEN_FRACTION,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
) -> Quantity:
    """How much capacity is left in absorbers that lay in open air.

    Symbols: ``capacity_cc`` before, 0 to 1,000,000; ``minutes`` in the open, 0 to 100,000;
    ``temp_c`` of the room, −20 to 45 °C; ``uptake_25_per_h`` κ at 25 °C, 0 to 10 1/h (the fast end
    of the band unless told otherwise); ``oxygen_fraction`` around them, 0 to 1; ``pressure_pa``
    50,000 to 110,000.
    Source: dC/dt = −κ(T) C p/p₀, see ``uptake``.
    Example: at κ = 0.693 1/h (half in an hour; fastest type in Tewari et al. 2002) 50 cc are 25
    after an hour and 12.5 after two, worked by hand.

    >>> f"{capacity_after_open_cc(50.0, 120.0, 25.0, uptake_25_per_h=0.6931):.1f}"
    '12.5'

    Limits: absorbers spread out in moving air; those in a heap or in their packet lose less.
    """
    capacity = _cc("capacity_cc", capacity_cc)
    hours = within("minutes", minutes, 0.0, 1e5, "min") / 60.0
    share = _share_of_sea_level_oxygen(oxygen_fraction, pressure_pa)
    rate = uptake.uptake_per_h(uptake_25_per_h, temp_c) * share
    return plain(capacity - uptake.taken_in_open(capacity, rate, hours))


class LimitedBy(StrEnum):
    """Which of two limits on lying open comes first."""

    MARGIN = "margin used up"
    PRACTICE = "practice cap"


@dataclass(frozen=True, slots=True)
class OpenLimit:
    """How long absorbers may lie open: the earlier of two limits, both of them kept for showing.

    ``margin_minutes`` is how long it takes to lose what was beyond the need (0: nothing was;
    infinite: nothing is needed), ``practice_minutes`` the cap of common practice.
    """

    margin_minutes: float
    practice_minutes: float

    @property
    def minutes(self) -> float:
        """The earlier of the two."""
        return min(self.margin_minutes, self.practice_minutes)

    @property
    def limited_by(self) -> LimitedBy:
        """Which of the two it is."""
        earlier = self.margin_minutes < self.practice_minutes
        return LimitedBy.MARGIN if earlier else LimitedBy.PRACTICE


def open_limit(
    capacity_cc: float,
    need_cc: float,
    temp_c: float,
    *,
    uptake_25_per_h: float = PUBLISHED_UPTAKE.high,
    pressure_pa: float = STANDARD_PRESSURE_PA,
    practice_cap_minutes: float = PRACTICE_CAP_MINUTES,
) -> OpenLimit:
    """How long a pouch's absorbers may lie open before they fall short of its need.

    Symbols: ``capacity_cc`` of one pouch's set when it comes into the air, ``need_cc`` of that
    pouch, both 0 to 1,000,000 reference cc; ``temp_c`` of the room, −20 to 45 °C;
    ``uptake_25_per_h`` κ at 25 °C, 0.001 to 10 1/h (the fast end of the band unless told
    otherwise); ``practice_cap_minutes`` 1 to 120.
    Source: C exp(−κ t) = need; the cap is common practice, no source.
    Example: 120 cc for a need of 100 at κ = 0.69 1/h and 25 °C: 60 × ln 1.2 / 0.69 = 15.9 min,
    before the cap of 20, worked by hand.

    >>> limit = open_limit(120.0, 100.0, 25.0, uptake_25_per_h=0.69)
    >>> f"{limit.minutes:.1f}", limit.limited_by.value
    ('15.9', 'margin used up')

    Limits: as ``capacity_after_open_cc``.
    """
    capacity = within("capacity_cc", capacity_cc, 0.0, _MOST_CC, "cc")
    need = within("need_cc", need_cc, 0.0, _MOST_CC, "cc")
    cap = within("practice_cap_minutes", practice_cap_minutes, 1.0, 120.0, "min")
    kappa = within("uptake_25_per_h", uptake_25_per_h, 0.001, 10.0, "1/h")
    pressure = within("pressure_pa", pressure_pa, 50_000.0, 110_000.0, "Pa")
    rate = uptake.uptake_per_h(kappa, temp_c) * pressure / STANDARD_PRESSURE_PA
    if need == 0.0:
        return OpenLimit(margin_minutes=math.inf, practice_minutes=cap)
    surplus = math.log(capacity / need) if capacity > need else 0.0
    return OpenLimit(margin_minutes=60.0 * surplus / rate, practice_minutes=cap)


@dataclass(frozen=True, slots=True)
class OpenAir:
    """A stretch in which absorbers lie in the room's air."""

    minutes: float
    temp_c: float
    oxygen_fraction: float = DRY_AIR_OXYGEN_FRACTION
    pressure_pa: float = STANDARD_PRESSURE_PA


@dataclass(frozen=True, slots=True)
class ShutIn:
    """A stretch in a tight vessel: a jar with its lid on, a pouch with its seam made.

    ``gas_cc`` is the gas in there with them. It was room air when the vessel was shut, unless
    ``still_shut`` says that the stretch before was in the same vessel and nobody opened it.
    """

    minutes: float
    temp_c: float
    gas_cc: float
    still_shut: bool = False
    oxygen_fraction: float = DRY_AIR_OXYGEN_FRACTION
    pressure_pa: float = STANDARD_PRESSURE_PA


ZIP_LEAK_CC_PER_H = 14.0
"""Gas that a pressed zip exchanges with the room in an hour (no source; by diffusion through a gap
of 1 mm², 5 mm deep: 0.2 cm²/s × 0.01 cm² / 0.5 cm = 0.004 cc/s)."""


@dataclass(frozen=True, slots=True)
class BehindZip:
    """A stretch in a pouch whose zip or clip is pressed shut and leaks.

    ``gas_cc`` and ``still_shut`` as ``ShutIn``; ``leak_cc_per_h`` of gas goes out and comes in.
    """

    minutes: float
    temp_c: float
    gas_cc: float
    leak_cc_per_h: float = ZIP_LEAK_CC_PER_H
    still_shut: bool = False
    oxygen_fraction: float = DRY_AIR_OXYGEN_FRACTION
    pressure_pa: float = STANDARD_PRESSURE_PA


Stretch = OpenAir | ShutIn | BehindZip


@dataclass(frozen=True, slots=True)
class Exposure:
    """What a history did to some absorbers, in reference cc.

    ``oxygen_cc`` is what is left around them in the vessel of the last stretch (0 in the open,
    where it means nothing).
    """

    left_cc: Quantity
    taken_cc: Quantity
    oxygen_cc: Quantity


def exposure(
    capacity_cc: Quantity,
    history: Iterable[Stretch],
    *,
    uptake_25_per_h: Quantity = PUBLISHED_UPTAKE.high,
) -> Exposure:
    """What is left in absorbers after a history of lying open, in a jar, behind a zip, in a pouch.

    Symbols: ``capacity_cc`` of all that lie together, 0 to 1,000,000; ``history`` of stretches in
    their order, each with ``minutes`` 0 to 100,000 (a longer one is given as several), ``temp_c``
    −20 to 45 °C, ``gas_cc`` 1 to 1,000,000, ``leak_cc_per_h`` 0 to 100,000, ``oxygen_fraction`` of
    the room 0 to 1 and ``pressure_pa`` 50,000 to 110,000; ``uptake_25_per_h`` κ at 25 °C, 0 to 10
    1/h. Capacity and κ may be ensembles.
    Source: the law of ``uptake``, in closed form in the open and in a tight vessel.
    Example: absorbers of 5,000 cc shut for a week in a pint jar with 0.2 L of air take all the
    oxygen that is there and no more: 0.2095 × 200 = 41.9 cc at 25 °C, worked by hand.

    >>> f"{exposure(5000.0, [ShutIn(7 * 1440.0, 25.0, 200.0)]).taken_cc:.1f}"
    '41.9'

    Errors: a first stretch cannot be ``still_shut`` (ValueError).
    Limits: as ``uptake`` and ``capacity_after_open_cc``.
    """
    left: Quantity = _cc("capacity_cc", capacity_cc)
    none: Quantity = 0.0 * left
    total, oxygen, shut = none, none, False
    for stretch in history:
        hours = within("minutes", stretch.minutes, 0.0, 1e5, "min") / 60.0
        kappa = uptake.uptake_per_h(uptake_25_per_h, stretch.temp_c)
        share = _share_of_sea_level_oxygen(stretch.oxygen_fraction, stretch.pressure_pa)
        if isinstance(stretch, OpenAir):
            taken, oxygen, shut = uptake.taken_in_open(left, kappa * share, hours), none, False
        else:
            gas_cc = within("gas_cc", stretch.gas_cc, 1.0, _MOST_CC, "cc")
            if stretch.still_shut and not shut:
                raise ValueError("the vessel was not shut before; it cannot be still shut")
            # What it would hold of dry air at sea level, at its own temperature.
            full_cc = DRY_AIR_OXYGEN_FRACTION * gas_cc * air.reference_cc_per_cc(stretch.temp_c)
            beta, outside_cc = kappa / full_cc, share * full_cc
            oxygen = oxygen if stretch.still_shut else none + outside_cc
            shut = True
            if isinstance(stretch, ShutIn):
                taken = uptake.taken_shut_in(left, oxygen, beta, hours)
                oxygen = oxygen - taken
            else:
                leak = within("leak_cc_per_h", stretch.leak_cc_per_h, 0.0, 1e5, "cc/h")
                taken, oxygen = uptake.taken_behind_leak(
                    left, oxygen, beta, leak / gas_cc, outside_cc, hours
                )
        left, total = left - taken, total + taken
    return Exposure(left_cc=plain(left), taken_cc=plain(total), oxygen_cc=plain(oxygen))


@overload
def draw_down_hours(
    capacity_cc: float,
    air_cc: float,
    temp_c: float,
    target_fraction: float = 0.001,
    *,
    uptake_25_per_h: float = PUBLISHED_UPTAKE.low,
    slowing: float = 1.0,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> float: ...
@overload
def draw_down_hours(
    capacity_cc: Quantity,
    air_cc: Quantity,
    temp_c: Quantity,
    target_fraction: Quantity = 0.001,
    *,
    uptake_25_per_h: Quantity = PUBLISHED_UPTAKE.low,
    slowing: Quantity = 1.0,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
) -> Quantity: ...
def draw_down_hours(
    capacity_cc: Quantity,
    air_cc: Quantity,
    temp_c: Quantity,
    target_fraction: Quantity = 0.001,
    *,
    uptake_25_per_h: Quantity = PUBLISHED_UPTAKE.low,
    slowing: Quantity = 1.0,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
) -> Quantity:
    """How long absorbers take to bring a sealed pouch down to so little oxygen.

    Symbols: ``capacity_cc`` when it was sealed, 0 to 1,000,000 reference cc; ``air_cc`` shut in, 1
    to 1,000,000; ``temp_c`` where it lies, −20 to 45 °C; ``target_fraction`` of the gas at the
    start, 0.00001 to 0.2; ``uptake_25_per_h`` κ at 25 °C, 0.0001 to 10 1/h (the slow end of the
    band unless told otherwise); ``slowing`` by which food around the absorber slows it, 1 to 12;
    ``pressure_pa`` 50,000 to 110,000.
    Source: V dx/dt = −κ C x / 0.2095 in closed form. Absorbers wrapped over were up to 12 times
    slower (Tewari et al. 2002).
    Example: where the capacity is ample the decay is first order: at a rate of 0.306 1/h from 20.95
    to 0.1 % in ln(209.5)/0.306 = 17.5 h, worked by hand. Here it is a thousand times the oxygen, so
    κ is a thousandth of the rate.

    >>> f"{draw_down_hours(209_500.0, 1000.0, 25.0, uptake_25_per_h=0.306e-3):.1f}"
    '17.5'

    Errors: none where the capacity falls short of the target: the answer is then infinite.
    Limits: the gas is taken as well mixed; practice speaks of one to two days, of up to a week for
    large bags (no source).
    """
    capacity = _cc("capacity_cc", capacity_cc)
    gas = within("air_cc", air_cc, 1.0, _MOST_CC, "cc")
    target = within("target_fraction", target_fraction, 1e-5, 0.2)
    kappa = within("uptake_25_per_h", uptake_25_per_h, 1e-4, 10.0, "1/h")
    slower = within("slowing", slowing, 1.0, 12.0)
    share = _share_of_sea_level_oxygen(DRY_AIR_OXYGEN_FRACTION, pressure_pa)
    full_cc = DRY_AIR_OXYGEN_FRACTION * gas * air.reference_cc_per_cc(temp_c)
    beta = uptake.uptake_per_h(kappa, temp_c) / slower / full_cc
    target_cc = target / DRY_AIR_OXYGEN_FRACTION * share * full_cc
    return uptake.hours_shut_in(capacity, share * full_cc, beta, target_cc)
