"""How each kind of typed text is read; what cannot be taken is answered in words."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from packdesk.instants import Reading, When
from packdesk.ui.pages.typed_time import NotATime, parse_time
from packdesk.units import (
    NO_BREAK_SPACE,
    Dimension,
    NotUnderstood,
    System,
    figure_of_line,
    parse,
)

_WHOLE = re.compile(r"\d{1,6}")
_RUN = re.compile(r"(\d{1,5})(?:(?:-|–|to)(\d{1,5}))?")

THERMOMETER_C = (-100.0, 130.0)
"""Anything a thermometer can show, in either scale: what cannot be meant is answered with a cure.
"""

DEFAULT_UNITS = {
    System.METRIC: {
        Dimension.MASS: "kg",
        Dimension.TEMPERATURE: "°C",
        Dimension.ELEVATION: "m",
        Dimension.LENGTH: "mm",
        Dimension.SHARE: "%",
    },
    System.US: {
        Dimension.MASS: "lb",
        Dimension.TEMPERATURE: "°F",
        Dimension.ELEVATION: "ft",
        Dimension.LENGTH: "in",
        Dimension.SHARE: "%",
    },
}


@dataclass(frozen=True, slots=True)
class Quantity:
    """Reads a quantity; `unit` is meant where none is typed, `within` bounds it (base unit)."""

    dimension: Dimension
    unit: str
    within: tuple[float, float] | None = None

    def __call__(self, text: str) -> float:
        """The quantity in the base unit of its dimension; raises `NotUnderstood`."""
        weighed = self.dimension is Dimension.MASS
        typed = figure_of_line(text) if weighed else text
        return parse(typed, self.dimension, self.unit, self.within)


def usual(dimension: Dimension, units: str, within: tuple[float, float] | None = None) -> Quantity:
    """The quantity as people of this unit system type it."""
    return Quantity(dimension, DEFAULT_UNITS[System(units)][dimension], within)


def figure(said: str, unit: str) -> str:
    """What a field with this unit inside shows of a quantity said in words: its figure alone."""
    return said.removesuffix(f"{NO_BREAK_SPACE}{unit}")


@dataclass(frozen=True, slots=True)
class Whole:
    """Reads a count of things between `least` and `most`."""

    things: str
    least: int = 1
    most: int = 999

    def __call__(self, text: str) -> int:
        """The count; raises `NotUnderstood`."""
        typed = text.strip()
        bounds = f"{self.least} to {self.most}"
        if not typed:
            raise NotUnderstood(f"Nothing is typed. Write how many {self.things}, {bounds}.")
        if not _WHOLE.fullmatch(typed):
            raise NotUnderstood(
                f"“{typed}” is not a whole number. Write how many {self.things}, {bounds}."
            )
        if not self.least <= int(typed) <= self.most:
            raise NotUnderstood(f"{typed} {self.things} cannot be here. Write {bounds}.")
        return int(typed)


@dataclass(frozen=True, slots=True)
class Numbers:
    """Reads pouch numbers such as `3, 5 to 8`."""

    def __call__(self, text: str) -> tuple[int, ...]:
        """The numbers in ascending order, each once; raises `NotUnderstood`."""
        typed = text.strip()
        if not typed:
            raise NotUnderstood("Nothing is typed. Write which pouches, such as 3, 5 to 8.")
        found: set[int] = set()
        joined = re.sub(r"\s*(-|–|to)\s*", r"\1", typed.lower())
        for part in re.split(r"[\s,;]+|and", joined):
            if not part:
                continue
            run = _RUN.fullmatch(part)
            if run is None:
                raise NotUnderstood(
                    f"“{typed}” names no pouches. Write their numbers, such as 3, 5 to 8."
                )
            first, last = int(run[1]), int(run[2] or run[1])
            if not 1 <= first <= last:
                raise NotUnderstood(
                    f"“{part}” is no run of pouches. Pouches count from 1, the lower number first."
                )
            found.update(range(first, min(last, first + 9999) + 1))
        return tuple(sorted(found))


@dataclass(frozen=True, slots=True)
class Share:
    """Reads a relative humidity in percent; answers 0 to 1."""

    def __call__(self, text: str) -> float:
        """The humidity as a fraction; raises `NotUnderstood`."""
        return parse(text, Dimension.SHARE, "%", (1.0, 100.0)) / 100.0


@dataclass(frozen=True, slots=True)
class Sentence:
    """Reads a line of words that must not be empty."""

    wanted: str
    longest: int = 200

    def __call__(self, text: str) -> str:
        """The words without blanks around them; raises `NotUnderstood`."""
        words = " ".join(text.split())
        if not words:
            raise NotUnderstood(f"Nothing is typed. {self.wanted}")
        if len(words) > self.longest:
            raise NotUnderstood(f"That is {len(words)} letters. Say it in {self.longest} or fewer.")
        return words


@dataclass(frozen=True, slots=True)
class Moment:
    """Reads when something happened; `now` gives the clocks when the text is read."""

    now: Callable[[], Reading]
    offset_min_at: Callable[[datetime], int] | None = None

    def __call__(self, text: str) -> When | None:
        """The instant, or None for now; raises `NotUnderstood`."""
        typed = " ".join(text.split())
        if typed.lower() in ("", "now", "just now"):
            return None
        try:
            return parse_time(typed, self.now(), self.offset_min_at)
        except NotATime as refused:
            raise NotUnderstood(str(refused)) from None
