"""A pouch cell tells its state by shape, down to 16 px, and is reached by keys."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from packdesk.present.cards import CellState, PouchCell
from packdesk.ui.theme.theme import Theme
from packdesk.ui.theme.tokens import PALETTES, Tokens
from packdesk.ui.widgets.pouch_cell import PouchCellView
from packdesk.ui.widgets.pouch_cells import PouchCells
from packdesk.ui.widgets.pouch_drawing import draw_pouch, pouch_box
from packdesk.ui.widgets.pouch_ink import PouchInk


def picture(cell: PouchCell, tokens: Tokens, width: int, ink: PouchInk | None = None) -> QImage:
    """A pouch drawn on cloth."""
    image = QImage(width + 4, round(width * 1.36) + 4, QImage.Format.Format_RGB32)
    image.fill(QColor(tokens.cloth))
    painter = QPainter(image)
    rect = QRectF(2, 2, width, round(width * 1.36))
    draw_pouch(painter, rect, cell, tokens, ink or PouchInk.on_ground(tokens, tokens.cloth))
    painter.end()
    return image


def grey_difference(one: QImage, other: QImage) -> float:
    """The mean difference of two pictures in grey, from 0 to 255."""
    first = one.convertToFormat(QImage.Format.Format_Grayscale8)
    second = other.convertToFormat(QImage.Format.Format_Grayscale8)
    total = 0
    for y in range(first.height()):
        left = bytes(first.constScanLine(y))[: first.width()]
        right = bytes(second.constScanLine(y))[: first.width()]
        total += sum(abs(a - b) for a, b in zip(left, right, strict=True))
    return total / (first.width() * first.height())


@pytest.mark.parametrize("tokens", PALETTES, ids=lambda tokens: tokens.name)
@pytest.mark.parametrize("width", [16, 23, 50])
def test_states_differ_without_colour(tokens: Tokens, width: int) -> None:
    """Turned grey, no two states of a pouch look alike at any size that is used."""
    pictures = {state: picture(PouchCell(1, state, ""), tokens, width) for state in CellState}

    for one, other in combinations(CellState, 2):
        assert grey_difference(pictures[one], pictures[other]) > 1.5, (one, other)


@pytest.mark.parametrize("tokens", PALETTES, ids=lambda tokens: tokens.name)
def test_sealing_is_the_large_change(tokens: Tokens) -> None:
    """From pressed shut to sealed the picture changes more than at any step before it."""
    before = (CellState.FILLED, CellState.ABSORBERS_IN, CellState.PRESSED_SHUT, CellState.SEALED)
    shots = [picture(PouchCell(1, state, ""), tokens, 50) for state in before]

    steps = [grey_difference(a, b) for a, b in pairwise(shots)]

    assert max(steps) == steps[-1]


@pytest.mark.parametrize("mark", ["marginal", "add_one", "liner"])
def test_marks_are_seen(mark: str) -> None:
    """A marginal absorber, one to be added and a liner each change the drawing."""
    tokens = PALETTES[0]
    plain = PouchCell(1, CellState.ABSORBERS_IN, "")
    marked = PouchCell(1, CellState.ABSORBERS_IN, "", **{mark: True})

    assert picture(plain, tokens, 50) != picture(marked, tokens, 50)


@pytest.mark.parametrize("width", [16, 23, 50])
def test_absorbers_are_drawn_as_many_as_went_in(width: int) -> None:
    """None, one and two differ at every size that is used; more than two carry their number."""
    tokens = PALETTES[0]

    def drawn(absorbers: int) -> QImage:
        return picture(PouchCell(1, CellState.PRESSED_SHUT, "", absorbers=absorbers), tokens, width)

    for one, other in combinations(range(3), 2):
        assert grey_difference(drawn(one), drawn(other)) > 1.5, (one, other)
    if width > 20:
        assert drawn(3) != drawn(2)
        assert drawn(4) != drawn(3)


def test_pouches_that_are_not_drawn_leave_a_sign(theme: Theme, qtbot: QtBot) -> None:
    """The sign for them is no pouch, says how many and which, and differs from none at all."""
    view = PouchCellView(theme, cell_px=50, numbered=True)
    qtbot.addWidget(view)
    view.show_cell(PouchCell(None, CellState.FILLED, "3 more before, not drawn", more=3))
    view.resize(view.sizeHint().width() + 20, view.sizeHint().height())
    three = view.grab().toImage()
    view.show_cell(PouchCell(None, CellState.FILLED, "4 more before, not drawn", more=4))

    assert view.accessibleName() == "4 more before, not drawn"
    assert view.grab().toImage() != three


def test_the_main_control_has_it_reversed() -> None:
    """On a solid body the pouch is drawn in that body's own line colour."""
    tokens = PALETTES[0]
    ink = PouchInk.on_body(QColor(tokens.onindigo), QColor(tokens.indigo))
    cell = PouchCell(1, CellState.SEALED, "")

    middle = picture(cell, tokens, 50, ink).pixelColor(27, 40)

    assert middle.name().upper() == tokens.onindigo


def test_a_pail_number_needs_room() -> None:
    """A stowed pouch shows its pail's number from 26 px up."""
    tokens = PALETTES[0]

    def same(width: int) -> bool:
        bare = picture(PouchCell(1, CellState.STOWED, ""), tokens, width)
        return bare == picture(PouchCell(1, CellState.STOWED, "", pail="7"), tokens, width)

    assert same(23)
    assert not same(30)


def test_the_box_keeps_its_proportions() -> None:
    """The drawing is 1.36 times as high as wide and stands on the foot of its place."""
    box = pouch_box(QRectF(0, 0, 100, 68))

    assert box.height() == pytest.approx(1.36 * box.width())
    assert box.bottom() == pytest.approx(68)


def test_a_cell_says_what_it_shows(theme: Theme, qtbot: QtBot) -> None:
    """Name and tooltip of a cell are the pouch's own words."""
    view = PouchCellView(theme)
    qtbot.addWidget(view)

    view.show_cell(PouchCell(17, CellState.FILLED, "Pouch 17, wheat, filled, next", in_hand=True))

    assert view.accessibleName() == "Pouch 17, wheat, filled, next"
    assert view.toolTip() == "Pouch 17, wheat, filled, next"


@pytest.fixture
def cells(theme: Theme, qtbot: QtBot) -> PouchCells:
    """A run of six cells, the third in hand."""
    run = PouchCells(theme, cell_px=50, numbered=True)
    qtbot.addWidget(run)
    run.show_cells(
        [PouchCell(n, CellState.FILLED, f"Pouch {n}", in_hand=n == 3) for n in range(1, 7)]
    )
    run.resize(700, 120)
    run.show()
    return run


def test_a_run_has_one_tab_stop(cells: PouchCells) -> None:
    """Tab stops once in a run of cells: at the one in hand."""
    strong = Qt.FocusPolicy.StrongFocus
    stops = [view.cell.number for view in cells.views if view.focusPolicy() == strong]

    assert stops == [3]


def test_arrow_keys_walk_the_cells(cells: PouchCells, qtbot: QtBot) -> None:
    """Right moves on, Home goes to the first, and the tab stop moves along."""
    cells.views[2].setFocus()
    qtbot.keyClick(cells.views[2], Qt.Key.Key_Right)
    assert cells.views[3].hasFocus()

    qtbot.keyClick(cells.views[3], Qt.Key.Key_Home)

    assert cells.views[0].hasFocus()
    assert cells.views[0].focusPolicy() == Qt.FocusPolicy.StrongFocus


def test_enter_and_click_choose_a_cell(cells: PouchCells, qtbot: QtBot) -> None:
    """Enter on a cell and a click on it say which pouch is meant."""
    with qtbot.waitSignal(cells.chosen) as by_key:
        qtbot.keyClick(cells.views[4], Qt.Key.Key_Return)
    with qtbot.waitSignal(cells.chosen) as by_click:
        qtbot.mouseClick(cells.views[1], Qt.MouseButton.LeftButton)

    assert by_key.args[0].number == 5
    assert by_click.args[0].number == 2


def test_fewer_pouches_leave_no_widgets(cells: PouchCells, qtbot: QtBot) -> None:
    """Showing fewer pouches removes the cells that are over."""
    cells.show_cells([PouchCell(1, CellState.FILLED, "Pouch 1")])

    assert len(cells.views) == 1
    assert len(cells.findChildren(PouchCellView)) == 1
