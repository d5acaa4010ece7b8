"""Loads of one packing day, planned back under what the freezer can bear."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import j0, j1

from packdesk.physics.heat import Cylinder, Filling, ensemble
from packdesk.planning.back_plan import (
    BETWEEN_LOADINGS_H,
    USUAL_FREEZER,
    BackLoad,
    BackPlan,
    PlanFreezer,
    back_plan,
)
from packdesk.planning.calendar import Cabinet, NeverReady, calendar_of, spell
from packdesk.planning.loads import PailLoad

SATURDAY = datetime(2026, 11, 28, 8, 0, tzinfo=UTC)
NOW = datetime(2026, 11, 16, 8, 0, tzinfo=UTC)
WHEAT = PailLoad(
    radius_mm=140.0, fill_height_mm=340.0, conductivity_w_m_k=0.13, heat_capacity_j_kg_k=1800.0,
    bulk_density_kg_m3=790.0, start_temp_c=21.0, freezer_temp_c=-18.0,
)  # fmt: skip
SMALL = replace(WHEAT, fill_height_mm=120.0)


def load(name: str, figures: PailLoad = WHEAT) -> BackLoad:
    """One pail."""
    return BackLoad(name, "wheat-1", "wheat", 16_500.0, figures)


def planned(*loads: BackLoad, now: datetime = NOW) -> BackPlan:
    """Packing on Saturday by the plain rule."""
    return back_plan(SATURDAY, loads, 72.0, -15.0, now)


def test_one_load_alone_has_the_calendar_it_always_had() -> None:
    """A single pail goes in by as much before packing as its cold, its hold and its thaw take."""
    found = planned(load("a"))
    alone = spell(WHEAT, 72.0, -15.0)
    load_by = SATURDAY - timedelta(hours=alone.total_h)
    assert found.loads[0].calendar == calendar_of(alone, load_by)
    assert found.begin_by == found.loads[0].calendar.load_by


def test_more_than_the_freezer_can_bear_goes_in_a_day_apart() -> None:
    """No loading warms the frozen food above its limit; loadings lie a day apart or more.

    By hand: a pail of 16.5 kg at 1.8 kJ/kgK holds 1.16 MJ between 21 and −18 °C, which 60 W take
    5.4 h to draw out at the least: five together more than a day.
    """
    found = planned(*(load(each) for each in "abcde"))

    assert found.together < 5
    assert found.warmest_frozen_c <= found.frozen_limit_c == -15.0
    assert not found.overloaded
    starts = sorted({each.calendar.load_by for each in found.loads})
    assert len(starts) == found.loadings
    for earlier, later in pairwise(starts):
        assert later - earlier >= timedelta(hours=BETWEEN_LOADINGS_H)


def test_every_load_is_ready_when_it_is_packed() -> None:
    """Each is held its 72 hours and may be opened by packing time, all packed together."""
    for each in planned(*(load(name) for name in "abc")).loads:
        times = each.calendar
        assert times.load_by < times.cold_from < times.hold_done < times.lid_off
        assert times.hold_done - times.cold_from == timedelta(hours=72)
        assert times.lid_off <= times.pack_at == SATURDAY
        assert times.first_check == SATURDAY + timedelta(hours=24)


def test_pails_that_go_in_together_wait_for_the_slowest() -> None:
    """A small pail beside a large one goes in with it, and is ready before it."""
    found = planned(load("large"), load("small", SMALL))
    times = {each.load.name: each.calendar for each in found.loads}

    assert times["small"].load_by == times["large"].load_by
    assert times["small"].lid_off < times["large"].lid_off


def test_too_late_says_when_it_can_be_packed_instead() -> None:
    """What begins now is packed as much later as the beginning was missed."""
    early = planned(load("a"))
    assert early.feasible(NOW)
    missed = early.begin_by + timedelta(hours=5)
    late = planned(load("a"), now=missed)

    assert not late.feasible(missed)
    assert late.earliest_pack_at == SATURDAY + timedelta(hours=5)
    again = back_plan(late.earliest_pack_at, [load("a")], 72.0, -15.0, missed)
    assert again.feasible(missed)


def test_a_pail_too_warm_for_the_freezer_alone_is_said() -> None:
    """A barrel warms what is frozen above the limit whatever is done."""
    barrel = replace(WHEAT, radius_mm=230.0, fill_height_mm=600.0, start_temp_c=45.0)
    found = planned(load("barrel", barrel))
    assert found.overloaded
    assert found.warmest_frozen_c > -15.0


def test_a_cold_strong_freezer_is_planned_as_cold_and_strong() -> None:
    """At −26 °C with power to spare the latest time is that of the series for steady air."""
    # Independent: the product of slab and cylinder (Carslaw and Jaeger, 2nd ed., 3.11 and
    # 7.7, ten terms each, roots by bisection) for every member, and numpy's Hazen quantile.
    strong = PlanFreezer(1, -26.0, Cabinet(spare_power_w=5000.0, frozen_kg=10.0))
    found = back_plan(SATURDAY, [load("a")], 72.0, -15.0, NOW, freezers=[strong]).loads[0].calendar

    factors = ensemble(Cylinder(0.14, 0.34), Filling(0.13, 1800.0, 790.0)).factors
    takes_h = [
        _to_minus_15_h(0.13 * k, 1800.0 * c * 790.0 * rho, 8.0 * film, 0.17 * fill)
        for k, c, rho, film, fill in zip(
            factors.conductivity, factors.heat_capacity, factors.bulk_density,
            factors.coefficient, factors.fill_height, strict=True,
        )
    ]  # fmt: skip
    late_h = float(np.quantile(takes_h, 0.9, method="hazen"))

    assert (found.cold_from - found.load_by) / timedelta(hours=1) == pytest.approx(late_h, abs=0.26)
    usual = planned(load("a")).loads[0].calendar
    assert found.load_by > usual.load_by + timedelta(hours=6)


def _to_minus_15_h(k: float, capacity: float, film: float, half: float) -> float:
    """The hours from 21 °C to −15 °C in the core of a pail of radius 0.14 m in air at −26 °C."""
    radial = _roots(lambda m: m * j1(m) - film * 0.14 / k * j0(m))
    axial = _roots(lambda m: m * np.sin(m) - film * half / k * np.cos(m))
    of_r = 2.0 * j1(radial) / (radial * (j0(radial) ** 2 + j1(radial) ** 2))
    of_z = 4.0 * np.sin(axial) / (2.0 * axial + np.sin(2.0 * axial))

    def above_k(hour: float) -> float:
        passed = k / capacity * hour * 3600.0
        fade_r = (of_r * np.exp(-(radial**2) * passed / 0.14**2)).sum()
        fade_z = (of_z * np.exp(-(axial**2) * passed / half**2)).sum()
        return -26.0 + 47.0 * float(fade_r * fade_z) + 15.0

    return float(brentq(above_k, 1.0, 200.0, xtol=1e-3))


def _roots(function: Callable[[np.ndarray], np.ndarray]) -> np.ndarray:
    """The first ten roots above nought, each between two points where the sign changes."""
    grid = np.arange(1e-6, 32.0, 0.05)
    at = np.flatnonzero(np.diff(np.sign(function(grid))))[:10]
    return np.array([brentq(function, grid[each], grid[each + 1]) for each in at])


def test_the_power_typed_settles_how_many_go_in_together() -> None:
    """A weak freezer takes fewer at a time than a strong one; two freezers take more than one.

    By hand: five pails of 16.5 kg at 1.8 kJ/kgK hold 5.8 MJ between 21 and −18 °C; 600 W draw that
    out in 2.7 h and 40 W in 40 h, while ten kilograms of frozen food warm by 6 K for some 0.1 MJ.
    """
    five = [load(each) for each in "abcde"]

    def together(*freezers: PlanFreezer) -> BackPlan:
        return back_plan(SATURDAY, five, 72.0, -15.0, NOW, freezers=freezers)

    weak, strong = (PlanFreezer(1, -18.0, Cabinet(power)) for power in (40.0, 600.0))
    assert together(weak).together < together(strong).together == 5
    assert together(strong).loadings == 1

    beside = replace(weak, number=2)
    both = together(weak, beside)
    assert both.together == 2 * together(weak).together
    assert both.begin_by > together(weak).begin_by
    assert {each.freezer for each in both.loads} == {1, 2}


def test_a_freezer_no_load_gets_cold_in_is_left_out() -> None:
    """At −12 °C nothing comes to −15 °C: beside another it is not planned with, alone refused."""
    warm = PlanFreezer(2, -12.0)
    found = back_plan(SATURDAY, [load("a")], 72.0, -15.0, NOW, freezers=[warm, USUAL_FREEZER])
    assert found.freezers == (1,)
    with pytest.raises(NeverReady, match="not reached in a freezer"):
        back_plan(SATURDAY, [load("a")], 72.0, -15.0, NOW, freezers=[warm])


def test_without_loads_there_is_nothing_to_plan() -> None:
    """An empty plan is a mistake of the caller."""
    with pytest.raises(ValueError, match="at least one load"):
        planned()
