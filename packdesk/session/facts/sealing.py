"""What happened at the iron."""

from __future__ import annotations

from typing import ClassVar

from packdesk.session.fact import Fact


class PouchesSealed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A seam was made by heat. `gap_left`: not yet closed all along, for drawing off air.

    A gap is to be closed within `close_within_min` minutes; 0 where none was left.
    `against_advice`: why a food that is never to be sealed was sealed all the same.
    """

    kind: ClassVar[str] = "pouches_sealed"
    pouches: tuple[int, ...]
    seams: int
    gap_left: bool
    close_within_min: float = 0.0
    against_advice: str = ""


class AirDrawnOff(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Air was drawn off through the gap left in a seam."""

    kind: ClassVar[str] = "air_drawn_off"
    pouches: tuple[int, ...]
