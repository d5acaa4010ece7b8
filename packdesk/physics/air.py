"""What the room's air is: how moist, at what it sheds its water, how hard it presses, how much
oxygen it carries.

Relative humidity is a fraction from 0 to 1 and, as hygrometers and weather services have it, taken
over liquid water at every temperature, below 0 °C too (World Meteorological Organization,
WMO-No. 8, from memory).

ISO 2533, the US Standard Atmosphere 1976 and the ASHRAE handbook were not at hand: what is taken
from them here is from memory and was held against independent libraries.
"""

from __future__ import annotations

from typing import overload

import numpy as np

from packdesk.physics.ranges import OutOfRange, Quantity, plain, within

STANDARD_PRESSURE_PA = 101_325.0
"""Pressure at sea level in the standard atmosphere (ISO 2533)."""

DRY_AIR_OXYGEN_FRACTION = 0.2095
"""Oxygen in dry air by volume (ISO 2533 and US Standard Atmosphere 1976: 0.20948, rounded)."""

REFERENCE_TEMP_C = 25.0
"""Temperature at which a cc of oxygen is counted; why 25 °C: see ``oxygen``."""

ROOM_TEMP_C = 20.0
"""Temperature of the air shut in with food, where nobody read it."""

ZERO_C_IN_K = 273.15

# Magnus form e = E exp(A t / (B + t)), in Pa and °C. Over water: Alduchov & Eskridge (1996),
# J. Appl. Meteorol. 35:601, "AERK"; over ice: the same paper, "AERKi" (from memory).
_WATER = (610.94, 17.625, 243.04)
_ICE = (611.21, 22.587, 273.86)


def _magnus(constants: tuple[float, float, float], temp_c: Quantity) -> Quantity:
    e0, a, b = constants
    return plain(e0 * np.exp(a * temp_c / (b + temp_c)))


def _magnus_inverse(constants: tuple[float, float, float], pressure_pa: Quantity) -> Quantity:
    e0, a, b = constants
    exponent = np.log(pressure_pa / e0)
    return plain(b * exponent / (a - exponent))


def _vapour_pressure_pa(temp_c: Quantity, relative_humidity: Quantity, driest: float) -> Quantity:
    humidity = within("relative_humidity", relative_humidity, driest, 1.0)
    return humidity * saturation_pressure_pa(temp_c)


@overload
def saturation_pressure_pa(temp_c: float) -> float: ...
@overload
def saturation_pressure_pa(temp_c: Quantity) -> Quantity: ...
def saturation_pressure_pa(temp_c: Quantity) -> Quantity:
    """How much water vapour air can hold, as the pressure of vapour over liquid water.

    Symbols: ``temp_c`` air temperature, °C, −40 to 50 (below 0 °C over supercooled water).
    Source: Magnus form with the constants of Alduchov & Eskridge (1996), J. Appl. Meteorol. 35:601.
    Example: steam tables give 2.3392 kPa at 20 °C; the form is good to 0.4 %.

    >>> abs(saturation_pressure_pa(20.0) / 2339.2 - 1) < 0.004
    True

    Limits: pure vapour; the 0.4 % by which air at room pressure raises it is left out.
    """
    return _magnus(_WATER, within("temp_c", temp_c, -40.0, 50.0, "°C"))


@overload
def ice_saturation_pressure_pa(temp_c: float) -> float: ...
@overload
def ice_saturation_pressure_pa(temp_c: Quantity) -> Quantity: ...
def ice_saturation_pressure_pa(temp_c: Quantity) -> Quantity:
    """How much water vapour stands over ice, which is less than over water just as cold.

    Symbols: ``temp_c`` temperature, °C, −80 to 0.
    Source: Magnus form over ice, Alduchov & Eskridge (1996) (constants from memory).
    Example: the handbook value (Hyland & Wexler, ASHRAE Fundamentals ch. 1) at −18 °C is 124.9 Pa.

    >>> f"{ice_saturation_pressure_pa(-18.0):.0f}"
    '125'

    Limits: as ``saturation_pressure_pa``.
    """
    return _magnus(_ICE, within("temp_c", temp_c, -80.0, 0.0, "°C"))


@overload
def dew_point_c(temp_c: float, relative_humidity: float) -> float: ...
@overload
def dew_point_c(temp_c: Quantity, relative_humidity: Quantity) -> Quantity: ...
def dew_point_c(temp_c: Quantity, relative_humidity: Quantity) -> Quantity:
    """How cold a surface must be for dew to form on it.

    Symbols: ``temp_c`` air temperature, °C, −40 to 50; ``relative_humidity`` over water, 0.01 to 1.
    Source: inverse of the Magnus form, Alduchov & Eskridge (1996), J. Appl. Meteorol. 35:601.
    Example: windows fog at 15.4 °C in a room of 20 °C and 75 % (Çengel & Boles, Thermodynamics,
    Ex. 14-2, from memory).

    >>> f"{dew_point_c(20.0, 0.75):.1f}"
    '15.4'

    Limits: within 0.05 K of the reference libraries above 0 °C. A result below 0 °C is the dew
    point over supercooled water; what forms there is usually frost, see ``frost_point_c``.
    """
    vapour_pa = _vapour_pressure_pa(temp_c, relative_humidity, driest=0.01)
    # Of saturated air rounding would put it a hair above the air's own temperature.
    return plain(np.minimum(_magnus_inverse(_WATER, vapour_pa), temp_c))


@overload
def frost_point_c(
    temp_c: float, relative_humidity: float, *, humidity_over_ice: bool = False
) -> float: ...
@overload
def frost_point_c(
    temp_c: Quantity, relative_humidity: Quantity, *, humidity_over_ice: bool = False
) -> Quantity: ...
def frost_point_c(
    temp_c: Quantity, relative_humidity: Quantity, *, humidity_over_ice: bool = False
) -> Quantity:
    """How cold a surface must be for frost to form on it.

    Symbols: ``temp_c`` air temperature, °C, −40 to 50; ``relative_humidity`` 0.01 to 1, over water,
    or over ice if ``humidity_over_ice`` is set (the convention of the ASHRAE handbook for air below
    0 °C; then ``temp_c`` is −80 to 0).
    Source: inverse of the Magnus form over ice, Alduchov & Eskridge (1996).
    Example: the handbook (ASHRAE Fundamentals ch. 1) has −20.34 °C for air of −18 °C and 80 %.

    >>> f"{frost_point_c(-18.0, 0.80, humidity_over_ice=True):.1f}"
    '-20.3'

    Errors: air so moist that it sheds dew above 0 °C has no frost point and is refused.
    Limits: within 0.05 K of the reference libraries down to −25 °C.
    """
    if humidity_over_ice:
        humidity = within("relative_humidity", relative_humidity, 0.01, 1.0)
        vapour_pa = humidity * ice_saturation_pressure_pa(temp_c)
    else:
        vapour_pa = _vapour_pressure_pa(temp_c, relative_humidity, driest=0.01)
    frost_c = _magnus_inverse(_ICE, vapour_pa)
    highest = float(np.max(frost_c))
    if highest > 0.0:
        raise OutOfRange("frost_point_c", highest, -80.0, 0.0, "°C")
    return frost_c


@overload
def relative_humidity(temp_c: float, dew_point_c: float) -> float: ...
@overload
def relative_humidity(temp_c: Quantity, dew_point_c: Quantity) -> Quantity: ...
def relative_humidity(temp_c: Quantity, dew_point_c: Quantity) -> Quantity:
    """How moist air is whose dew point was read: the inverse of ``dew_point_c``.

    Symbols: ``temp_c`` air temperature, °C, −40 to 50; ``dew_point_c`` over water, °C, −40 up to
    the air temperature. The answer is a fraction from 0 to 1.
    Source: Magnus form, Alduchov & Eskridge (1996), J. Appl. Meteorol. 35:601.
    Example: the room of 20 °C with its dew point at 15.4 °C (Çengel & Boles, Ex. 14-2).

    >>> f"{relative_humidity(20.0, 15.4):.2f}"
    '0.75'

    Limits: as ``dew_point_c``.
    """
    dew_c = within("dew_point_c", dew_point_c, -40.0, temp_c, "°C")
    return plain(saturation_pressure_pa(dew_c) / saturation_pressure_pa(temp_c))


# The lowest layer of the standard atmosphere, ISO 2533: temperature at sea level, K; its fall, K/m;
# exponent g M / (R × fall); nominal radius of the Earth, m.
_SEA_LEVEL_K, _FALL_K_PER_M, _EXPONENT, _EARTH_RADIUS_M = 288.15, 0.0065, 5.255877, 6_356_766.0


@overload
def pressure_at_elevation_pa(elevation_m: float) -> float: ...
@overload
def pressure_at_elevation_pa(elevation_m: Quantity) -> Quantity: ...
def pressure_at_elevation_pa(elevation_m: Quantity) -> Quantity:
    """What a barometer at this height above the sea shows on a standard day.

    Symbols: ``elevation_m`` height above sea level, m, −500 to 6000.
    Source: ISO 2533 standard atmosphere, lowest layer: p = 101325 (1 − 0.0065 H / 288.15)^5.255877
    with H the geopotential height.
    Example: the table of ISO 2533 has 79.501 kPa at 2,000 m.

    >>> f"{pressure_at_elevation_pa(2000.0) / 1000:.2f}"
    '79.50'

    Limits: weather moves it by 3 % either way. A weather report's pressure is reduced to sea level
    and must not be used in its place.
    """
    z = within("elevation_m", elevation_m, -500.0, 6000.0, "m")
    geopotential_m = _EARTH_RADIUS_M * z / (_EARTH_RADIUS_M + z)
    cooling = 1.0 - _FALL_K_PER_M * geopotential_m / _SEA_LEVEL_K
    return plain(STANDARD_PRESSURE_PA * cooling**_EXPONENT)


@overload
def oxygen_fraction(
    temp_c: float, pressure_pa: float = STANDARD_PRESSURE_PA, relative_humidity: float = 0.0
) -> float: ...
@overload
def oxygen_fraction(
    temp_c: Quantity,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity: ...
def oxygen_fraction(
    temp_c: Quantity,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity:
    """What share of moist air, by volume, is oxygen.

    Symbols: ``temp_c`` air temperature, °C, −40 to 50; ``pressure_pa`` of the air, Pa, 50,000 to
    110,000; ``relative_humidity`` over water, 0 to 1.
    Source: Dalton's law with 20.95 % in dry air (ISO 2533).
    Example: steam tables have 3.1692 kPa at 25 °C, so at 60 % 1.90 of 101.325 kPa are water and
    0.2095 × (1 − 1.9015/101.325) = 0.2056.

    >>> f"{oxygen_fraction(25.0, 101_325.0, 0.60):.4f}"
    '0.2056'

    Limits: outdoor composition; what breath and flames take from a closed kitchen is left out.
    """
    total_pa = within("pressure_pa", pressure_pa, 50_000.0, 110_000.0, "Pa")
    vapour_pa = _vapour_pressure_pa(temp_c, relative_humidity, driest=0.0)
    return plain(DRY_AIR_OXYGEN_FRACTION * (1.0 - vapour_pa / total_pa))


@overload
def reference_cc_per_cc(temp_c: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float: ...
@overload
def reference_cc_per_cc(
    temp_c: Quantity, pressure_pa: Quantity = STANDARD_PRESSURE_PA
) -> Quantity: ...
def reference_cc_per_cc(temp_c: Quantity, pressure_pa: Quantity = STANDARD_PRESSURE_PA) -> Quantity:
    """How many reference cc (25 °C, 101,325 Pa) one cc of gas as it is here amounts to.

    Symbols: ``temp_c`` of the gas, °C, −40 to 50; ``pressure_pa`` of it, Pa, 50,000 to 110,000.
    Source: ideal gas law.
    Example: the same oxygen measures 9.2 % more at 25 °C than at 0 °C (298.15/273.15 = 1.0915).

    >>> f"{reference_cc_per_cc(0.0):.4f}"
    '1.0915'

    Limits: none that matter at room conditions (real gases differ by 0.1 %).
    """
    t = within("temp_c", temp_c, -40.0, 50.0, "°C")
    p = within("pressure_pa", pressure_pa, 50_000.0, 110_000.0, "Pa")
    warmth = (REFERENCE_TEMP_C + ZERO_C_IN_K) / (t + ZERO_C_IN_K)
    return plain(warmth * p / STANDARD_PRESSURE_PA)


@overload
def oxygen_cc_per_litre(
    temp_c: float, pressure_pa: float = STANDARD_PRESSURE_PA, relative_humidity: float = 0.0
) -> float: ...
@overload
def oxygen_cc_per_litre(
    temp_c: Quantity,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity: ...
def oxygen_cc_per_litre(
    temp_c: Quantity,
    pressure_pa: Quantity = STANDARD_PRESSURE_PA,
    relative_humidity: Quantity = 0.0,
) -> Quantity:
    """How many reference cc of oxygen (25 °C, 101,325 Pa) a litre of this air holds.

    Symbols: as ``oxygen_fraction``.
    Source: Dalton's law and the ideal gas law.
    Example: 209.5 cc at the reference conditions, dry (definition); at 2,000 m (79,501 Pa, ISO
    2533) and 25 °C 209.5 × 0.7846 = 164.4 cc.

    >>> f"{oxygen_cc_per_litre(25.0):.1f}"
    '209.5'
    >>> f"{oxygen_cc_per_litre(25.0, 79_501.0):.1f}"
    '164.4'

    Limits: as ``oxygen_fraction``.
    """
    share = oxygen_fraction(temp_c, pressure_pa, relative_humidity)
    return plain(1000.0 * share * reference_cc_per_cc(temp_c, pressure_pa))
