"""The pouch on a control: as it will be once the control was pressed."""

from __future__ import annotations

from packdesk.present.cards import Control, PouchCell
from packdesk.session.commands import PlaceAbsorbers
from packdesk.session.state import SessionState


def control_cell(session: SessionState | None, control: Control) -> PouchCell | None:
    """The pouch that `control` draws; one that was shut up without an absorber is bare."""
    if control.cell is None:
        return None
    bare = False
    if session is not None and not isinstance(control.command, PlaceAbsorbers):
        numbers = getattr(control.command, "pouches", ())
        pouches = [session.pouches[number] for number in numbers if number in session.pouches]
        bare = bool(pouches) and not any(pouch.placed for pouch in pouches)
    return PouchCell(None, control.cell, control.label, bare=bare)
