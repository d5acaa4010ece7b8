"""What is uncertain of a load, how far, and members drawn evenly from it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from packdesk.physics.ranges import Floats, within


@dataclass(frozen=True, slots=True)
class Spreads:
    """How far each property may lie from its figure, as a fraction of it, either way.

    A spread of 0.2 means anywhere from 1/1.2 to 1.2 times the figure, every value counting alike
    on a scale of ratios: of a stated range no more is known than its ends. Conductivity and heat
    capacity: 0.13 ± 0.03 W/mK and 1.75 ± 0.2 kJ/kgK span the handbook values of grain beds at
    12 % moisture (ASABE D243, from memory); surface coefficient: 6 to 10 W/m²K in free air
    (computed); bulk density: shaken pails lie some 5 % about poured cups (computed from lists of
    the community); fill height: a guess, no source.
    """

    conductivity: float = 0.2
    heat_capacity: float = 0.12
    bulk_density: float = 0.05
    coefficient: float = 0.3
    fill_height: float = 0.05

    def __post_init__(self) -> None:
        for name, spread in zip(self.__slots__, self.all, strict=True):
            within(f"spread of {name}", spread, 0.0, 3.0)

    @property
    def all(self) -> tuple[float, ...]:
        """The spreads in the order of an ensemble's factors."""
        return (
            self.conductivity,
            self.heat_capacity,
            self.bulk_density,
            self.coefficient,
            self.fill_height,
        )


@dataclass(frozen=True, slots=True)
class Factors:
    """What each member multiplies the stated figures by, shapes (members,)."""

    conductivity: Floats
    heat_capacity: Floats
    bulk_density: Floats
    coefficient: Floats
    fill_height: Floats


def drawn(spreads: Spreads, members: int) -> Factors:
    """What each of so many members multiplies the figures by, spread evenly over all of it."""
    points = even_points(members, len(spreads.all))
    return Factors(
        *(
            (1.0 + spread) ** (2.0 * column - 1.0)
            for spread, column in zip(spreads.all, points.T, strict=True)
        )
    )


def even_points(count: int, dimensions: int) -> Floats:
    """Points spread evenly over the unit cube, shape (count, dimensions).

    Source: the additive recurrence of the generalised golden ratio (M. Roberts, The unreasonable
    effectiveness of quasirandom sequences, 2018, from memory), so that a longer sequence begins
    with the shorter one.
    """
    ratio = 2.0
    for _ in range(60):
        ratio = (1.0 + ratio) ** (1.0 / (dimensions + 1.0))
    steps = ratio ** -np.arange(1.0, dimensions + 1.0)
    return np.asarray((0.5 + np.outer(np.arange(1.0, count + 1.0), steps)) % 1.0)


def chosen(factors: Factors, keep: NDArray[np.bool_] | slice) -> Factors:
    """The factors of some of the members."""
    return Factors(
        factors.conductivity[keep],
        factors.heat_capacity[keep],
        factors.bulk_density[keep],
        factors.coefficient[keep],
        factors.fill_height[keep],
    )
