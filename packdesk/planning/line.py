"""What one food into one kind of pouch takes: fill, count, absorbers; or why it cannot be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packdesk.catalog.foods import Food
from packdesk.catalog.pails import Pail
from packdesk.catalog.pouches import Pouch, PouchKind
from packdesk.catalog.read import Catalog
from packdesk.physics import air
from packdesk.physics.ranges import OutOfRange, within
from packdesk.planning import absorbers as absorbing
from packdesk.planning import fill
from packdesk.planning.suitability import Refusal, Suitable, judge
from packdesk.units import Dimension, System, say

LONGEST_STUDIED_YEARS = 30.0
"""Quality life is capped here: the longest storage of dry staples that was studied (Brigham Young
University, 1990s to 2000s: wheat to 32 years, most others to 30)."""

LIFTED_ALONE_G = 12_000.0
"""What nearly all people may lift from the floor to a table: 12.1 kg by the NIOSH equation for a
pail (revised 1994)."""


@dataclass(frozen=True, slots=True)
class Site:
    """Where the packing is done; without a humidity reading the air is taken as dry (cautious)."""

    elevation_m: float = 0.0
    packing_temp_c: float = 21.0
    relative_humidity: float | None = None


@dataclass(frozen=True, slots=True)
class LineRequest:
    """This much of this food into this pouch; the readings are of the lot itself, if there are any.

    ``fill_mass_g`` None: as much as fits, evenly. ``pail`` is the one a liner stands in; None: the
    one that suits it.
    """

    line: int
    food: Food
    lot: str
    mass_g: float
    pouch: Pouch
    fill_mass_g: float | None = None
    pail: Pail | None = None
    moisture_percent: float | None = None
    water_activity: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedLine:
    """One plan line with every figure it rests on.

    Oxygen is in cc at 25 °C and sea level; where no absorber goes in, need and recommendation are
    0, ``margin_ratio`` and the years of the film None. ``oxygen_need_cc`` counts one year's
    leakage in; ``years_to_one_percent`` is the film at its own figure, ``..._low`` at the leakiest
    it is believed to be. ``pail`` is set for a liner. ``published_cc`` is the household figure for
    a container this size, to be shown beside ours.
    """

    line: int
    food: str
    food_name: str
    lot: str
    mass_g: float
    pouch: str
    pouch_name: str
    liner: bool
    pail: str
    zip: bool
    count: int
    fill_mass_g: float
    last_fill_mass_g: float
    capacity_l: float
    bulk_density_g_per_cc: float
    solid_density_g_per_cc: float
    residual_gas_cc: float
    air_cc: float
    oxygen_need_cc: float
    recommended_cc: float
    absorbers_cc: tuple[int, ...]
    published_cc: float | None
    margin_ratio: float | None
    quality_years_low: float
    quality_years_high: float
    film: str
    years_to_one_percent: float | None
    years_to_one_percent_low: float | None
    low_oxygen: str
    dusty: bool
    allergens: tuple[str, ...]
    caution: str
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unfit:
    """A line that cannot be planned as asked: what, how far off, what to do instead."""

    line: int
    food_name: str
    what: str
    figure: str
    advice: str
    caution: str = ""


def plan_line(
    request: LineRequest,
    catalog: Catalog,
    site: Site,
    *,
    units: System = System.METRIC,
    ratings_cc: Sequence[int] | None = None,
) -> PlannedLine | Unfit:
    """How one food goes into one kind of pouch, or why it should not.

    Fill masses are round in ``units``. ``ratings_cc`` are the absorbers at hand (None: all that
    the catalogue has for dry food). Raises ``OutOfRange`` for a mass or a site that makes no
    sense.
    """
    within("mass_g", request.mass_g, 1.0, 1e7, "g")
    verdict = judge(
        request.food,
        moisture_percent=request.moisture_percent,
        water_activity=request.water_activity,
    )
    if isinstance(verdict, Refusal):
        return _unfit(request, verdict)
    filled = _filled(request, catalog, units)
    if isinstance(filled, Refusal):
        return _unfit(request, filled)
    ratings = ratings_cc or absorbing.ratings_for_dry_food(catalog.absorbers.values())
    return _planned(request, catalog, site, verdict, filled, tuple(ratings))


@dataclass(frozen=True, slots=True)
class _Filled:
    """How the pouches of one line are filled; ``pail`` is a liner's."""

    capacity_l: float
    density_g_per_cc: float
    pail: Pail | None
    fills: fill.Fills


def _filled(request: LineRequest, catalog: Catalog, units: System) -> _Filled | Refusal:
    pouch, food = request.pouch, request.food
    pail = None
    if pouch.kind is PouchKind.LINER:
        pail = request.pail or fill.pail_for_liner(pouch, catalog.pails.values())
        if pail is None:
            return Refusal(
                "No pail for this liner.",
                f"{pouch.width_mm:.0f} × {pouch.height_mm:.0f} mm goes into no pail listed.",
                "Choose a pail it closes over, or another liner.",
            )
    try:
        capacity_l = fill.capacity_l(pouch, pail)
    except OutOfRange as refused:
        return Refusal(
            "This pouch leaves no room for food.",
            f"{refused}.",
            "Choose a larger pouch, or check its seam and headspace.",
        )
    density = fill.settled_density_g_per_cc(food)
    most_g = capacity_l * 1000.0 * density
    if request.fill_mass_g is None:
        fills = fill.even_fills(request.mass_g, fill.weighed_down_g(most_g, units), units)
    elif request.fill_mass_g > most_g:
        asked, holds = _mass(request.fill_mass_g, units), _mass(most_g, units)
        return Refusal(
            "More than the pouch holds.",
            f"{asked} asked for, {holds} fit with room left to seal.",
            f"Fill at most {_mass(fill.weighed_down_g(most_g, units), units)}, or choose a larger "
            "pouch.",
        )
    else:
        fills = fill.set_fills(request.mass_g, request.fill_mass_g)
    return _Filled(capacity_l, density, pail, fills)


def _planned(
    request: LineRequest,
    catalog: Catalog,
    site: Site,
    verdict: Suitable,
    filled: _Filled,
    ratings: tuple[int, ...],
) -> PlannedLine | Unfit:
    food, pouch = request.food, request.pouch
    film = catalog.films[pouch.film]
    shut_in = absorbing.AirShutIn(
        site.packing_temp_c,
        air.pressure_at_elevation_pa(site.elevation_m),
        site.relative_humidity or 0.0,
    )
    leak, most_leak = absorbing.leaks_cc_per_year(pouch, film, shut_in.pressure_pa)
    balance, leakiest = (
        absorbing.balance(
            filled.fills.fill_mass_g,
            filled.density_g_per_cc,
            food.solid_density_g_per_cc,
            each,
            shut_in,
        )
        for each in (leak, most_leak)
    )
    warnings = [*verdict.warnings]
    chosen: tuple[int, ...] = ()
    published = None
    if verdict.absorbers:
        if leak > balance.need_cc / 2.0:
            return _unfit(request, _no_barrier(film.name, leak))
        if not ratings:
            return _unfit(request, _no_absorber())
        chosen = absorbing.smallest_set_cc(balance.recommended_cc, ratings)
        published = absorbing.published_cc(filled.capacity_l)
        warnings += _of_oxygen(
            balance, published, min(food.quality_years[1], LONGEST_STUDIED_YEARS)
        )
    if filled.pail is not None and filled.fills.fill_mass_g > LIFTED_ALONE_G:
        warnings.append(
            "Too heavy for one person to lift with care: fill the liner in its pail, and lift "
            "it by two."
        )
    low, high = food.quality_years
    need = balance.need_cc if verdict.absorbers else 0.0
    return PlannedLine(
        line=request.line,
        food=food.key,
        food_name=food.name,
        lot=request.lot,
        mass_g=request.mass_g,
        pouch=pouch.key,
        pouch_name=pouch.name,
        liner=filled.pail is not None,
        pail=filled.pail.key if filled.pail else "",
        zip=pouch.zip,
        count=filled.fills.count,
        fill_mass_g=filled.fills.fill_mass_g,
        last_fill_mass_g=filled.fills.last_mass_g,
        capacity_l=filled.capacity_l,
        bulk_density_g_per_cc=filled.density_g_per_cc,
        solid_density_g_per_cc=food.solid_density_g_per_cc,
        residual_gas_cc=balance.residual_gas_cc,
        air_cc=balance.air_cc,
        oxygen_need_cc=need,
        recommended_cc=balance.recommended_cc if verdict.absorbers else 0.0,
        absorbers_cc=chosen,
        published_cc=published,
        margin_ratio=sum(chosen) / need if chosen else None,
        quality_years_low=min(low, LONGEST_STUDIED_YEARS),
        quality_years_high=min(high, LONGEST_STUDIED_YEARS),
        film=film.key,
        years_to_one_percent=balance.years_to_one_percent if verdict.absorbers else None,
        years_to_one_percent_low=leakiest.years_to_one_percent if verdict.absorbers else None,
        low_oxygen=str(food.low_oxygen),
        dusty=food.dusty,
        allergens=tuple(str(each) for each in food.allergens),
        caution=food.caution,
        warnings=tuple(warnings),
    )


def _of_oxygen(
    balance: absorbing.Oxygen, published: float | None, food_years: float
) -> tuple[str, ...]:
    found = []
    if published is not None and published < balance.need_cc:
        found.append(
            f"Published for a household container of this size: {published:.0f} cc. The air "
            f"between the grains holds more: this pouch needs {balance.need_cc:.0f} cc."
        )
    if balance.years_to_one_percent < food_years:
        found.append(
            f"This film lets the oxygen back to 1 % in about {balance.years_to_one_percent:.0f} "
            f"years; the food keeps for {food_years:.0f}. Foil laminate keeps oxygen out."
        )
    return tuple(found)


def _no_barrier(film_name: str, leak_cc: float) -> Refusal:
    return Refusal(
        "This film does not keep oxygen out.",
        f"{film_name}: {leak_cc:.0f} cc of oxygen leak in a year, more than the pouch held.",
        "Choose a pouch of foil laminate; no absorber holds against such a leak.",
    )


def _no_absorber() -> Refusal:
    return Refusal(
        "No absorber at hand works in dry food.",
        "Only moisture-activated ones are listed, and dry food leaves them idle.",
        "Get self-activated absorbers, such as 100 or 300 cc.",
    )


def _unfit(request: LineRequest, why: Refusal) -> Unfit:
    return Unfit(request.line, request.food.name, why.what, why.figure, why.advice, why.caution)


def _mass(mass_g: float, units: System) -> str:
    return say(mass_g, Dimension.MASS, units, 1.0)
