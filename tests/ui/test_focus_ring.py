"""The ring shows where keys go, once a key was used, and is never in the way."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.focus_ring import FocusRing
from packdesk.ui.widgets.second_control import SecondControl, SecondFace


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    """A window with the focus."""
    window = QWidget()
    qtbot.addWidget(window)
    window.resize(600, 400)
    window.show()
    window.activateWindow()
    return window


def button(theme: Theme, parent: QWidget, y: int) -> SecondControl:
    """A control at a height."""
    control = SecondControl(theme, parent)
    control.show_face(SecondFace("Set aside", "S"))
    control.setGeometry(40, y, 240, 66)
    control.show()
    return control


def test_it_shows_once_a_key_was_used(theme: Theme, window: QWidget) -> None:
    """A mouse user sees no ring; from the first key on it stands round the focus."""
    first = button(theme, window, 40)
    ring = FocusRing(theme, window)
    first.setFocus()
    assert ring.isHidden()

    theme.note_key()

    assert not ring.isHidden()
    assert ring.geometry() == first.geometry().adjusted(-6, -6, 6, 6)


def test_it_follows_the_focus_and_the_widget(theme: Theme, window: QWidget) -> None:
    """The ring goes to the next widget and moves with it."""
    first, second = button(theme, window, 40), button(theme, window, 200)
    ring = FocusRing(theme, window)
    theme.note_key()
    first.setFocus()

    second.setFocus()
    second.move(60, 220)

    assert ring.geometry() == second.geometry().adjusted(-6, -6, 6, 6)


def test_it_takes_no_clicks(theme: Theme, window: QWidget, qtbot: QtBot) -> None:
    """A click through the ring reaches the control under it."""
    control = button(theme, window, 40)
    FocusRing(theme, window)
    theme.note_key()
    control.setFocus()

    assert window.childAt(QPoint(60, 60)) is control
    with qtbot.waitSignal(control.acted):
        qtbot.mouseClick(control, Qt.MouseButton.LeftButton)


def test_it_stays_inside_a_scrolled_area(theme: Theme, window: QWidget) -> None:
    """Round a control that is half scrolled away the ring ends at the edge of the area."""
    area = QScrollArea(window)
    area.setGeometry(0, 100, 400, 120)
    inside = QWidget()
    inside.resize(380, 600)
    area.setWidget(inside)
    control = button(theme, inside, 80)
    area.show()
    ring = FocusRing(theme, window)
    theme.note_key()

    control.setFocus()

    edge = area.viewport().mapTo(window, area.viewport().rect().bottomLeft()).y()
    assert ring.geometry().bottom() <= edge


def test_a_hidden_control_has_no_ring(theme: Theme, window: QWidget) -> None:
    """The ring goes when the focused control does."""
    control = button(theme, window, 40)
    ring = FocusRing(theme, window)
    theme.note_key()
    control.setFocus()

    control.hide()

    assert ring.isHidden()
