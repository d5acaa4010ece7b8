"""The size and make of an empty pouch or liner."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from packdesk.catalog.description import Description, KeyOf
from packdesk.catalog.figures import Figure, length_mm
from packdesk.catalog.films import Film

_NARROWEST_MM = 10.0
"""What is narrower between its side seams holds nothing."""


class PouchKind(StrEnum):
    """How a pouch is built."""

    FLAT = "flat"
    GUSSETED = "gusseted"
    LINER = "liner"
    """A pouch that fills a pail."""


@dataclass(frozen=True, kw_only=True)
class Pouch(Description):
    """One pouch, measured outside and lying flat; a size word in its name is not a volume."""

    kind: PouchKind
    film: Annotated[str, KeyOf(Film)]
    """Key of the film it is made of."""
    zip: bool
    width: Annotated[Figure, length_mm(50.0, 1500.0)]
    height: Annotated[Figure, length_mm(50.0, 2000.0)]
    gusset: Annotated[Figure, length_mm(10.0, 500.0)] | None = None
    """The full width of the bottom or side fold, opened out."""
    seam: Annotated[Figure, length_mm(3.0, 50.0)]
    headspace: Annotated[Figure, length_mm(10.0, 300.0)]

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together."""
        found = []
        if (self.kind is PouchKind.GUSSETED) != (self.gusset is not None):
            found.append('must give a gusset if, and only if, its kind is "gusseted"')
        if self.seam.value + self.headspace.value >= self.height.value / 2:
            found.append("leaves less than half its height for food; check seam and headspace")
        elif self.gusset_mm > self.height_mm - 2 * self.seam_mm - self.headspace_mm:
            found.append("has a gusset deeper than the height left for food")
        if self.width_mm - 2 * self.seam_mm < _NARROWEST_MM:
            found.append("leaves less than 10 mm between its side seams; check width and seam")
        return tuple(found)

    @property
    def width_mm(self) -> float:
        """Across, outside, lying flat."""
        return self.width.value

    @property
    def height_mm(self) -> float:
        """From the bottom to the open edge, outside, lying flat."""
        return self.height.value

    @property
    def gusset_mm(self) -> float:
        """The fold opened out; 0 for a pouch without one."""
        return 0.0 if self.gusset is None else self.gusset.value

    @property
    def seam_mm(self) -> float:
        """The height of one heat seam."""
        return self.seam.value

    @property
    def headspace_mm(self) -> float:
        """What is left empty above the food so that the pouch can be sealed."""
        return self.headspace.value
