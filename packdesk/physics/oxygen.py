"""How much oxygen a packed pouch holds, what removing it takes, what is left.

**What a cc rating means.** An absorber rated 300 cc takes up 300 cc of *oxygen* (not of air, of
which that clears 4.77 times as much: Utah State University Extension, "Oxygen Removal"). No
standard fixes the temperature and pressure at which those cc are counted; sellers speak of room
temperature, 20 to 25 °C, at sea level. PackDesk counts 25 °C and 101,325 Pa, the cautious end: a
warm cc holds least oxygen. Every cc of oxygen in this package is such a *reference cc*; a volume
of gas or of food is in cc as it lies on the counter. The two differ by temperature and elevation.

Air is taken as dry and the room as 20 °C unless the caller knows better, which errs on the side of
more oxygen; so does counting the pores inside kernels as air (densities of the solid from
composition do).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import overload

import numpy as np

from packdesk.physics import air
from packdesk.physics.air import ROOM_TEMP_C, STANDARD_PRESSURE_PA
from packdesk.physics.ranges import Quantity, plain, within

PRESSED_GAS_FRACTION = 0.10
"""Gas left above the food after pressing by hand, as a share of the settled food's volume
(common practice, no source)."""

DEFAULT_MARGIN = 1.2
"""Recommended over needed (common practice, no source)."""

_MOST_GAS_CC = 1e6


def _gas(air_cc: Quantity) -> Quantity:
    return within("air_cc", air_cc, 0.0, _MOST_GAS_CC, "cc")


def _oxygen_cc(
    air_cc: Quantity, temp_c: Quantity, pressure_pa: Quantity, relative_humidity: Quantity
) -> Quantity:
    """Reference cc of oxygen in so much air as it is here."""
    per_litre = air.oxygen_cc_per_litre(temp_c, pressure_pa, relative_humidity)
    return plain(_gas(air_cc) * per_litre / 1000.0)


@overload
def air_in_pouch_cc(
    net_mass_g: float,
    bulk_density_g_per_cc: float,
    solid_density_g_per_cc: float,
    residual_gas_cc: float,
) -> float: ...
@overload
def air_in_pouch_cc(
    net_mass_g: Quantity,
    bulk_density_g_per_cc: Quantity,
    solid_density_g_per_cc: Quantity,
    residual_gas_cc: Quantity,
) -> Quantity: ...
def air_in_pouch_cc(
    net_mass_g: Quantity,
    bulk_density_g_per_cc: Quantity,
    solid_density_g_per_cc: Quantity,
    residual_gas_cc: Quantity,
) -> Quantity:
    """How much air is shut in with the food: between the grains and above them.

    Symbols: ``net_mass_g`` 0 to 100,000; ``solid_density_g_per_cc`` of the kernels, 0.05 to 3;
    ``bulk_density_g_per_cc`` of the *settled* food, 0.05 up to the solid's; ``residual_gas_cc``
    left above the food after pressing, 0 to 200,000 (for a rigid jar: what the food leaves free).
    Source: volumes add up: settled bulk + residual gas − solids. The same balance (pack volume less
    food volume) is in Encyclopedia of Packaging Technology, "Oxygen scavengers, sizing".
    Example: 0.946 L of white rice at 0.80 g/cc, solid 1.46, with a tenth of headspace: 757 g take
    946 − 518 + 95 = 523 cc of air, worked by hand.

    >>> f"{air_in_pouch_cc(757.0, 0.80, 1.46, 95.0):.0f}"
    '523'

    Limits: never the blown-up pouch's volume. Air pressed into or held by the food's pores counts
    only as far as the solid density leaves it out.
    """
    mass = within("net_mass_g", net_mass_g, 0.0, 1e5, "g")
    solid = within("solid_density_g_per_cc", solid_density_g_per_cc, 0.05, 3.0, "g/cc")
    bulk = within("bulk_density_g_per_cc", bulk_density_g_per_cc, 0.05, solid, "g/cc")
    residual = within("residual_gas_cc", residual_gas_cc, 0.0, 2e5, "cc")
    return plain(mass / bulk - mass / solid + residual)


@overload
def oxygen_need_cc(
    air_cc: float,
    leak_cc_per_year: float = 0.0,
    *,
    temp_c: float = ROOM_TEMP_C,
    pressure_pa: float = STANDARD_PRESSURE_PA,
    relative_humidity: float = 0.0,
) -> float: ...
@overload
def oxygen_need_cc(
    air_cc: Quantity,
    leak_cc_per_year: Quantity = 0.0,
    *,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity: ...
def oxygen_need_cc(
    air_cc: Quantity,
    leak_cc_per_year: Quantity = 0.0,
    *,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity:
    """How much oxygen must be taken up: what the air holds and one year's leakage.

    Symbols: ``air_cc`` shut in, 0 to 1,000,000; ``leak_cc_per_year`` through the film, reference
    cc, 0 to 100,000; the air as it was shut in: ``temp_c`` −40 to 50 °C, ``pressure_pa`` 50,000 to
    110,000 Pa, ``relative_humidity`` 0 to 1. The answer is in reference cc.
    Source: Dalton's law and the ideal gas law, 20.95 % oxygen in dry air (ISO 2533).
    Example: a gallon brimful of rice (3.785 L, 44.8 % of it air) at the reference conditions, dry:
    3785 × 0.448 × 0.2095 = 355 cc, worked by hand.

    >>> f"{oxygen_need_cc(3785 * 0.448, temp_c=25.0):.0f}"
    '355'

    Limits: no margin, see ``recommended_cc``. Absorbers cannot carry thirty years of a leaky film,
    see ``leakage``.
    """
    leak = within("leak_cc_per_year", leak_cc_per_year, 0.0, 1e5, "cc/year")
    return plain(_oxygen_cc(air_cc, temp_c, pressure_pa, relative_humidity) + leak)


@overload
def recommended_cc(need_cc: float, margin: float = DEFAULT_MARGIN) -> float: ...
@overload
def recommended_cc(need_cc: Quantity, margin: Quantity = DEFAULT_MARGIN) -> Quantity: ...
def recommended_cc(need_cc: Quantity, margin: Quantity = DEFAULT_MARGIN) -> Quantity:
    """How much absorber to put in: the need and a margin for time in the open and old packets.

    Symbols: ``need_cc`` reference cc, 0 to 1,000,000; ``margin`` a factor, 1 to 5.
    Source: common practice, no source.
    Example: 355 cc needed, 426 cc recommended (355 × 1.2).

    >>> f"{recommended_cc(355.0):.0f}"
    '426'

    Limits: a margin says nothing of an absorber whose capacity was gone before it came.
    """
    need = within("need_cc", need_cc, 0.0, _MOST_GAS_CC, "cc")
    return plain(need * within("margin", margin, 1.0, 5.0))


@dataclass(frozen=True, slots=True)
class AbsorberSet:
    """Some absorbers that go into one pouch together: (rating in cc, how many), largest first."""

    counts: tuple[tuple[float, int], ...]

    @property
    def pieces(self) -> int:
        """How many absorbers the set has."""
        return sum(count for _, count in self.counts)


def absorber_sets(
    recommended_cc: float, ratings_cc: Iterable[float], *, extra_pieces: int = 3
) -> tuple[AbsorberSet, ...]:
    """Which absorbers to put in: the fewest that suffice, then sets of more pieces that waste less.

    Symbols: ``recommended_cc`` to be covered, reference cc, 0 to 100,000; ``ratings_cc`` at hand,
    each 5 to 10,000 cc and at least a thousandth of what is to be covered; ``extra_pieces`` how
    many more absorbers than the fewest are still worth it, 0 to 20.
    Source: counting. The first set has the fewest pieces (of those the least capacity); every
    further one has more pieces and less capacity to spare. None can lose a piece and still suffice.
    Example: 426 cc of 300s and 100s: two 300s (600), or one 300 and two 100s (500), worked by hand.

    >>> [s.counts for s in absorber_sets(426.0, (100.0, 300.0))]
    [((300.0, 2),), ((300.0, 1), (100.0, 2))]

    Errors: no rating at hand is a ValueError. Nothing to be covered needs no absorber: no sets.
    Limits: ratings are taken as printed; how many of each are on the shelf is not asked.
    """
    # A millionth of a cc is below any meaning and above the noise of multiplying by a margin.
    wanted = round(within("recommended_cc", recommended_cc, 0.0, 1e5, "cc"), 6)
    more = int(within("extra_pieces", extra_pieces, 0, 20))
    least = max(5.0, wanted / 1000.0)
    ratings = sorted({within("rating_cc", r, least, 1e4, "cc") for r in ratings_cc}, reverse=True)
    if not ratings:
        raise ValueError("no absorber rating is given; name at least one, such as 300 cc")
    if wanted == 0.0:
        return ()
    # Level by level: every total that so many pieces can reach and that is still too small.
    short: dict[float, tuple[int, ...]] = {0.0: (0,) * len(ratings)}
    best_total, found = math.inf, list[AbsorberSet]()
    for _ in range(math.ceil(wanted / ratings[0]) + more):
        reached = {
            round(total + rating, 6): (*counts[:i], counts[i] + 1, *counts[i + 1 :])
            for total, counts in short.items()
            for i, rating in enumerate(ratings)
        }
        enough = min((total for total in reached if total >= wanted), default=math.inf)
        if enough < best_total:
            best_total = enough
            pairs = zip(ratings, reached[enough], strict=True)
            found.append(AbsorberSet(tuple((r, n) for r, n in pairs if n)))
        short = {total: counts for total, counts in reached.items() if total < wanted}
    return tuple(found)


@overload
def residual_oxygen_fraction(
    air_cc: float,
    absorbed_cc: float,
    *,
    temp_c: float = ROOM_TEMP_C,
    pressure_pa: float = STANDARD_PRESSURE_PA,
    relative_humidity: float = 0.0,
) -> float: ...
@overload
def residual_oxygen_fraction(
    air_cc: Quantity,
    absorbed_cc: Quantity,
    *,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity: ...
def residual_oxygen_fraction(
    air_cc: Quantity,
    absorbed_cc: Quantity,
    *,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity:
    """What share of the gas left in the pouch is oxygen once so much of it was absorbed.

    Symbols: ``air_cc`` shut in, 0.001 to 1,000,000; ``absorbed_cc`` reference cc the absorbers can
    take, 0 to 1,000,000 (more than there is leaves none); the air as ``oxygen_need_cc``.
    Source: mass balance y = (O − c) / (G − c), G the gas, O its oxygen, c what was taken.
    Example: the gallon of rice (355 cc of oxygen in 1,696 cc of air) with 300 cc keeps
    (355 − 300) / (1696 − 300) = 4.0 %, worked by hand.

    >>> f"{residual_oxygen_fraction(1696.0, 300.0, temp_c=25.0):.3f}"
    '0.040'

    Limits: real absorbers leave up to 0.01 %, which this calls none.
    """
    gas = within("air_cc", air_cc, 1e-3, _MOST_GAS_CC, "cc")
    absorbed = within("absorbed_cc", absorbed_cc, 0.0, _MOST_GAS_CC, "cc")
    share = air.oxygen_fraction(temp_c, pressure_pa, relative_humidity)
    total = gas * air.reference_cc_per_cc(temp_c, pressure_pa)
    taken = np.minimum(absorbed / total, share)
    return plain((share - taken) / (1.0 - taken))


@overload
def shrinkage_fraction(
    air_cc: float,
    absorbed_cc: float,
    *,
    solids_cc: float = 0.0,
    temp_c: float = ROOM_TEMP_C,
    pressure_pa: float = STANDARD_PRESSURE_PA,
    relative_humidity: float = 0.0,
) -> float: ...
@overload
def shrinkage_fraction(
    air_cc: Quantity,
    absorbed_cc: Quantity,
    *,
    solids_cc: Quantity = 0.0,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity: ...
def shrinkage_fraction(
    air_cc: Quantity,
    absorbed_cc: Quantity,
    *,
    solids_cc: Quantity = 0.0,
    temp_c: Quantity = ROOM_TEMP_C,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity:
    """By what share of its volume a pouch gets smaller when its oxygen is absorbed.

    Symbols: ``air_cc`` shut in, 0.001 to 1,000,000; ``absorbed_cc`` reference cc, 0 to 1,000,000;
    ``solids_cc`` the food's own volume (0: the share of the gas alone), 0 to 1,000,000; the air as
    ``oxygen_need_cc``.
    Source: mass balance at constant pressure; only oxygen leaves, nitrogen stays.
    Example: all oxygen out of dry air is 20.95 % of the gas; with 0.523 L of air around 0.518 L of
    rice it is 0.2095 × 523 / 1041 = 10.5 % of the pouch, worked by hand.

    >>> f"{shrinkage_fraction(523.0, 500.0, solids_cc=518.0):.3f}"
    '0.105'

    Limits: this is all that can be seen of a sound pouch. A pouch with much gas above its food
    stays soft even when every trace of oxygen is gone: softness by itself is no failure.
    """
    gas = within("air_cc", air_cc, 1e-3, _MOST_GAS_CC, "cc")
    absorbed = within("absorbed_cc", absorbed_cc, 0.0, _MOST_GAS_CC, "cc")
    solids = within("solids_cc", solids_cc, 0.0, _MOST_GAS_CC, "cc")
    oxygen = gas * air.oxygen_fraction(temp_c, pressure_pa, relative_humidity)
    taken = np.minimum(absorbed / air.reference_cc_per_cc(temp_c, pressure_pa), oxygen)
    return plain(taken / (gas + solids))
