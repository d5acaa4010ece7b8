"""Oxygen through a pouch's film over the years."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from packdesk.physics import air, leakage
from packdesk.physics.leakage import RatedIn
from packdesk.physics.ranges import OutOfRange

gases = st.floats(50.0, 20_000.0)
leaks = st.floats(0.01, 500.0)
spares = st.floats(0.0, 500.0)


@pytest.mark.parametrize(
    ("transmission", "pouch_cc", "liner_cc"),
    # Rating × area × 365 worked apart from this project, to two or three figures: a pouch of
    # 10 × 14 in (0.181 m²) and a liner of 20 × 30 in (0.774 m²), rated in air.
    [
        (0.005, 0.33, 1.4),
        (0.05, 3.3, 14.0),
        (0.6, 40.0, 170.0),
        (1.0, 66.0, 283.0),
        (2.0, 132.0, 565.0),
    ],
)
def test_leak_of_common_films(transmission: float, pouch_cc: float, liner_cc: float) -> None:
    """Films rated in air let in what the product of rating, area and a year says."""
    pouch, liner = (
        leakage.leak_cc_per_year(
            transmission, leakage.pouch_film_area_m2(w, h), RatedIn.AIR, counted_at_temp_c=25.0
        )
        for w, h in ((254.0, 355.6), (508.0, 762.0))
    )

    assert pouch == pytest.approx(pouch_cc, rel=0.02)
    assert liner == pytest.approx(liner_cc, rel=0.02)


def test_a_rating_in_pure_oxygen_drives_five_times_as_hard_as_a_pouch_on_a_shelf() -> None:
    """The same figure measured in pure oxygen means 0.2095 of the leak of one measured in air."""
    in_oxygen, in_air = (
        leakage.leak_cc_per_year(1.0, 0.2, rated_in)
        for rated_in in (RatedIn.PURE_OXYGEN, RatedIn.AIR)
    )

    assert in_oxygen / in_air == pytest.approx(0.2095)


def test_a_leak_counted_at_freezing_measures_more_when_warm() -> None:
    """A rating's cc at 0 °C are 9.2 % more reference cc."""
    # 298.15 / 273.15 = 1.0915.
    cold, warm = (
        leakage.leak_cc_per_year(1.0, 0.2, counted_at_temp_c=temp_c) for temp_c in (0.0, 25.0)
    )

    assert cold / warm == pytest.approx(1.0915, abs=0.0001)


def test_thinner_air_presses_less_oxygen_through() -> None:
    """At 2,000 m a pouch leaks 0.785 of what it does at sea level."""
    # 79,501 / 101,325 Pa, ISO 2533.
    high, low = (
        leakage.leak_cc_per_year(1.0, 0.2, pressure_pa=pressure)
        for pressure in (air.pressure_at_elevation_pa(2000.0), 101_325.0)
    )

    assert high / low == pytest.approx(0.7846, abs=0.0001)


@pytest.mark.parametrize(("gas", "leak", "spare"), [(500.0, 0.5, 0.0), (8000.0, 40.0, 300.0)])
def test_years_agree_with_numerical_integration(gas: float, leak: float, spare: float) -> None:
    """Years to 0.1, 1 and 5 % agree with integrating the flow into a pouch that gives way."""
    # Independent: moles of nitrogen stay, oxygen first feeds the absorber, then gathers.
    nitrogen = gas * 298.15 / 293.15 * (1.0 - 0.2095)

    def flow(_: float, oxygen: np.ndarray) -> list[float]:
        share = oxygen[0] / (oxygen[0] + nitrogen)
        return [leak * (1.0 - share / 0.2095)]

    for target in (0.001, 0.01, 0.05):
        years = leakage.years_to_fraction(gas, leak, target, spare_cc=spare)

        run = solve_ivp(flow, (spare / leak, years), [0.0], rtol=1e-10, atol=1e-10)
        gathered = run.y[0, -1]
        assert gathered / (gathered + nitrogen) == pytest.approx(target, rel=1e-6)


def test_a_pouch_counts_as_low_in_oxygen_up_to_one_per_cent() -> None:
    """Unless told otherwise the years are those to 1 %, where insects begin to live."""
    # Below 1 % for 12 days kills all stages: Utah State University Extension.
    years = leakage.years_to_fraction(500.0, 0.5)

    assert years == leakage.years_to_fraction(500.0, 0.5, 0.01)


def test_a_tight_film_keeps_for_ever() -> None:
    """Where nothing leaks the answer is infinity, in an ensemble too."""
    years = leakage.years_to_fraction(500.0, np.array([0.0, 0.5]))

    assert leakage.years_to_fraction(500.0, 0.0) == math.inf
    assert years[0] == math.inf
    assert years[1] == leakage.years_to_fraction(500.0, 0.5)


@given(gases, leaks, spares, st.floats(1.01, 5.0))
def test_a_leakier_film_never_keeps_longer(
    gas: float, leak: float, spare: float, more: float
) -> None:
    """More leak shortens, more gas and more spare absorber lengthen the years."""
    years = leakage.years_to_fraction(gas, leak, spare_cc=spare)

    assert leakage.years_to_fraction(gas, leak * more, spare_cc=spare) < years
    assert leakage.years_to_fraction(gas * more, leak, spare_cc=spare) > years
    later = leakage.years_to_fraction(gas, leak, spare_cc=spare + 10.0)
    assert later - years == pytest.approx(10.0 / leak, rel=1e-6)


def test_absorbers_cannot_carry_thirty_years_of_a_leaky_film() -> None:
    """One metallised layer of 1 cc/m²·day uses up a 300 cc absorber within some twenty years."""
    # By hand: 0.181 m² × 365.25 × 0.2095 × 1.0915 = 15.1 cc a year; 300 / 15.1 = 19.9 years.
    leak = leakage.leak_cc_per_year(1.0, leakage.pouch_film_area_m2(254.0, 355.6))

    assert leak == pytest.approx(15.1, abs=0.05)
    assert leakage.years_to_fraction(1000.0, leak, 1e-9, spare_cc=300.0) == pytest.approx(
        19.9, abs=0.1
    )


@pytest.mark.parametrize(
    ("call", "symbol"),
    [
        (lambda: leakage.pouch_film_area_m2(5.0, 300.0), "width_mm"),
        (lambda: leakage.leak_cc_per_year(-0.1, 0.2), "transmission_cc_per_m2_day"),
        (lambda: leakage.leak_cc_per_year(0.1, math.nan), "area_m2"),
        (lambda: leakage.leak_cc_per_year(0.1, 0.2, pressure_pa=1013.0), "pressure_pa"),
        (lambda: leakage.leak_cc_per_year(0.1, 0.2, counted_at_temp_c=73.0), "counted_at_temp_c"),
        (lambda: leakage.years_to_fraction(0.0, 1.0), "air_cc"),
        (lambda: leakage.years_to_fraction(500.0, -1.0), "leak_cc_per_year"),
        (lambda: leakage.years_to_fraction(500.0, 1.0, 0.2095), "target_fraction"),
        (lambda: leakage.years_to_fraction(500.0, 1.0, spare_cc=-1.0), "spare_cc"),
    ],
)
def test_inputs_outside_their_range_are_refused(call: Callable[[], object], symbol: str) -> None:
    """Each impossible figure is refused by its own name."""
    with pytest.raises(OutOfRange) as caught:
        call()

    assert caught.value.symbol == symbol
