"""What a thermometer in or on a load says about the members of an ensemble."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from packdesk.physics.heat_bodies import TEMPERATURE_C
from packdesk.physics.ranges import Floats, within

_NEGLIGIBLE = 1e-4
"""A member that counts this little beside the best is left out, to spare its reckoning."""


class ReadAt(StrEnum):
    """Where a thermometer was."""

    CORE = "core"
    """A wired probe put in the middle before the lid went on, or a reading with the lid off
    inside the freezer."""
    WALL = "wall"
    """Held against the outside of the wall: a weak reading."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of a thermometer in or on a load.

    ``error_k`` is one standard deviation of thermometer and placing together; left out, 0.7 K for
    a probe in the core and 2.5 K for one against the wall (common practice, no source).
    """

    hour: float
    temp_c: float
    where: ReadAt = ReadAt.CORE
    error_k: float | None = None

    def __post_init__(self) -> None:
        within("hour", self.hour, -math.inf, math.inf, "h")
        within("temp_c", self.temp_c, *TEMPERATURE_C, "°C")
        if self.error_k is not None:
            within("error_k", self.error_k, 0.01, 50.0, "K")

    @property
    def standard_error_k(self) -> float:
        """The error counted with, in K."""
        if self.error_k is not None:
            return self.error_k
        return 0.7 if self.where is ReadAt.CORE else 2.5


def effective_members(weights: Floats) -> float:
    """How many members of equal weight would tell as much (Kish 1965, from memory)."""
    return float(weights.sum() ** 2 / np.square(weights).sum())


def reweighted(squared_misfits: Floats, before: Floats, widened: float) -> Floats:
    """The weights after readings whose errors are normal and ``widened`` times as stated.

    ``squared_misfits`` sums, for each member, the squares of its distances from the readings in
    stated errors; ``before`` are the weights so far. Members beside which the best counts more
    than ten thousand times get none.
    """
    relative = (squared_misfits - squared_misfits.min()) / (2.0 * widened**2)
    weights = before * np.exp(-relative)
    weights = np.where(weights > weights.max() * _NEGLIGIBLE, weights, 0.0)
    return np.asarray(weights / weights.sum())


def widening(squared_misfits: Floats, before: Floats, fewest_effective: float) -> float:
    """What the errors must be multiplied by so that enough members count."""
    goal = min(fewest_effective, 0.9 * effective_members(before))
    if effective_members(reweighted(squared_misfits, before, 1.0)) >= goal:
        return 1.0
    low, high = 1.0, 2.0
    while effective_members(reweighted(squared_misfits, before, high)) < goal:
        low, high = high, 2.0 * high
    for _ in range(40):
        middle = math.sqrt(low * high)
        if effective_members(reweighted(squared_misfits, before, middle)) < goal:
            low = middle
        else:
            high = middle
    return high
