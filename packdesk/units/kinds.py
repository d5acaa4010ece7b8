"""The kinds of quantity that fields and screens know, and the few units each is written in.

They stand in a table, apart from the registry: making that takes a third of a second, too long
for the first keystroke or the first window. A test holds the table against the registry.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

MINUS = "\u2212"
NO_BREAK_SPACE = "\u00a0"


class System(StrEnum):
    """The units people are shown."""

    METRIC = "metric"
    US = "us"


class Dimension(StrEnum):
    """What kind of quantity a field wants; each is kept in one base unit."""

    MASS = "mass"
    TEMPERATURE = "temperature"
    VOLUME = "volume"
    GAS = "amount of oxygen"
    LENGTH = "length"
    ELEVATION = "elevation"
    SHARE = "percentage"

    @property
    def units(self) -> tuple[str, ...]:
        """The units a person may write, the base unit first."""
        return tuple(KINDS[self].units)

    @property
    def with_article(self) -> str:
        """The name as a sentence has it: "a mass", "an elevation"."""
        return f"{'an' if self[0] in 'aeiou' else 'a'} {self}"


@dataclass(frozen=True)
class Unit:
    """A unit as `base = (shown - zero) * size`."""

    size: float
    zero: float = 0.0

    def to_base(self, shown: float) -> float:
        """The base unit's figure for a figure in this unit."""
        return (shown - self.zero) * self.size

    def from_base(self, value: float) -> float:
        """This unit's figure for a figure in the base unit."""
        return value / self.size + self.zero


@dataclass(frozen=True)
class Kind:
    """How one dimension is written: units by symbol, usual bounds in the base unit."""

    units: Mapping[str, Unit]
    least: float
    most: float
    examples: str
    shown: Mapping[System, tuple[str, ...]]
    """Symbols from large to small; the first that the value fills is used."""
    signed: bool = False

    @property
    def base(self) -> str:
        """The symbol of the base unit, which stands first."""
        return next(iter(self.units))


_IN = 25.4
_FT = 0.3048
_LB = 453.59237
_OZ = _LB / 16
_GAL = 3.785411784
"""Exact by definition: the international pound and foot, the US gallon of 231 cubic inches."""

KINDS: Mapping[Dimension, Kind] = MappingProxyType({
    Dimension.MASS: Kind(
        {"g": Unit(1), "kg": Unit(1000), "lb": Unit(_LB), "oz": Unit(_OZ)},
        1, 200_000, "1.25 kg or 2 lb 8 oz",
        {System.METRIC: ("kg", "g"), System.US: ("lb", "oz")},
    ),
    Dimension.TEMPERATURE: Kind(
        {"°C": Unit(1), "°F": Unit(5 / 9, 32)},
        -60, 250, "−18 °C or 70 °F",
        {System.METRIC: ("°C",), System.US: ("°F",)},
        signed=True,
    ),
    Dimension.VOLUME: Kind(
        {"L": Unit(1), "mL": Unit(0.001), "gal": Unit(_GAL), "qt": Unit(_GAL / 4)},
        0.01, 500, "19 L or 5 gal",
        {System.METRIC: ("L",), System.US: ("gal", "qt")},
    ),
    Dimension.GAS: Kind(
        {"cc": Unit(1), "mL": Unit(1), "L": Unit(1000)},
        1, 20_000, "300 cc",
        {System.METRIC: ("cc",), System.US: ("cc",)},
    ),
    Dimension.LENGTH: Kind(
        {"mm": Unit(1), "cm": Unit(10), "m": Unit(1000), "in": Unit(_IN),
         "ft": Unit(1000 * _FT)},
        1, 3000, "60 mm or 2.5 in",
        {System.METRIC: ("mm",), System.US: ("in",)},
    ),
    Dimension.ELEVATION: Kind(
        {"m": Unit(1), "ft": Unit(_FT)},
        -500, 6000, "1600 m or 5200 ft",
        {System.METRIC: ("m",), System.US: ("ft",)},
        signed=True,
    ),
    Dimension.SHARE: Kind(
        {"%": Unit(1)}, 0, 100, "55 %", {System.METRIC: ("%",), System.US: ("%",)}
    ),
})  # fmt: skip

SPELLINGS: Mapping[str, str] = MappingProxyType({
    spelling: symbol
    for symbol, spellings in {
        "g": "g gr gram grams gramme grammes",
        "kg": "kg kgs kilo kilos kilogram kilograms",
        "lb": "lb lbs pound pounds",
        "oz": "oz ounce ounces",
        "°C": "°c c degc celsius",
        "°F": "°f f degf fahrenheit",
        "L": "l liter liters litre litres",
        "mL": "ml milliliter milliliters millilitre millilitres",
        "gal": "gal gals gallon gallons",
        "qt": "qt qts quart quarts",
        "cc": "cc ccm cm3",
        "mm": "mm millimeter millimeters millimetre millimetres",
        "cm": "cm centimeter centimeters centimetre centimetres",
        "m": "m meter meters metre metres",
        "in": "in inch inches \" ′′",
        "ft": "ft foot feet ' ′",
        "%": "% percent",
    }.items()
    for spelling in spellings.split()
})  # fmt: skip

SMALLER_PART = MappingProxyType({"lb": "oz", "kg": "g", "gal": "qt", "ft": "in", "L": "mL"})
"""Pairs in which one quantity may be written, such as 2 lb 8 oz."""
