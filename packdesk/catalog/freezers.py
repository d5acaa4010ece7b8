"""Household freezers: whether a pail stands upright in one, and how cold it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Measure, length_mm


@dataclass(frozen=True, kw_only=True)
class Freezer(Description):
    """One make of household freezer."""

    inner_height: Annotated[Figure, length_mm(50.0, 2500.0)]
    temperature: Annotated[Figure, Measure("degC", -90.0, 5.0, also=("degF",))]

    @property
    def inner_height_mm(self) -> float:
        """Clear height for a standing pail."""
        return self.inner_height.value

    @property
    def temperature_c(self) -> float:
        """The air inside, settled."""
        return self.temperature.value
