"""By which rule the cold of a load was to be complete, how far it came, and where it was cold."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.session.figures import LoadFigures
from packdesk.session.terms import ColdRule, Stands
from packdesk.units import NO_BREAK_SPACE

_STANDS = {
    Stands.FREE_AIR: "in free air",
    Stands.TOUCHING: "touching others or the wall",
    Stands.STACKED: "stacked",
}


def held(held_h: float, needed_h: float) -> str:
    """Say how long a load was held and what was asked; a part of an hour is not counted."""
    if held_h >= needed_h:
        return f"held {int(held_h + 1e-6)} h, {needed_h:.0f} h asked"
    return f"held {int(held_h + 1e-6)} h of {needed_h:.0f} h"


def came_to(
    rule: ColdRule, held_h: float, needed_h: float, dose: float | None, dose_stage: str
) -> str:
    """Say how far the cold came by the rule that was to make it complete."""
    if rule is ColdRule.PLAIN or dose is None:
        return held(held_h, needed_h)
    if dose >= 1.0:
        return f"dose complete for {dose_stage}"
    return f"{int(dose * 100.0 + 1e-6)} % of the dose for {dose_stage}"


def where_cold(figures: LoadFigures, measures: Measures) -> str:
    """Say the freezer a load went into, where it stood, and the height inside if it was asked."""
    which = f"freezer {figures.freezer}" if figures.freezer > 1 else "the first freezer"
    high = figures.freezer_height_mm
    inside = f", {high:.0f}{NO_BREAK_SPACE}mm high inside" if high is not None else ""
    at_rest = measures.reading(figures.freezer_temp_c)
    return f"{which}, at {at_rest} at rest{inside}, {_STANDS[figures.stands]}"
