"""How many pouches the next press means, to mark them as in hand."""

from __future__ import annotations

from packdesk.present.cards import Control
from packdesk.session.commands import FillPouches, PlaceAbsorbers, SealPouches, ShutPouches


def meant(control: Control) -> int:
    """How many pouches the next press of `control` means; 0 when it counts none."""
    match control.command:
        case FillPouches(count=count) | PlaceAbsorbers(count=count):
            return count
        case SealPouches(pouches=pouches) | ShutPouches(pouches=pouches):
            return len(pouches)
        case _:
            return 0
