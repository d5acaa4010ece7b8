"""A figure of the trade: number, unit, where it comes from, and how far it can be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """How a figure is known."""

    PUBLISHED = "published"
    """Read in the source named."""
    COMPUTED = "computed"
    """Worked out by the method of the source named."""
    PRACTICE = "common practice"
    """What people of the trade use; no source is known."""
    MEMORY = "from memory"
    """Remembered from the publication named, which could not be read again."""
    OWN = "own entry"
    """Entered by the person who uses this copy; never used in shipped files."""


@dataclass(frozen=True)
class Figure:
    """One number of the trade with its unit, where it comes from and how it is known.

    `low` and `high` span what is believed possible; where nothing is known of the spread both
    equal `value`. `as_published` repeats the figure in the words and unit of its source.
    """

    value: float
    unit: str
    source: str
    grade: Grade
    low: float
    high: float
    as_published: str = ""
    note: str = ""


@dataclass(frozen=True)
class Measure:
    """The unit a figure is kept in, other units a file may write, and the range it must lie in."""

    unit: str
    least: float
    most: float
    also: tuple[str, ...] = ()

    @property
    def units(self) -> tuple[str, ...]:
        """Every unit a file may write for this figure."""
        return (self.unit, *self.also)


def length_mm(least: float, most: float) -> Measure:
    """A length kept in millimetres."""
    return Measure("mm", least, most, also=("cm", "m", "in"))


def temperature_c(least: float, most: float) -> Measure:
    """A temperature kept in degrees Celsius."""
    return Measure("degC", least, most, also=("degF", "°C", "°F"))


def percent(most: float = 100.0) -> Measure:
    """A share kept in per cent."""
    return Measure("%", 0.0, most)
