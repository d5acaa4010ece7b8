"""The program's single pint registry, for the compound units that catalogue files write."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry

_SPELT_FOR_PINT = MappingProxyType({
    "%": "percent",
    "1": "dimensionless",
    "°C": "degC",
    "°F": "degF",
    "W/(m K)": "W/(m*K)",
    "J/(kg K)": "J/(kg*K)",
    "kJ/(kg K)": "kJ/(kg*K)",
    "kcal/100g": "kcal/hectogram",
    "kJ/100g": "kJ/hectogram",
    "kg/m3": "kg/m**3",
    "lb/ft3": "lb/ft**3",
    "cc/(m2 day)": "cc/(m**2*day)",
    "gal": "US_liquid_gallon",
    "qt": "US_liquid_quart",
    "lb/gal": "lb/US_liquid_gallon",
    "lb/qt": "lb/US_liquid_quart",
    "g/cup": "g/US_liquid_cup",
    "mil": "thou",
})  # fmt: skip
"""Unit spellings of files and people that pint reads otherwise, or not at all."""


@cache
def registry() -> UnitRegistry[float]:
    """The program's one registry, made when it is first needed."""
    from pint import UnitRegistry

    return UnitRegistry()


def convert(value: float, unit: str, into: str) -> float:
    """The figure `value` said in unit `into` instead of `unit`, both of one dimension.

    Temperatures are points on the scale, not differences. Raises pint's own errors for an
    unknown unit or another dimension: callers offer a fixed choice of units.
    """
    if unit == into:
        return value
    pints = registry()
    source, target = (_SPELT_FOR_PINT.get(each, each) for each in (unit, into))
    return float(pints.Quantity(value, source).to(target).magnitude)
