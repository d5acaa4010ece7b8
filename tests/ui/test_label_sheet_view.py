"""The sheet shows its true proportions and takes the first free place by click or key."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.label_sheet_view import LabelSheetView, SheetFace

# An invented sheet of 3 by 7 on A4 (ISO 216: 210 by 297 mm).
SHEET = SheetFace(210, 297, 3, 7, 64, 38, 7, 15, 66, 38.5, used=8, to_print=37)


@pytest.fixture
def view(theme: Theme, qtbot: QtBot) -> LabelSheetView:
    """A sheet with eight labels gone."""
    view = LabelSheetView(theme)
    qtbot.addWidget(view)
    view.show_face(SHEET)
    view.resize(270, 374)
    view.show()
    return view


def test_proportions_are_true(view: LabelSheetView) -> None:
    """A label is drawn in the proportions of its millimetres, and so is the page."""
    place, page = view.place_rect(0), view._page()

    assert place.width() / place.height() == pytest.approx(64 / 38)
    assert page.width() / page.height() == pytest.approx(210 / 297)
    assert place.left() - page.left() == pytest.approx(7 / 210 * page.width())


def test_all_places_lie_on_the_page(view: LabelSheetView) -> None:
    """Every label lies on the page, and the page in the widget."""
    page = view._page()

    assert view.rect().toRectF().contains(page)
    assert all(page.contains(view.place_rect(place)) for place in range(SHEET.places))


def test_a_click_says_where_to_start(view: LabelSheetView, qtbot: QtBot) -> None:
    """A click on a label says that it is the first free one."""
    with qtbot.waitSignal(view.first_free_chosen) as chosen:
        at = view.place_rect(4).center().toPoint()
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=at)

    assert chosen.args == [4]


def test_keys_say_where_to_start(view: LabelSheetView, qtbot: QtBot) -> None:
    """Arrows walk from the first free place, Enter chooses."""
    assert view.at == 8
    qtbot.keyClick(view, Qt.Key.Key_Down)
    qtbot.keyClick(view, Qt.Key.Key_Left)

    with qtbot.waitSignal(view.first_free_chosen) as chosen:
        qtbot.keyClick(view, Qt.Key.Key_Return)

    assert chosen.args == [10]


def test_keys_stop_at_the_edge(view: LabelSheetView, qtbot: QtBot) -> None:
    """Walking off the sheet stays where it was."""
    qtbot.keyClick(view, Qt.Key.Key_Home)
    qtbot.keyClick(view, Qt.Key.Key_Up)

    assert view.at == 0


def test_the_sheet_tells_its_state(view: LabelSheetView, qtbot: QtBot) -> None:
    """The accessible name says the grid, what is used, and the place the keys stand on."""
    assert "3 by 7, 8 used, 37 to print. Place 9 is free" in view.accessibleName()

    qtbot.keyClick(view, Qt.Key.Key_Left)

    assert "Place 8 is used" in view.accessibleName()


def test_a_full_sheet_can_be_shown(view: LabelSheetView) -> None:
    """A sheet with every label gone stands on its last place."""
    view.clearFocus()
    view.show_face(replace(SHEET, used=21))
    view.repaint()

    assert view.at == 20
