"""What one food into one kind of pouch takes: fill, count, absorbers; or why it cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from packdesk.catalog.foods import Suitability
from packdesk.catalog.pails import Pail
from packdesk.catalog.pouches import PouchKind
from packdesk.catalog.read import Catalog
from packdesk.physics import air
from packdesk.physics.pouch import corrected_capacity_l
from packdesk.physics.quality_life import LONGEST_STUDIED_YEARS
from packdesk.physics.ranges import OutOfRange, within
from packdesk.planning import absorbers as absorbing
from packdesk.planning import fill
from packdesk.planning.planned import LineRequest, PlannedLine, Site, Unfit
from packdesk.planning.suitability import Refusal, Suitable, judge
from packdesk.units import Dimension, System, say

LONGEST_FILM_YEARS = 100.0
"""What a film does is not counted beyond this: nothing so old was ever tested."""

LIFTED_ALONE_G = 12_000.0
"""What nearly all people may lift from the floor to a table: 12.1 kg by the NIOSH equation of 1994
for a pail (computed)."""


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
        never = request.food.suitability is Suitability.NEVER
        if not (never and request.against_advice.strip()):
            return replace(_unfit(request, verdict), by_reason=never)
        return _against_advice(request, catalog, site, verdict, units)
    filled = _filled(request, catalog, units)
    if isinstance(filled, Refusal):
        return _unfit(request, filled)
    if ratings_cc is None:
        ratings_cc = absorbing.ratings_for_dry_food(catalog.absorbers.values())
    return _planned(request, catalog, site, verdict, filled, ratings_cc)


def _against_advice(
    request: LineRequest, catalog: Catalog, site: Site, why: Refusal, units: System
) -> PlannedLine | Unfit:
    """A food marked never, put up for a stated reason: no absorber goes in, whatever it is.

    What grows without oxygen is what makes such food dangerous.
    """
    filled = _filled(request, catalog, units)
    if isinstance(filled, Refusal):
        return _unfit(request, filled)
    warnings = (f"{why.what} {why.figure}", why.advice, "No absorber goes in.", why.caution)
    planned = _planned(request, catalog, site, Suitable(False, warnings), filled, ())
    if isinstance(planned, Unfit):
        return planned
    return replace(
        planned, never=f"{why.what} {why.figure}", against_advice=request.against_advice.strip()
    )


@dataclass(frozen=True, slots=True)
class _Filled:
    """How the pouches of one line are filled; ``pail`` is a liner's."""

    capacity_l: float
    density_g_per_cc: float
    pail: Pail | None
    fills: fill.Fills


def _filled(request: LineRequest, catalog: Catalog, units: System) -> _Filled | Refusal:
    pouch, pail = request.pouch, None
    flat_size = f"{pouch.width_mm:.0f} × {pouch.height_mm:.0f} mm"
    if pouch.kind is PouchKind.LINER:
        pail = request.pail or fill.pail_for_liner(pouch, catalog.pails.values())
        if pail is None:
            return Refusal(
                "No pail for this liner.",
                f"{flat_size} closes over the food in none of the pails listed.",
                "Choose a larger liner, or add your pail to the list.",
            )
    try:
        capacity_l = fill.capacity_l(pouch, pail)
    except OutOfRange:
        taken = f"{pouch.seam_mm:.0f} mm for each seam and {pouch.headspace_mm:.0f} mm to seal in"
        where = (
            f" In this pail its ends alone take {pail.inner_diameter_mm:.0f} mm." if pail else ""
        )
        return Refusal(
            "This pouch leaves no room for food.",
            f"{flat_size}, of which {taken} are not filled.{where}",
            "Choose a larger one, or check the measures entered for it.",
        )
    density = fill.settled_density_g_per_cc(request.food)
    capacity_l = corrected_capacity_l(capacity_l, request.weighed_g, density)
    most_g = capacity_l * 1000.0 * density
    if request.fill_mass_g is None:
        round_g = fill.weighed_down_g(most_g, units)
        return _Filled(capacity_l, density, pail, fill.even_fills(request.mass_g, round_g, units))
    if request.fill_mass_g > most_g * (1.0 + 1e-9):
        return Refusal(
            "More than the pouch holds.",
            f"{_mass(request.fill_mass_g, units)} asked for; {_mass(most_g, units)} fit with room "
            "left to seal.",
            f"Fill at most {_mass(fill.weighed_down_g(most_g, units), units)}, or choose a larger "
            "pouch.",
        )
    return _Filled(capacity_l, density, pail, fill.set_fills(request.mass_g, request.fill_mass_g))


def _planned(
    request: LineRequest,
    catalog: Catalog,
    site: Site,
    verdict: Suitable,
    filled: _Filled,
    ratings_cc: Sequence[int],
) -> PlannedLine | Unfit:
    food, pouch, fills = request.food, request.pouch, filled.fills
    film = catalog.films[pouch.film]
    balance = absorbing.balance(
        fills.fill_mass_g,
        filled.density_g_per_cc,
        food.solid_density_g_per_cc,
        absorbing.AirShutIn(
            site.packing_temp_c,
            air.pressure_at_elevation_pa(site.elevation_m),
            site.relative_humidity or 0.0,
        ),
        pouch,
        film,
    )
    packed: absorbing.Oxygen | None = balance if verdict.absorbers else None
    chosen: tuple[int, ...] = ()
    if packed:
        if packed.leak_cc_per_year > packed.need_cc / 2.0:
            return _unfit(request, _no_barrier(film.name, packed.leak_cc_per_year))
        if not ratings_cc:
            return _unfit(request, _NO_ABSORBER)
        chosen = absorbing.smallest_set_cc(packed.recommended_cc, ratings_cc)
    least, most = food.quality_years
    line = PlannedLine(
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
        count=fills.count,
        fill_mass_g=fills.fill_mass_g,
        last_fill_mass_g=fills.last_mass_g,
        capacity_l=filled.capacity_l,
        bulk_density_g_per_cc=filled.density_g_per_cc,
        solid_density_g_per_cc=food.solid_density_g_per_cc,
        residual_gas_cc=balance.residual_gas_cc,
        air_cc=balance.air_cc,
        oxygen_need_cc=packed.need_cc if packed else 0.0,
        recommended_cc=packed.recommended_cc if packed else 0.0,
        absorbers_cc=chosen,
        published_cc=absorbing.published_cc(filled.capacity_l) if packed else None,
        margin_ratio=sum(chosen) / packed.need_cc if packed else None,
        quality_years_low=min(least, LONGEST_STUDIED_YEARS),
        quality_years_high=min(most, LONGEST_STUDIED_YEARS),
        film=film.key,
        years_to_one_percent=min(packed.film_years, LONGEST_FILM_YEARS) if packed else None,
        low_oxygen=str(food.low_oxygen),
        dusty=food.dusty,
        allergens=tuple(str(each) for each in food.allergens),
        caution=food.caution,
        label_caution=food.label_caution,
        warnings=(),
    )
    return replace(line, warnings=(*verdict.warnings, *_of_figures(line)))


def _of_figures(line: PlannedLine) -> Iterator[str]:
    """What to mind about a line that no verdict on its food says."""
    if line.published_cc is not None and line.published_cc < line.oxygen_need_cc:
        yield (
            f"Published for a household container of this size: {line.published_cc:.0f} cc. The "
            f"air between the grains holds more: this pouch needs {line.oxygen_need_cc:.0f} cc."
        )
    years = line.years_to_one_percent
    if years is not None and years < line.quality_years_high:
        yield (
            f"This film lets oxygen back to 1 % in about {years:.0f} years, before the food has "
            f"aged {line.quality_years_high:.0f}: foil laminate keeps it out."
        )
    if line.liner and line.fill_mass_g > LIFTED_ALONE_G:
        yield (
            "Too heavy for most people to lift alone: fill and seal it in its pail, and move the "
            "pail with two."
        )


def _no_barrier(film_name: str, leak_cc: float) -> Refusal:
    return Refusal(
        "This film does not keep oxygen out.",
        f"{film_name}: {leak_cc:.0f} cc of oxygen leak in a year, more than the pouch held.",
        "Choose a pouch of foil laminate; no absorber holds against such a leak.",
    )


_NO_ABSORBER = Refusal(
    "No absorber at hand works in dry food.",
    "Those listed take their water from the food, and dry food leaves them idle.",
    "Get self-activated absorbers, such as 100 or 300 cc.",
)


def _unfit(request: LineRequest, why: Refusal) -> Unfit:
    return Unfit(request.line, request.food.name, why.what, why.figure, why.advice, why.caution)


def _mass(mass_g: float, units: System) -> str:
    return say(mass_g, Dimension.MASS, units, fill.OUNCE_G if units == System.US else 10.0)
