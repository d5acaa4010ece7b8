"""Loads of one packing day, planned back under what the freezer can bear."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from packdesk.planning.back_plan import (
    BETWEEN_LOADINGS_H,
    FROZEN_FOOD_LIMIT_C,
    BackLoad,
    BackPlan,
    back_plan,
)
from packdesk.planning.calendar import calendar_of, spell
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
    assert found.warmest_frozen_c <= FROZEN_FOOD_LIMIT_C
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
    assert found.warmest_frozen_c > FROZEN_FOOD_LIMIT_C


def test_without_loads_there_is_nothing_to_plan() -> None:
    """An empty plan is a mistake of the caller."""
    with pytest.raises(ValueError, match="at least one load"):
        planned()
