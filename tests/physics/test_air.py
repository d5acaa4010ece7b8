"""Moist air, pressure at an elevation, oxygen in air."""

from __future__ import annotations

import math

import ambiance
import numpy as np
import psychrolib
import pytest
from CoolProp import HumidAirProp
from hypothesis import given
from hypothesis import strategies as st

from packdesk.physics import air
from packdesk.physics.ranges import OutOfRange

psychrolib.SetUnitSystem(psychrolib.SI)

ROOM_TEMPS_C = tuple(np.arange(5.0, 40.1, 2.5).tolist())
HUMIDITIES = (0.10, 0.15, 0.20, 0.30, 0.40, 0.50, 0.60, 0.70, 0.80, 0.90, 0.95)
temps = st.floats(-20.0, 45.0)
humidities = st.floats(0.05, 1.0)
elevations = st.floats(-400.0, 5000.0)


def by_coolprop(temp_c: float, humidity: float) -> float:
    """Dew or frost point of a real-gas library."""
    kelvin = HumidAirProp.HAPropsSI("D", "T", temp_c + 273.15, "P", 101_325.0, "R", humidity)
    return kelvin - 273.15


def dew_or_frost(temp_c: float, humidity: float) -> float:
    """Both libraries answer the frost point where the dew point would lie below 0 °C."""
    dew = air.dew_point_c(temp_c, humidity)
    return dew if dew >= 0.0 else air.frost_point_c(temp_c, humidity)


@pytest.mark.parametrize(
    "reference",
    [psychrolib.GetTDewPointFromRelHum, by_coolprop],
    ids=["PsychroLib", "CoolProp"],
)
def test_dew_and_frost_point_agree_with_the_reference_libraries(reference) -> None:
    """From 5 to 40 °C and 10 to 95 % the dew or frost point is within 0.05 K of both libraries."""
    worst = max(
        abs(dew_or_frost(t, rh) - reference(t, rh)) for t in ROOM_TEMPS_C for rh in HUMIDITIES
    )

    assert worst < 0.05


@pytest.mark.parametrize(("temp_c", "humidity"), [(-5.0, 0.9), (-10.0, 0.6), (-18.0, 0.8)])
def test_frost_point_in_a_freezer_agrees_in_the_libraries_own_convention(
    temp_c: float, humidity: float
) -> None:
    """Where both libraries take humidity over ice, the frost point over ice is theirs."""
    frost = air.frost_point_c(temp_c, humidity, humidity_over_ice=True)

    assert frost == pytest.approx(psychrolib.GetTDewPointFromRelHum(temp_c, humidity), abs=0.05)
    assert frost == pytest.approx(by_coolprop(temp_c, humidity), abs=0.05)


@pytest.mark.parametrize(
    ("temp_c", "humidity", "dew_c"),
    # Computed apart from this project with PsychroLib 2.5.0 and CoolProp 8.0.0, 101.325 kPa.
    [
        (20.0, 0.50, 9.27),
        (20.0, 0.75, 15.44),
        (25.0, 0.60, 16.70),
        (30.0, 0.80, 26.17),
        (15.0, 0.70, 9.58),
        (22.0, 0.35, 5.85),
        (25.0, 0.30, 6.24),
        (35.0, 0.60, 26.07),
        (10.0, 0.90, 8.44),
    ],
)
def test_dew_point_of_the_table_rows(temp_c: float, humidity: float, dew_c: float) -> None:
    """Rows of the published-library table are met within 0.05 K."""
    assert air.dew_point_c(temp_c, humidity) == pytest.approx(dew_c, abs=0.05)


def test_window_fogging_example() -> None:
    """A room of 20 °C and 75 % fogs its windows at 15.4 °C."""
    # Çengel & Boles, Thermodynamics, Ex. 14-2 (from memory), printed to 0.1 K.
    assert air.dew_point_c(20.0, 0.75) == pytest.approx(15.4, abs=0.05)


def test_room_of_moist_air_example() -> None:
    """Air of 25 °C and 75 % holds 2.38 kPa of vapour."""
    # Çengel & Boles, Thermodynamics, Ex. 14-1 (from memory), printed to three figures.
    assert 0.75 * air.saturation_pressure_pa(25.0) == pytest.approx(2380.0, rel=0.004)


def goff_gratch_water_hpa(temp_c: float) -> float:
    """Saturation over water, Smithsonian Meteorological Tables, 6th ed., p. 350 (from memory)."""
    k, boiling = temp_c + 273.15, 373.16
    return 10.0 ** (
        -7.90298 * (boiling / k - 1.0)
        + 5.02808 * math.log10(boiling / k)
        - 1.3816e-7 * (10.0 ** (11.344 * (1.0 - k / boiling)) - 1.0)
        + 8.1328e-3 * (10.0 ** (-3.49149 * (boiling / k - 1.0)) - 1.0)
        + math.log10(1013.246)
    )


def goff_gratch_ice_hpa(temp_c: float) -> float:
    """Saturation over ice, Smithsonian Meteorological Tables, p. 350."""
    k, triple = temp_c + 273.15, 273.16
    return 10.0 ** (
        -9.09718 * (triple / k - 1.0)
        - 3.56654 * math.log10(triple / k)
        + 0.876793 * (1.0 - k / triple)
        + math.log10(6.1071)
    )


@pytest.mark.parametrize("temp_c", [-5.0, -12.0, -18.0, -25.0])
def test_dew_point_and_frost_point_of_freezer_air_are_told_apart(temp_c: float) -> None:
    """In air of 80 % below 0 °C each of the two saturates on its own curve, frost the warmer."""
    dew, frost = air.dew_point_c(temp_c, 0.80), air.frost_point_c(temp_c, 0.80)

    vapour_hpa = 0.80 * goff_gratch_water_hpa(temp_c)
    assert frost > dew
    # 0.05 K are 0.5 % of vapour pressure here.
    assert goff_gratch_water_hpa(dew) == pytest.approx(vapour_hpa, rel=0.005)
    assert goff_gratch_ice_hpa(frost) == pytest.approx(vapour_hpa, rel=0.005)


@pytest.mark.parametrize(
    ("temp_c", "pressure_pa"),
    # ASHRAE's Hyland & Wexler, computed apart with PsychroLib 2.5.0; the Magnus form is good to
    # 0.4 % (Alduchov & Eskridge 1996).
    [(10.0, 1228.0), (20.0, 2338.8), (25.0, 3169.2), (30.0, 4246.0), (40.0, 7383.5)],
)
def test_saturation_pressure_of_the_table_rows(temp_c: float, pressure_pa: float) -> None:
    """Saturation over water meets the handbook's rows within the form's own 0.4 %."""
    assert air.saturation_pressure_pa(temp_c) == pytest.approx(pressure_pa, rel=0.004)


@pytest.mark.parametrize(
    ("temp_c", "pressure_pa"), [(-20.0, 103.3), (-18.0, 124.9), (-10.0, 259.9), (0.0, 611.2)]
)
def test_saturation_over_ice_of_the_table_rows(temp_c: float, pressure_pa: float) -> None:
    """Saturation over ice meets the handbook's rows within 0.4 %."""
    # As above; below 0 °C the handbook speaks of ice.
    assert air.ice_saturation_pressure_pa(temp_c) == pytest.approx(pressure_pa, rel=0.004)


def test_pressure_agrees_with_an_independent_atmosphere() -> None:
    """Up to 4,000 m the pressure is within 0.05 % of an independent standard atmosphere."""
    elevations_m = np.linspace(-400.0, 4000.0, 45)

    ours = air.pressure_at_elevation_pa(elevations_m)

    theirs = ambiance.Atmosphere(elevations_m).pressure
    assert np.max(np.abs(ours / theirs - 1.0)) < 0.0005


@pytest.mark.parametrize(
    ("elevation_m", "kilopascals"),
    # ISO 2533 / US Standard Atmosphere 1976, by geometric height.
    [(0.0, 101.325), (500.0, 95.461), (1000.0, 89.876), (2000.0, 79.501), (3000.0, 70.121)],
)
def test_pressure_of_the_standard_tables(elevation_m: float, kilopascals: float) -> None:
    """The tables of the standard atmosphere are met to their last digit."""
    assert air.pressure_at_elevation_pa(elevation_m) / 1000.0 == pytest.approx(
        kilopascals, abs=0.0006
    )


def test_oxygen_of_dry_air_is_that_of_the_standard_atmosphere() -> None:
    """Dry air holds 20.95 % of oxygen at every temperature and pressure."""
    # ISO 2533: 20.9476 % by volume, given here to four figures.
    shares = air.oxygen_fraction(np.array([-18.0, 0.0, 40.0]), np.array([7e4, 8e4, 1e5]), 0.0)

    assert shares == pytest.approx([0.209476] * 3, abs=0.00005)


def test_water_vapour_takes_its_share_from_oxygen() -> None:
    """Air of 25 °C and 60 % holds 20.56 % of oxygen."""
    # By hand with 3.169 kPa of the steam tables: 0.2095 × (1 − 0.6 × 3.169 / 101.325).
    assert air.oxygen_fraction(25.0, 101_325.0, 0.60) == pytest.approx(0.2056, abs=0.00005)


def test_oxygen_per_litre_follows_pressure_temperature_and_water() -> None:
    """A litre at 1,500 m, 15 °C and 50 % holds as many moles of oxygen as the gas law says."""
    # Independent: n = x p V / (R T) with R = 8.314462618 and the vapour pressure by PsychroLib,
    # counted again at 25 °C and 101,325 Pa.
    pressure, kelvin = 84_560.0, 288.15
    vapour = 0.5 * psychrolib.GetSatVapPres(15.0)
    moles = 0.2095 * (pressure - vapour) * 1e-3 / (8.314462618 * kelvin)
    expected = moles * 8.314462618 * 298.15 / 101_325.0 * 1e6

    assert air.oxygen_cc_per_litre(15.0, pressure, 0.5) == pytest.approx(expected, rel=1e-4)


@given(temps, humidities)
def test_dew_point_and_humidity_are_each_others_inverse(temp_c: float, humidity: float) -> None:
    """The humidity read back from a dew point is the humidity it came from."""
    dew = air.dew_point_c(temp_c, humidity)
    if dew >= -40.0:
        assert air.relative_humidity(temp_c, dew) == pytest.approx(humidity, rel=1e-9)


@given(temps)
def test_saturated_air_can_be_read_back_too(temp_c: float) -> None:
    """Rounding never puts the dew point of saturated air above the air's own temperature."""
    assert air.relative_humidity(temp_c, air.dew_point_c(temp_c, 1.0)) == pytest.approx(1.0)


@given(temps, humidities)
def test_moister_air_sheds_water_sooner_and_never_above_its_own_temperature(
    temp_c: float, humidity: float
) -> None:
    """The dew point rises with humidity and reaches the air temperature at saturation."""
    dew = air.dew_point_c(temp_c, humidity)

    assert dew <= temp_c
    assert air.dew_point_c(temp_c, 1.0) == pytest.approx(temp_c, abs=1e-9)
    assert air.dew_point_c(temp_c, 0.9 * humidity) < dew


@given(st.floats(-25.0, -0.5), humidities)
def test_frost_forms_before_dew_below_freezing(temp_c: float, humidity: float) -> None:
    """Below 0 °C the frost point lies above the dew point of the same air."""
    dew = air.dew_point_c(temp_c, humidity)
    if dew < -1.0:
        assert air.frost_point_c(temp_c, humidity) > dew


@given(elevations, elevations, temps, st.floats(0.0, 1.0))
def test_higher_places_hold_less_oxygen_in_a_litre(
    one_m: float, other_m: float, temp_c: float, humidity: float
) -> None:
    """A litre of air never holds more oxygen at the higher of two places."""
    low, high = sorted((one_m, other_m))

    def litre(elevation_m: float) -> float:
        return air.oxygen_cc_per_litre(temp_c, air.pressure_at_elevation_pa(elevation_m), humidity)

    assert litre(high) <= litre(low)


@pytest.mark.parametrize(("temp_c", "humidity"), [(20.0, 0.60), (1.0, 0.95)])
def test_air_too_moist_for_frost_is_refused(temp_c: float, humidity: float) -> None:
    """Air that sheds dew has no frost point, and the refusal says how warm it would be."""
    with pytest.raises(OutOfRange) as caught:
        air.frost_point_c(temp_c, humidity)

    assert caught.value.symbol == "frost_point_c"
    assert caught.value.high == 0.0
    assert caught.value.value > 0.0


@pytest.mark.parametrize(
    ("call", "symbol", "value"),
    [
        (lambda: air.saturation_pressure_pa(51.0), "temp_c", 51.0),
        (lambda: air.ice_saturation_pressure_pa(0.5), "temp_c", 0.5),
        (lambda: air.dew_point_c(20.0, 55.0), "relative_humidity", 55.0),
        (lambda: air.dew_point_c(20.0, 0.0), "relative_humidity", 0.0),
        (lambda: air.frost_point_c(3.0, 0.5, humidity_over_ice=True), "temp_c", 3.0),
        (lambda: air.relative_humidity(20.0, 21.0), "dew_point_c", 21.0),
        (lambda: air.pressure_at_elevation_pa(29_000.0), "elevation_m", 29_000.0),
        (lambda: air.oxygen_fraction(20.0, 101_325.0, 45.0), "relative_humidity", 45.0),
        (lambda: air.reference_cc_per_cc(72.0), "temp_c", 72.0),
    ],
)
def test_inputs_outside_their_range_are_refused(call, symbol: str, value: float) -> None:
    """A percentage for a fraction, feet for metres, hPa for Pa: each is refused by name."""
    with pytest.raises(OutOfRange) as caught:
        call()

    assert (caught.value.symbol, caught.value.value) == (symbol, value)


def test_what_is_not_a_number_is_refused() -> None:
    """A reading that failed is not turned into a dew point."""
    with pytest.raises(OutOfRange):
        air.dew_point_c(math.nan, 0.5)


def test_ensembles_are_answered_member_by_member() -> None:
    """An array of temperatures gives what each one gives alone, in the same shape."""
    t = np.array([[5.0, 15.0], [25.0, 35.0]])

    together = air.dew_point_c(t, 0.5)

    assert together.shape == t.shape
    assert together.ravel().tolist() == [air.dew_point_c(x, 0.5) for x in t.ravel().tolist()]
    assert type(air.dew_point_c(20.0, 0.5)) is float
