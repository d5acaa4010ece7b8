from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.catalog.read import read_catalog
from packdesk.planning.plan import LineRequest, PlannedLine, Site, plan_line
from packdesk.units import System

CATALOG, FAULTS = read_catalog()
PLANNABLE = sorted(key for key in CATALOG.foods if key not in {"brown_rice", "peanuts"})

masses_g = st.floats(50.0, 200_000.0)
systems = st.sampled_from(list(System))
foods = st.sampled_from(PLANNABLE)
pouches = st.sampled_from(sorted(CATALOG.pouches))


def line(food: str, pouch: str, mass_g: float, system: System = System.METRIC) -> PlannedLine:
    """A line that is planned for certain."""
    request = LineRequest(1, CATALOG.foods[food], "", mass_g, CATALOG.pouches[pouch])
    found = plan_line(request, CATALOG, Site(), units=system)
    assert isinstance(found, PlannedLine)
    return found


@settings(max_examples=60, deadline=None)
@given(foods, pouches, masses_g, systems)
def test_what_the_pouches_hold_adds_up_to_what_was_bought(
    food: str, pouch: str, mass_g: float, system: System
) -> None:
    """No food is left over and no pouch holds more than its geometry allows."""
    planned = line(food, pouch, mass_g, system)
    total = (planned.count - 1) * planned.fill_mass_g + planned.last_fill_mass_g
    assert total == pytest.approx(mass_g, rel=1e-9)
    most_g = planned.capacity_l * 1000.0 * planned.bulk_density_g_per_cc
    assert 0.0 < planned.last_fill_mass_g <= planned.fill_mass_g * (1.0 + 1e-9)
    assert planned.fill_mass_g <= most_g * (1.0 + 1e-9)


@settings(max_examples=60, deadline=None)
@given(foods, pouches, masses_g)
def test_absorbers_never_fall_short(food: str, pouch: str, mass_g: float) -> None:
    """Every pouch gets at least the capacity recommended for its fill."""
    planned = line(food, pouch, mass_g)
    assert sum(planned.absorbers_cc) >= planned.recommended_cc
    assert planned.recommended_cc >= planned.oxygen_need_cc
