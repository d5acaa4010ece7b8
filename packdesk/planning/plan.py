"""The plan: what each food takes when it is put up, what cannot be, and what to have at hand."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from packdesk.catalog.foods import LowOxygen
from packdesk.catalog.pails import Pail
from packdesk.catalog.read import Catalog
from packdesk.planning.line import plan_line
from packdesk.planning.loads import pail_loads
from packdesk.planning.planned import LineRequest, PlannedLine, Site, Unfit
from packdesk.planning.supplies import Supplies, supplies_for
from packdesk.units import System

__all__ = [
    "LineRequest",
    "Plan",
    "PlannedLine",
    "Site",
    "Unfit",
    "freezer_pails",
    "plan",
    "plan_line",
    "usual_pail",
]

USUAL_PAIL_L = 18.93
"""The pail taken where nobody chose one: the one nearest to five US gallons (common practice)."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Every line, planned or unfit, in the order asked for; and what to have at hand."""

    lines: tuple[PlannedLine, ...]
    unfit: tuple[Unfit, ...]
    supplies: Supplies


def plan(
    requests: Iterable[LineRequest],
    catalog: Catalog,
    site: Site,
    *,
    units: System = System.METRIC,
    ratings_cc: Sequence[int] | None = None,
    pail: Pail | None = None,
) -> Plan:
    """What all lines take together.

    ``pail`` is the one for freezer loads and for stowing pouches (None: `usual_pail`); the others
    as in `plan_line`.
    """
    asked = tuple(requests)
    found = [plan_line(each, catalog, site, units=units, ratings_cc=ratings_cc) for each in asked]
    lines = tuple(each for each in found if isinstance(each, PlannedLine))
    chosen = pail or usual_pail(catalog)
    goes = [
        request for request, line in zip(asked, found, strict=True) if isinstance(line, PlannedLine)
    ]
    return Plan(
        lines,
        tuple(each for each in found if isinstance(each, Unfit)),
        supplies_for(lines, catalog, chosen, freezer_pails(goes, chosen)),
    )


def freezer_pails(requests: Iterable[LineRequest], pail: Pail) -> int:
    """How many pails the cold treatment takes, each of one food and one lot.

    Sugar and salt go without: what needs no low oxygen feeds no insect either.
    """
    by_lot: defaultdict[tuple[str, str], list[LineRequest]] = defaultdict(list)
    for each in requests:
        if each.food.low_oxygen is not LowOxygen.NOT_NEEDED:
            by_lot[each.food.key, each.lot].append(each)
    return sum(
        len(pail_loads(sum(each.mass_g for each in lot), lot[0].food, pail))
        for lot in by_lot.values()
    )


def usual_pail(catalog: Catalog) -> Pail:
    """The pail that is taken where nobody chose one."""
    return min(catalog.pails.values(), key=lambda each: abs(each.nominal_volume_l - USUAL_PAIL_L))
