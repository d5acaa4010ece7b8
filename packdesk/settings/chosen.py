"""What a person has chosen, and what was measured of each printer with each label stock."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from types import MappingProxyType

from packdesk.settings.declared import DECLARED, Value

MEASURE_BOUNDS_MM = MappingProxyType(
    {
        "across_mm": (50.0, 200.0),
        "down_mm": (50.0, 200.0),
        "right_mm": (-5.0, 5.0),
        "lower_mm": (-5.0, 5.0),
    }
)
"""What a ruler of 100 mm can come to on paper, and how far a print can be moved."""


@dataclass(frozen=True, slots=True)
class PrinterMeasure:
    """One printer with one label stock: its two printed rulers, and how far prints are moved.

    `across_mm` and `down_mm` (50 to 200) are what the rulers of 100 mm measured; `right_mm` and
    `lower_mm` (-5 to 5) are added to every place, right and down. Raises `ValueError`, in words.
    """

    printer: str
    stock: str
    across_mm: float
    down_mm: float
    right_mm: float = 0.0
    lower_mm: float = 0.0

    def __post_init__(self) -> None:
        if not (self.printer + self.stock).isprintable():
            raise ValueError("A printer and a stock have names on one line.")
        for name, (least, most) in MEASURE_BOUNDS_MM.items():
            value = getattr(self, name)
            if not least <= value <= most:
                raise ValueError(f"{name} is {value:g}; it must be {least:g} to {most:g}.")

    @property
    def offset_mm(self) -> tuple[float, float]:
        """Right and down, as sheets of labels take it."""
        return self.right_mm, self.lower_mm


MEASURE_FIELDS = tuple(each.name for each in fields(PrinterMeasure))


@dataclass(frozen=True, slots=True)
class Settings:
    """All choices made, and all measures; what was not chosen has its usual value."""

    choices: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    measures: tuple[PrinterMeasure, ...] = ()

    def text(self, name: str) -> str:
        """A choice that is a text; raises `KeyError` for one that is not declared."""
        return str(self.choices.get(name, DECLARED[name].usual))

    def figure(self, name: str) -> float:
        """A choice that is a figure; raises `KeyError` for one that is not declared."""
        return float(self.choices.get(name, DECLARED[name].usual))

    def with_choice(self, name: str, value: Value) -> Settings:
        """The same with another choice; raises `ValueError`, in words, for one out of bounds."""
        objection = DECLARED[name].objection(value)
        if objection:
            raise ValueError(f"“{name}” {objection}.")
        return replace(self, choices=MappingProxyType({**self.choices, name: value}))

    def measure(self, printer: str, stock: str) -> PrinterMeasure | None:
        """What was measured of a printer with a stock, if anything was."""
        found = (each for each in self.measures if (each.printer, each.stock) == (printer, stock))
        return next(found, None)

    def with_measure(self, measure: PrinterMeasure) -> Settings:
        """The same with a new measure in the place of the older one."""
        pair = (measure.printer, measure.stock)
        others = tuple(each for each in self.measures if (each.printer, each.stock) != pair)
        return replace(self, measures=(*others, measure))
