"""What a pouch is made of: how fast oxygen comes through, and how its seam is made."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Measure, percent, temperature_c


class Driving(StrEnum):
    """What stood on the outer side of the film when its oxygen transmission was measured."""

    PURE_OXYGEN = "pure_oxygen"
    AIR = "air"


@dataclass(frozen=True, kw_only=True)
class Film(Description):
    """One pouch material."""

    oxygen_transmission: Annotated[Figure, Measure("cc/(m2 day)", 0.0, 20000.0)]
    driving: Driving
    test_temperature: Annotated[Figure, temperature_c(-30.0, 60.0)]
    test_humidity: Annotated[Figure, percent()] | None = None
    thickness: Annotated[Figure, Measure("um", 10.0, 500.0, also=("mil",))]
    iron_dots: int
    """The usual setting of the iron's sole plate, one to three dots."""
    iron_advice: str
    lasting_barrier: bool
    """Whether it keeps oxygen out for years."""

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together."""
        if not 1 <= self.iron_dots <= 3:
            return (f"has iron_dots {self.iron_dots}; an iron is marked with 1, 2 or 3",)
        return ()

    @property
    def oxygen_transmission_cc_m2_day(self) -> float:
        """Oxygen through one square metre in a day, under this film's own test conditions."""
        return self.oxygen_transmission.value
