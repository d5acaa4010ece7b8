"""Core, surface and mean temperature of a load over a history of surroundings."""

from __future__ import annotations

import numpy as np
import pytest

from packdesk.physics.heat import (
    Box,
    Cylinder,
    Filling,
    Slab,
    Surroundings,
    temperatures_c,
)
from packdesk.physics.ranges import OutOfRange

RICE = Filling(0.11, 0.11 / 8.5e-8 / 800.0, 800.0)
FREEZE_AND_THAW = [Surroundings(0.0, -18.0, 6.0), Surroundings(48.0, 22.0, 7.0)]


def test_core_of_a_pail_through_freeze_and_thaw_follows_the_exact_series() -> None:
    """The core agrees with a forty-term series worked out outside this program."""
    # R 0.14 m, H 0.36 m, 20 °C at the start; the design's storage study, section 4 ii, exact to
    # four places for both phases with 8, 40 and 80 terms alike.
    hours = np.array([6.0, 12.0, 24.0, 36.0, 48.0, 54.0, 60.0, 72.0, 84.0])
    expected = [17.0743, 5.8976, -9.3351, -15.0084, -16.9730, -14.1147, -2.2093, 13.5417, 19.1841]

    found = temperatures_c(Cylinder(0.14, 0.36), RICE, 20.0, FREEZE_AND_THAW, hours)

    assert found.core_c == pytest.approx(expected, abs=6e-5)


@pytest.mark.parametrize(
    ("shape", "filling", "start_c", "air", "hour", "core_c", "surface_c", "within_k"),
    [
        # Çengel, Heat and Mass Transfer, 3rd ed., from memory; "chart" means read off a chart.
        pytest.param(  # example 4-4: brass plate, surface 282 °C by chart
            Slab(0.04), Filling(110.0, 380.0, 8530.0), 20.0, Surroundings(0.0, 500.0, 120.0),
            7 / 60, None, 282.0, 4.0, id="plate",
        ),
        pytest.param(  # example 4-5: long steel shaft, centre 360 °C by chart
            Cylinder(0.1, 20.0), Filling(14.9, 477.0, 7900.0), 600.0,
            Surroundings(0.0, 200.0, 80.0), 0.75, 360.0, None, 5.0, id="shaft",
        ),
        pytest.param(  # example 4-7: short brass cylinder, centre 63 °C by chart
            Cylinder(0.05, 0.12), Filling(110.0, 380.0, 8530.0), 120.0,
            Surroundings(0.0, 25.0, 60.0), 0.25, 63.0, None, 1.0, id="short cylinder",
        ),
        pytest.param(  # Incropera and DeWitt, pipeline wall, 42.9 °C, from memory; one term
            Slab(0.08), Filling(63.9, 434.0, 7832.0), -20.0, Surroundings(0.0, 60.0, 500.0),
            8 / 60, 42.9, None, 0.2, id="pipe wall",
        ),
    ],
)  # fmt: skip
def test_textbook_examples_come_out_within_the_precision_of_the_book(
    shape: Slab | Cylinder,
    filling: Filling,
    start_c: float,
    air: Surroundings,
    hour: float,
    core_c: float | None,
    surface_c: float | None,
    within_k: float,
) -> None:
    """Plates and cylinders of the textbooks come out as printed, charts within their width."""
    found = temperatures_c(shape, filling, start_c, [air], np.array([hour]))

    if core_c is not None:
        assert found.core_c[0] == pytest.approx(core_c, abs=within_k)
    if surface_c is not None:
        assert found.surface_c[0] == pytest.approx(surface_c, abs=within_k)


def test_impossible_figures_are_refused_with_symbol_and_range() -> None:
    """A pail of no width, an hour before the history and a history gone backwards are refused."""
    with pytest.raises(OutOfRange) as refused:
        Cylinder(0.0, 0.3)
    assert (refused.value.symbol, refused.value.value, refused.value.unit) == ("radius_m", 0.0, "m")

    with pytest.raises(OutOfRange, match="hours is -1 h"):
        temperatures_c(Box(0.3, 0.3, 0.3), RICE, 20.0, FREEZE_AND_THAW, np.array([-1.0]))
    with pytest.raises(ValueError, match="put its steps in order"):
        temperatures_c(Slab(0.1), RICE, 20.0, FREEZE_AND_THAW[::-1], np.array([60.0]))
    with pytest.raises(ValueError, match="at least one step"):
        temperatures_c(Slab(0.1), RICE, 20.0, [], np.array([1.0]))
