from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from packdesk.planning.calendar import NeverReady, calendar_of, spell
from packdesk.planning.loads import PailLoad
from packdesk.units import System

SATURDAY = datetime(2026, 11, 28, 8, 0, tzinfo=UTC)
WHEAT = PailLoad(
    radius_mm=140.0, fill_height_mm=340.0, conductivity_w_m_k=0.13, heat_capacity_j_kg_k=1800.0,
    bulk_density_kg_m3=790.0, start_temp_c=21.0, freezer_temp_c=-18.0,
)  # fmt: skip


def test_the_late_side_lies_beyond_the_handbook_answer() -> None:
    """A full 5-gallon pail of wheat reaches −15 °C in 32 h and thaws to 18 °C in 31 h; ours later.

    Those are the one-term product solutions (Çengel, Heat and Mass Transfer, chapter 4) with the
    same figures. With conductivity ±20 % and surface coefficient ±30 % they span 28 to 45 h: nine
    in ten loads are done before ours, which is why it lies in the upper part of that span.
    """
    found = spell(WHEAT, 72.0, -15.0)
    assert 32.2 < found.cooling_h < 45.0
    assert 31.5 < found.thaw_h < 45.0
    assert found.hold_h == 72.0


def test_the_instants_of_a_calendar_follow_each_other() -> None:
    """Loading, cold, end of the hold, lid off, packing, first check a day later."""
    plan = calendar_of(spell(WHEAT, 72.0, -15.0), SATURDAY)
    assert plan.load_by == SATURDAY
    assert plan.load_by < plan.cold_from < plan.hold_done < plan.lid_off <= plan.pack_at
    assert plan.hold_done - plan.cold_from == timedelta(hours=72)
    assert plan.first_check - plan.pack_at == timedelta(hours=24)


def test_a_smaller_load_takes_less_time() -> None:
    """Half the height is cold and warm again before the whole."""
    small = replace(WHEAT, fill_height_mm=170.0)
    assert spell(small, 72.0, -15.0).total_h < spell(WHEAT, 72.0, -15.0).total_h


def test_pails_that_go_in_together_take_longer() -> None:
    """Four warm pails keep the freezer's own air warm for hours."""
    alone, crowded = spell(WHEAT, 72.0, -15.0), spell(WHEAT, 72.0, -15.0, beside=(WHEAT,) * 3)
    assert crowded.cooling_h > alone.cooling_h + 1.0


def test_a_humidity_reading_lets_the_lid_off_sooner_in_dry_air_and_later_in_damp() -> None:
    """The dew point at 30 % lies far below the room, at 90 % close to it."""
    dry = spell(WHEAT, 72.0, -15.0, relative_humidity=0.3).thaw_h
    unread = spell(WHEAT, 72.0, -15.0).thaw_h
    damp = spell(WHEAT, 72.0, -15.0, relative_humidity=0.9).thaw_h
    assert dry < unread < damp


@pytest.mark.parametrize(
    ("units", "core", "better"),
    [(System.METRIC, "−18 °C", "−21 °C"), (System.US, "0 °F", "−6 °F")],
)
def test_a_core_as_cold_as_the_freezer_is_never_reached(
    units: System, core: str, better: str
) -> None:
    """The sentence says how cold the freezer should be, in the person's units."""
    with pytest.raises(NeverReady) as refusal:
        spell(WHEAT, 72.0, -18.0, units=units)
    assert str(refusal.value).replace("\u00a0", " ") == (
        f"A core of {core} is not reached in a freezer at {core}. "
        f"Set the freezer to {better} or colder."
    )
