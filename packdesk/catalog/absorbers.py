"""Oxygen absorbers and the packets they come in."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Measure


class AbsorberKind(StrEnum):
    """Where an absorber takes the water from that its iron needs to rust."""

    SELF_ACTIVATED = "self_activated"
    """Carries its own; works in dry food."""
    MOISTURE_ACTIVATED = "moisture_activated"
    """Takes it from moist food; nearly idle in dry food."""


@dataclass(frozen=True, kw_only=True)
class Absorber(Description):
    """One absorber, rated by the oxygen (not the air) it takes up."""

    kind: AbsorberKind
    rating: Annotated[Figure, Measure("cc", 5.0, 10000.0, also=("mL",))]
    packet_counts: tuple[int, ...]
    """How many absorbers the usual packets hold."""
    caution: str = ""

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together."""
        if not self.packet_counts or min(self.packet_counts) < 1:
            return ("must give at least one packet count, each 1 or more",)
        return ()

    @property
    def rating_cc(self) -> float:
        """Oxygen one fresh absorber takes up."""
        return self.rating.value
