"""The path shows where the work stands, is walked by keys and widens from a rail."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QHBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from packdesk.present.cards import Mark, StageRow
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.stage_path import StagePath

ROWS = (
    StageRow(Stage.BEFORE, "Before", "plan agreed", Mark.DONE),
    StageRow(Stage.COLD_TREATMENT, "Cold treatment", "2 of 3 cold enough", Mark.PARTLY, ("C",)),
    StageRow(Stage.THAW_EQUILIBRATION, "Thaw equilibration", "1 of 3 lids off", Mark.PARTLY),
    StageRow(Stage.FILLING, "Filling", "16 of 38 shut", Mark.NOW, ("A", "B")),
    StageRow(Stage.SEALING, "Sealing", "10 of 38 sealed", Mark.NEXT),
    StageRow(Stage.LABELLING, "Labelling", "none printed yet", Mark.NEXT),
    StageRow(Stage.AFTER, "After", "first check Monday", Mark.NEXT),
)


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    """A window that holds the path at its left."""
    window = QWidget()
    qtbot.addWidget(window)
    window.resize(1093, 514)
    return window


@pytest.fixture
def path(theme: Theme, window: QWidget, qtbot: QtBot) -> StagePath:
    """The path in the middle arrangement."""
    path = StagePath(theme, window)
    path.show_title("Autumn wheat", "Sunday 18 October")
    path.show_rows(ROWS, Stage.FILLING)
    path.setGeometry(0, 0, 256, 648)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    return path


def test_a_click_chooses_a_stage(path: StagePath, qtbot: QtBot) -> None:
    """Clicking a row asks for its stage."""
    with qtbot.waitSignal(path.stage_chosen) as chosen:
        qtbot.mouseClick(path.rows[4], Qt.MouseButton.LeftButton)

    assert chosen.args == [Stage.SEALING]


def test_a_row_tells_name_progress_loads_and_place(path: StagePath) -> None:
    """A row's accessible name is the whole line, and says which page is shown."""
    assert path.rows[3].accessibleName() == "Filling, 16 of 38 shut, loads A, B, shown"
    assert path.rows[4].accessibleName() == "Sealing, 10 of 38 sealed"


def test_arrow_keys_walk_the_stages(path: StagePath, qtbot: QtBot) -> None:
    """Down moves the focus to the next row, Up from the first row to the title."""
    path.rows[0].setFocus()
    qtbot.keyClick(path.rows[0], Qt.Key.Key_Down)
    assert path.rows[1].hasFocus()

    qtbot.keyClick(path.rows[1], Qt.Key.Key_Up)
    qtbot.keyClick(path.rows[0], Qt.Key.Key_Up)

    assert path.title.hasFocus()


def test_the_space_bar_chooses_the_focused_stage(path: StagePath, qtbot: QtBot) -> None:
    """Space on a row asks for its stage."""
    path.rows[1].setFocus()

    with qtbot.waitSignal(path.stage_chosen) as chosen:
        qtbot.keyClick(path.rows[1], Qt.Key.Key_Space)

    assert chosen.args == [Stage.COLD_TREATMENT]


def test_the_title_opens_the_rest(path: StagePath, qtbot: QtBot) -> None:
    """The title block asks for sessions, settings and help."""
    with qtbot.waitSignal(path.title_chosen):
        qtbot.mouseClick(path.title, Qt.MouseButton.LeftButton)


def test_rows_are_large_enough_for_a_knuckle(path: StagePath) -> None:
    """Rows are 66 px high, and 56 under a band."""
    assert {row.height() for row in path.rows} == {66}

    path.set_under_band(True)

    assert {row.height() for row in path.rows} == {56}


def test_the_stripe_is_woven_down_to_now(path: StagePath) -> None:
    """The stripe is woven down to the stage of now and bare below it."""
    assert [row._woven_above for row in path.rows] == [True] * 4 + [False] * 3
    assert [row._woven_below for row in path.rows] == [True] * 3 + [False] * 4


def test_the_rail_widens_while_it_has_the_focus(
    path: StagePath, theme: Theme, window: QWidget
) -> None:
    """A narrow window shows knots only; focus on a row widens it over the work and back."""
    other = QWidget(window)
    other.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    other.show()
    theme.fit_width(1093)
    other.setFocus()
    path.resize(76, 514)
    assert path.width() == 76
    resting = [row.y() for row in path.rows]

    path.rows[2].setFocus()
    assert path.width() == 256
    assert [row.y() for row in path.rows] == resting

    other.setFocus()
    assert path.width() == 76


def test_the_widened_rail_keeps_its_place_in_a_layout(theme: Theme, qtbot: QtBot) -> None:
    """Beside it nothing moves when the rail widens, also after the window was laid out anew."""
    theme.fit_width(1093)
    window = QWidget()
    qtbot.addWidget(window)
    row = QHBoxLayout(window)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(0)
    path, work = StagePath(theme), QWidget()
    row.addWidget(path)
    row.addWidget(work, 1)
    path.show_rows(ROWS, Stage.FILLING)
    window.resize(1093, 514)
    window.show()
    window.activateWindow()
    assert work.x() == 76

    path.rows[0].setFocus()
    window.resize(1093, 520)
    QApplication.processEvents()

    assert path.width() == 256
    assert work.x() == 76


def test_fewer_stages_leave_no_rows(path: StagePath) -> None:
    """Showing fewer stages removes the rows that are over."""
    path.show_rows(ROWS[:2], None)

    assert len(path.rows) == 2
