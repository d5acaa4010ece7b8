"""Orders at the iron."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.commands.command import Command


@dataclass(frozen=True, slots=True)
class SealPouches(Command):
    """Heat seams were made; with `gap_left` a gap stays for drawing off air.

    `against_advice` is the reason that sealing a food marked never needs.
    """

    pouches: tuple[int, ...]
    seams: int = 2
    gap_left: bool = False
    against_advice: str = ""


@dataclass(frozen=True, slots=True)
class DrawOffAir(Command):
    """Air was drawn off through the gap of a seam."""

    pouches: tuple[int, ...]
