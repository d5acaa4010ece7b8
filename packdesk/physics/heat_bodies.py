"""What is being cooled or warmed: the shape of a load, what fills it, and what surrounds it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from packdesk.physics.heat_profiles import Kind
from packdesk.physics.ranges import within

_LENGTH_M = (0.001, 100.0)
_ENDS_FACTOR = (0.01, 10.0)
TEMPERATURE_C = (-120.0, 1500.0)
_COEFFICIENT_W_M2_K = (1e-6, 1e7)
"""Wide on purpose: a metal plate of a textbook must pass; what is likely for food is judged where
it is typed in."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """One step of a history: from ``start_h`` on, air at ``temp_c`` with this surface coefficient.

    ``coefficient_w_m2_k`` counts convection and radiation together. In free air it is 6 to 10:
    8 in a freezer and 9 in a room will do (computed from correlations for a pail's wall and a
    surface of emissivity 0.9); 3 to 6 where pails touch each other or a wall (a guess).
    """

    start_h: float
    temp_c: float
    coefficient_w_m2_k: float

    def __post_init__(self) -> None:
        within("start_h", self.start_h, -math.inf, math.inf, "h")
        within("temp_c", self.temp_c, *TEMPERATURE_C, "°C")
        within("coefficient_w_m2_k", self.coefficient_w_m2_k, *_COEFFICIENT_W_M2_K, "W/m²K")


@dataclass(frozen=True, slots=True)
class Direction:
    """One direction a shape is a product of; ``half_length_m`` is the radius or half thickness."""

    kind: Kind
    half_length_m: float
    is_height: bool
    meets_surface: bool
    """Whether the place taken for the surface lies at this direction's end, not in its middle."""
    coefficient_factor: float = 1.0
    """What the surface coefficient is multiplied by at this direction's ends."""


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A pail, filled to ``height_m``; its surface is taken at the wall, half way up.

    ``ends_factor`` is how much of the wall's surface coefficient reaches top and bottom, 0.01 to
    10: all of it unless told otherwise; less where the air below a lid, or a floor, is in between.
    """

    radius_m: float
    height_m: float
    ends_factor: float = 1.0

    def __post_init__(self) -> None:
        within("ends_factor", self.ends_factor, *_ENDS_FACTOR)
        within("radius_m", self.radius_m, *_LENGTH_M, "m")
        within("height_m", self.height_m, *_LENGTH_M, "m")

    @property
    def directions(self) -> tuple[Direction, ...]:
        """What the shape is a product of."""
        return (
            Direction(Kind.CYLINDER, self.radius_m, is_height=False, meets_surface=True),
            Direction(
                Kind.SLAB,
                self.height_m / 2.0,
                is_height=True,
                meets_surface=False,
                coefficient_factor=self.ends_factor,
            ),
        )

    @property
    def volume_m3(self) -> float:
        """What the food takes up, the air between its grains included."""
        return math.pi * self.radius_m**2 * self.height_m


@dataclass(frozen=True, slots=True)
class Slab:
    """A bag lying flat, cooled on both faces; its edges are left out of account."""

    thickness_m: float

    def __post_init__(self) -> None:
        within("thickness_m", self.thickness_m, *_LENGTH_M, "m")

    @property
    def directions(self) -> tuple[Direction, ...]:
        """What the shape is a product of."""
        return (Direction(Kind.SLAB, self.thickness_m / 2.0, is_height=True, meets_surface=True),)

    @property
    def volume_m3(self) -> float:
        """What one square metre of the bag takes up."""
        return self.thickness_m


@dataclass(frozen=True, slots=True)
class Box:
    """A carton or a stack; its surface is taken in the middle of the largest face.

    ``ends_factor`` is how much of the sides' surface coefficient reaches top and bottom, 0.01 to
    10.
    """

    length_m: float
    width_m: float
    height_m: float
    ends_factor: float = 1.0

    def __post_init__(self) -> None:
        within("ends_factor", self.ends_factor, *_ENDS_FACTOR)
        within("length_m", self.length_m, *_LENGTH_M, "m")
        within("width_m", self.width_m, *_LENGTH_M, "m")
        within("height_m", self.height_m, *_LENGTH_M, "m")

    @property
    def directions(self) -> tuple[Direction, ...]:
        """What the shape is a product of.

        Of all faces the largest keeps its middle closest to the core, so that it is the surface
        where a treatment is slowest.
        """
        sides = (self.length_m, self.width_m, self.height_m)
        shortest = sides.index(min(sides))
        return tuple(
            Direction(
                Kind.SLAB,
                side / 2.0,
                is_height=at == 2,
                meets_surface=at == shortest,
                coefficient_factor=self.ends_factor if at == 2 else 1.0,
            )
            for at, side in enumerate(sides)
        )

    @property
    def volume_m3(self) -> float:
        """What the food takes up, the air between its grains included."""
        return self.length_m * self.width_m * self.height_m


Shape = Cylinder | Slab | Box


@dataclass(frozen=True, slots=True)
class Filling:
    """The bulk properties of a dry food, the air between its grains included.

    No latent heat: the water of foods below about 20 % moisture cannot freeze (Duckworth 1971;
    Roos 1995, both from memory), so that only sensible heat moves.
    """

    conductivity_w_m_k: float
    heat_capacity_j_kg_k: float
    bulk_density_kg_m3: float

    def __post_init__(self) -> None:
        within("conductivity_w_m_k", self.conductivity_w_m_k, 0.005, 1000.0, "W/mK")
        within("heat_capacity_j_kg_k", self.heat_capacity_j_kg_k, 50.0, 10000.0, "J/kgK")
        within("bulk_density_kg_m3", self.bulk_density_kg_m3, 10.0, 25000.0, "kg/m³")


def checked_start_temp_c(start_temp_c: float) -> float:
    """The temperature a load begins with, refused outside −120 to 1500 °C."""
    return within("start_temp_c", start_temp_c, *TEMPERATURE_C, "°C")


def checked_history(history: Sequence[Surroundings]) -> tuple[Surroundings, ...]:
    """The steps of a history, refused if there is none or they are not in order of time.

    A step that lasts no time, because the next begins at the same hour, is left out.
    """
    steps = tuple(history)
    if not steps:
        raise ValueError("The history of surroundings is empty; give at least one step.")
    for before, after in pairwise(steps):
        if after.start_h < before.start_h:
            raise ValueError(
                f"The history of surroundings goes back in time, from {before.start_h:g} h to "
                f"{after.start_h:g} h; put its steps in order."
            )
    return (*(step for step, after in pairwise(steps) if after.start_h > step.start_h), steps[-1])
