"""The plan of a session with its figures, as text and as JSON with units in its keys."""

from __future__ import annotations

import json
from typing import Any

from packdesk.present.freezer_plan import FreezerPlan
from packdesk.present.label_text import absorber_words, food_title, quality_years
from packdesk.present.measures import Measures
from packdesk.session.figures import AgreedLine
from packdesk.session.state import SessionState


def plan_text(session: SessionState, freezer: FreezerPlan) -> str:
    """Say the plan of `session` in a few lines for each food, then the freezer's calendar."""
    if session.plan is None:
        return f"{session.name}: no plan is agreed yet."
    measures = Measures(session.units)
    parts = [f"{session.name}, at {session.plan.elevation_m:.0f} m above sea level"]
    parts += [_line_text(line, measures) for line in session.plan.lines]
    if freezer.words:
        parts.append("\n".join(freezer.words))
    return "\n\n".join(parts)


def _line_text(line: AgreedLine, measures: Measures) -> str:
    said = [
        f"{food_title(line.food_name)}, lot {line.lot}, {measures.mass(line.mass_g)}",
        (
            f"  {line.count} × {line.pouch_name}, {measures.mass(line.fill_mass_g)} each "
            f"({line.capacity_l:.2f} L)"
        ),
        (
            f"  oxygen to take up: {line.oxygen_need_cc:.0f} cc in each, "
            f"recommended {line.recommended_cc:.0f} cc"
        ),
        f"  {absorber_words(line)}",
        (f"  best quality {quality_years(line)} years at about 21 °C"),
    ]
    if line.allergens:
        said.append(f"  contains {', '.join(line.allergens)}")
    if line.caution:
        said.append(f"  {line.caution}")
    said += [f"  {warning}" for warning in line.warnings]
    return "\n".join(said)


def plan_json(session: SessionState) -> str:
    """The plan of `session` as a JSON object; every key says its unit."""
    lines: list[dict[str, Any]] = []
    plan = session.plan
    for line in plan.lines if plan is not None else ():
        lines.append(
            {
                "line": line.line,
                "food": line.food,
                "food_name": line.food_name,
                "lot": line.lot,
                "mass_g": line.mass_g,
                "pouch": line.pouch,
                "pouch_name": line.pouch_name,
                "pouches": line.count,
                "fill_mass_g": line.fill_mass_g,
                "capacity_l": line.capacity_l,
                "air_cc": line.air_cc,
                "oxygen_need_cc": line.oxygen_need_cc,
                "recommended_cc": line.recommended_cc,
                "absorbers_cc": list(line.absorbers_cc),
                "quality_years_low": line.quality_years_low,
                "quality_years_high": line.quality_years_high,
                "years_to_one_percent_oxygen": line.years_to_one_percent,
                "allergens": list(line.allergens),
                "caution": line.caution,
                "warnings": list(line.warnings),
            }
        )
    found = {
        "session": session.name,
        "code": session.code,
        "elevation_m": plan.elevation_m if plan is not None else None,
        "packing_temp_c": plan.packing_temp_c if plan is not None else None,
        "lines": lines,
    }
    return json.dumps(found, ensure_ascii=False, indent=2)
