"""How a control of a card looks where it stands on the page: in the main place, or beside it."""

from __future__ import annotations

from packdesk.present.cards import Control
from packdesk.present.control_cell import control_cell
from packdesk.session.state import SessionState
from packdesk.ui.icons import Icon
from packdesk.ui.widgets.main_control import MainFace
from packdesk.ui.widgets.second_control import SecondControl, SecondFace


def main_face(control: Control, session: SessionState | None) -> MainFace:
    """A control in the main place, with the pouch it is about as it will be once pressed."""
    return MainFace(
        control.label,
        control.hint,
        control_cell(session, control),
        Icon(control.icon) if control.icon else Icon.DONE,
        control.missing,
    )


def show_second(place: SecondControl, control: Control | None) -> None:
    """Show a control at a place beside the main one; without one the place is gone."""
    place.setVisible(control is not None)
    if control is not None:
        icon = Icon(control.icon) if control.icon else None
        place.show_face(SecondFace(control.label, control.key, icon, control.missing))
