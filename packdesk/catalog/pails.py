"""Rigid pails, and the freezers they must fit into."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Annotated

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Measure, length_mm, temperature_c


@dataclass(frozen=True, kw_only=True)
class Pail(Description):
    """One pail, its inside taken as a cone cut off at the bottom."""

    nominal_volume: Annotated[Figure, Measure("L", 0.5, 300.0, also=("gal", "qt"))]
    top_diameter: Annotated[Figure, length_mm(100.0, 1000.0)]
    bottom_diameter: Annotated[Figure, length_mm(100.0, 1000.0)]
    inner_height: Annotated[Figure, length_mm(100.0, 1200.0)]
    rim_gap: Annotated[Figure, length_mm(0.0, 200.0)]
    """What stays empty below the rim so that the lid goes on."""
    empty_mass: Annotated[Figure, Measure("g", 20.0, 20000.0, also=("kg", "lb", "oz"))]

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together."""
        found = []
        if self.bottom_diameter.value > self.top_diameter.value:
            found.append("is wider at its bottom than at its top; exchange the two diameters")
        if self.rim_gap.value > self.inner_height.value / 2:
            found.append("has a rim_gap of more than half its inner_height")
        if not 0.8 <= self.brimful_l / self.nominal_volume_l <= 1.3:
            found.append(
                f"holds {self.brimful_l:.1f} L by its measures but is called "
                f"{self.nominal_volume_l:.1f} L; one of them is wrong"
            )
        return tuple(found)

    @property
    def nominal_volume_l(self) -> float:
        """The volume the pail is called by."""
        return self.nominal_volume.value

    @property
    def top_diameter_mm(self) -> float:
        """Inside, at the rim."""
        return self.top_diameter.value

    @property
    def bottom_diameter_mm(self) -> float:
        """Inside, at the floor."""
        return self.bottom_diameter.value

    @property
    def inner_diameter_mm(self) -> float:
        """Inside, half way up: the cylinder that stands for the pail in heat reckoning."""
        return (self.top_diameter.value + self.bottom_diameter.value) / 2

    @property
    def inner_height_mm(self) -> float:
        """Inside, from floor to rim."""
        return self.inner_height.value

    @property
    def usable_depth_mm(self) -> float:
        """Inside, from the floor to as high as it may be filled."""
        return self.inner_height.value - self.rim_gap.value

    @property
    def empty_mass_g(self) -> float:
        """The pail with its lid."""
        return self.empty_mass.value

    @property
    def brimful_l(self) -> float:
        """What it holds filled to the rim."""
        return self._filled_l(self.inner_height_mm)

    @property
    def usable_volume_l(self) -> float:
        """What it holds filled as high as it may be."""
        return self._filled_l(self.usable_depth_mm)

    def _filled_l(self, depth_mm: float) -> float:
        floor = self.bottom_diameter_mm / 2
        widening = (self.top_diameter_mm - self.bottom_diameter_mm) / 2 / self.inner_height_mm
        surface = floor + widening * depth_mm
        return pi * depth_mm / 3 * (floor**2 + floor * surface + surface**2) / 1e6


@dataclass(frozen=True, kw_only=True)
class Freezer(Description):
    """One make of household freezer."""

    inner_height: Annotated[Figure, length_mm(50.0, 2500.0)]
    temperature: Annotated[Figure, temperature_c(-90.0, 5.0)]

    @property
    def inner_height_mm(self) -> float:
        """Clear height for a standing pail."""
        return self.inner_height.value

    @property
    def temperature_c(self) -> float:
        """The air inside, settled."""
        return self.temperature.value
