"""Which absorbers go into one pouch, and for how long its film keeps oxygen out afterwards."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from packdesk.catalog.absorbers import Absorber, AbsorberKind
from packdesk.catalog.films import Driving, Film
from packdesk.catalog.pouches import Pouch
from packdesk.physics import leakage, oxygen

PUBLISHED_HOUSEHOLD_CC = ((1.0, 100.0), (3.8, 300.0), (25.0, 500.0))
"""What is published for households, up to so many litres: pint and quart 100 cc, up to a
gallon 300, five gallons 500 (Utah State University Extension, food storage booklet)."""

WORTH_ONE_RATING = 1.5
"""How much of what is recommended may go in for the sake of one rating (own judgement)."""


_RATED_IN = {
    Driving.AIR: leakage.RatedIn.AIR,
    Driving.PURE_OXYGEN: leakage.RatedIn.PURE_OXYGEN,
}


@dataclass(frozen=True, slots=True)
class AirShutIn:
    """The air as it is shut in with the food."""

    temp_c: float
    pressure_pa: float
    relative_humidity: float = 0.0


@dataclass(frozen=True, slots=True)
class Oxygen:
    """The balance of one pouch, in cc of oxygen but for ``residual_gas_cc`` and ``air_cc``.

    ``need_cc`` is the oxygen of the air and one year's leakage; ``recommended_cc`` adds the margin.
    ``film_years`` is how long the film keeps the pouch below 1 % (infinite without any leak).
    """

    residual_gas_cc: float
    air_cc: float
    leak_cc_per_year: float
    need_cc: float
    recommended_cc: float
    film_years: float


def balance(
    mass_g: float,
    bulk_density_g_per_cc: float,
    solid_density_g_per_cc: float,
    shut_in: AirShutIn,
    pouch: Pouch,
    film: Film,
) -> Oxygen:
    """How much oxygen a filled pouch holds and takes up, pressed by hand before it is shut.

    Above the settled food a tenth of its volume is taken to stay as gas. The film's years are
    counted as if the margin were used up on the counter: cautious, since what is left of it goes
    on taking up what leaks in.
    """
    residual_cc = oxygen.PRESSED_GAS_FRACTION * mass_g / bulk_density_g_per_cc
    air_cc = oxygen.air_in_pouch_cc(
        mass_g, bulk_density_g_per_cc, solid_density_g_per_cc, residual_cc
    )
    leak_cc = leak_cc_per_year(pouch, film, shut_in.pressure_pa)
    need_cc = oxygen.oxygen_need_cc(
        air_cc,
        leak_cc,
        temp_c=shut_in.temp_c,
        pressure_pa=shut_in.pressure_pa,
        relative_humidity=shut_in.relative_humidity,
    )
    years = leakage.years_to_fraction(
        air_cc, leak_cc, spare_cc=leak_cc, temp_c=shut_in.temp_c, pressure_pa=shut_in.pressure_pa
    )
    return Oxygen(residual_cc, air_cc, leak_cc, need_cc, oxygen.recommended_cc(need_cc), years)


def leak_cc_per_year(pouch: Pouch, film: Film, pressure_pa: float) -> float:
    """How much oxygen comes through a pouch's film in the first year, in cc."""
    across_mm = pouch.width_mm + pouch.gusset_mm - 2.0 * pouch.seam_mm
    area_m2 = leakage.pouch_film_area_m2(across_mm, pouch.height_mm - 2.0 * pouch.seam_mm)
    return leakage.leak_cc_per_year(
        film.oxygen_transmission_cc_m2_day,
        area_m2,
        _RATED_IN[film.driving],
        pressure_pa=pressure_pa,
    )


def ratings_for_dry_food(absorbers: Iterable[Absorber]) -> tuple[int, ...]:
    """The ratings on the shelf that work in dry food: those that carry their own water, in cc."""
    return tuple(
        sorted(
            {int(each.rating_cc) for each in absorbers if each.kind is AbsorberKind.SELF_ACTIVATED}
        )
    )


def smallest_set_cc(recommended_cc: float, ratings_cc: Iterable[int]) -> tuple[int, ...]:
    """Which absorbers go into one pouch: the fewest that suffice, if possible of one rating.

    Fewest, because each one is counted into a pouch while it goes stale. Of one rating, because
    each rating more is one packet more that lies open: unless that wastes half as much again;
    then the set with least to spare. None of the ratings at hand is a ``ValueError``.
    """
    ratings = tuple(ratings_cc)
    sets = oxygen.absorber_sets(recommended_cc, ratings, extra_pieces=0)
    if not sets:
        return ()
    pieces = sets[0].pieces
    alike = min((each for each in ratings if each * pieces >= recommended_cc), default=math.inf)
    if alike * pieces <= WORTH_ONE_RATING * recommended_cc:
        return (int(alike),) * pieces
    return tuple(int(rating) for rating, count in sets[0].counts for _ in range(count))


def published_cc(capacity_l: float) -> float | None:
    """What is published for a household container of this size; None beyond the largest."""
    return next((cc for litres, cc in PUBLISHED_HOUSEHOLD_CC if capacity_l <= litres), None)
