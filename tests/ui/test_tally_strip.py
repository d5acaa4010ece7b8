"""The tally shows a cell for each pouch, however many, and keeps Undo in reach."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from packdesk.present.cards import CellState, PouchCell, TallyBoard, TallyLine
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.tally_fit import CELL_GAP, LINE_GAP, fit_tally, stretch
from packdesk.ui.widgets.tally_strip import TallyStrip


def board(*counts: int, in_hand: int = 0) -> TallyBoard:
    """A tally of plan lines with so many cells; the first cell of one line is in hand."""
    lines = tuple(
        TallyLine(
            place,
            f"Food {place}",
            f"{count} of 1 kg: all filled",
            tuple(
                PouchCell(n, CellState.FILLED, f"Pouch {n}", in_hand=place == in_hand and n == 1)
                for n in range(1, count + 1)
            ),
        )
        for place, count in enumerate(counts)
    )
    return TallyBoard(lines, "Pouch 16 shut 10:41", "Undo pouch 16", "Saved 10:41:26")


@pytest.fixture
def strip(theme: Theme, qtbot: QtBot) -> TallyStrip:
    """A strip as wide as a window of 1366 px."""
    strip = TallyStrip(theme)
    qtbot.addWidget(strip)
    strip.resize(1366, 120)
    strip.show()
    return strip


@pytest.mark.parametrize("width", [1093, 1366, 1920])
@pytest.mark.parametrize(
    "entry",
    ["Packet P1 opened: 10 absorbers of 200 cc 19:53", "Jar R1: 39 of 200 cc shut up 19:03"],
)
def test_the_last_entry_is_told_with_its_figures(
    strip: TallyStrip, theme: Theme, width: int, entry: str
) -> None:
    """At every step the entry that Undo takes back is read to its end, in two lines at most."""
    theme.fit_width(width)
    strip.resize(width, 120)
    strip.show_board(replace(board(24), last_entry=entry))
    room = strip.width() - strip.undo.geometry().left() - theme.px(8)
    lines = strip.entry_lines(theme.metrics(Role.NOTE, Weight.REGULAR), room)

    assert " ".join(lines).replace("\u00a0", " ") == entry
    assert len(lines) <= 2
    foot = strip.undo.geometry().bottom() + 2 * theme.line(Role.NOTE)
    assert foot <= strip.height()


def test_each_pouch_has_a_cell(strip: TallyStrip) -> None:
    """A line of 24 and one of 14 show that many cells."""
    strip.show_board(board(24, 14))

    assert [len(run.views) for run in strip.runs] == [24, 14]


def test_cells_keep_their_designed_size_where_they_fit(strip: TallyStrip) -> None:
    """38 pouches in 1366 px are drawn 23 px wide in one row."""
    strip.show_board(board(24, 14))

    assert strip.fit.cell_px == pytest.approx(23)
    assert strip.fit.rows == 1


def test_more_pouches_take_smaller_cells_then_two_rows(strip: TallyStrip) -> None:
    """48 pouches shrink, 80 stand in two rows."""
    strip.show_board(board(30, 18))
    assert 16 <= strip.fit.cell_px < 23
    assert strip.fit.rows == 1

    strip.show_board(board(50, 30))
    assert strip.fit.rows == 2


def test_a_very_long_tally_keeps_the_line_in_hand(strip: TallyStrip) -> None:
    """When two rows do not hold all, only the plan line in hand keeps its cells."""
    strip.show_board(board(60, 60, 60, in_hand=1))

    assert [run.isVisible() for run in strip.runs] == [False, True, False]
    assert strip.fit.in_words == (0, 2)


@given(
    counts=st.lists(st.integers(1, 128), min_size=1, max_size=5).map(tuple),
    room=st.integers(420, 1600),
)
def test_whatever_is_fitted_fits(counts: tuple[int, ...], room: int) -> None:
    """Cells are never under 16 px, and lines with their gaps never wider than the room."""
    fit = fit_tally(counts, room, largest_px=30)

    assert 16 <= fit.cell_px <= 30
    assert sum(fit.widths) + LINE_GAP * (len(counts) - 1) <= room + 1e-6
    for place, (count, width) in enumerate(zip(counts, fit.widths, strict=True)):
        if place not in fit.in_words:
            columns = -(-min(count, fit.most_cells or count) // fit.rows)
            assert columns * (fit.cell_px + CELL_GAP) - CELL_GAP <= width + 1e-6


@given(count=st.integers(1, 300), most=st.integers(1, 80), data=st.data())
def test_a_stretch_holds_the_pouch_in_hand(count: int, most: int, data: st.DataObject) -> None:
    """Of a line too long as many cells are shown as fit, the one in hand among them."""
    in_hand = data.draw(st.integers(0, count - 1))

    shown = stretch(count, in_hand, most)

    assert in_hand in shown
    assert len(shown) == min(count, most)


def test_a_line_of_two_hundred_shows_the_cells_in_hand(strip: TallyStrip) -> None:
    """A line that no size of cell can hold shows a stretch of it, inside the strip."""
    strip.show_board(board(200))

    assert 16 < len(strip.runs[0].views) < 200
    assert strip.runs[0].geometry().bottom() <= strip.height()
    assert strip.runs[0].views[0].cell.number == 1


def test_undo_asks_and_names_what_it_takes_back(strip: TallyStrip, qtbot: QtBot) -> None:
    """The Undo button says which entry it takes back, and asks once when pressed."""
    strip.show_board(board(3))
    assert strip.undo.accessibleName() == "Undo pouch 16"

    with qtbot.waitSignal(strip.undo_asked):
        qtbot.mouseClick(strip.undo, Qt.MouseButton.LeftButton)


def test_undo_with_nothing_to_take_back_is_not_yet(strip: TallyStrip, qtbot: QtBot) -> None:
    """Before the first entry Undo is shown as not yet and asks nothing."""
    strip.show_board(TallyBoard((), "", "", ""))
    assert strip.undo.not_yet

    with qtbot.assertNotEmitted(strip.undo_asked):
        qtbot.mouseClick(strip.undo, Qt.MouseButton.LeftButton)


def test_undo_is_58_px_high(strip: TallyStrip) -> None:
    """Undo keeps its height whatever the tally holds."""
    strip.show_board(board(60, 60, 60))

    assert strip.undo.height() == 58


def test_a_pouch_of_the_tally_can_be_chosen(strip: TallyStrip, qtbot: QtBot) -> None:
    """A click on a cell says which pouch is meant."""
    strip.show_board(board(3))

    with qtbot.waitSignal(strip.pouch_chosen) as chosen:
        qtbot.mouseClick(strip.runs[0].views[2], Qt.MouseButton.LeftButton)

    assert chosen.args[0].number == 3


@pytest.mark.parametrize("width", [1093, 1366, 1920])
def test_cells_and_undo_never_touch(strip: TallyStrip, theme: Theme, width: int) -> None:
    """At each width step the last cell ends before Undo begins, inside the strip's height."""
    theme.fit_width(width)
    strip.resize(width, strip.height())
    strip.show_board(board(24, 14))

    for run in strip.runs:
        assert run.geometry().right() < strip.undo.geometry().left()
        assert run.geometry().bottom() <= strip.height()


def test_a_line_gets_room_for_its_words_where_there_is_room() -> None:
    """Short plan lines share the room that is left, so that their words stand whole."""
    narrow = fit_tally((8, 3, 2), 480.0)
    roomy = fit_tally((8, 3, 2), 1000.0)

    assert all(wide > tight for wide, tight in zip(roomy.widths, narrow.widths, strict=True))
    assert sum(roomy.widths) + 2 * 24 <= 1000.0


@pytest.mark.parametrize(("width", "counts"), [(1366, (11,)), (1920, (11,)), (1920, (11, 5))])
def test_words_stand_whole_where_there_is_room(
    strip: TallyStrip, theme: Theme, width: int, counts: tuple[int, ...]
) -> None:
    """Many stages in one line of few pouches are told to the end, beside another line too."""
    theme.fit_width(width)
    strip.resize(width, 120)
    told = board(*counts)
    words = "11 of 688 g: 4 sealed, 2 shut, 1 absorber in, 1 filled, 1 to fill, 2 set aside"
    first = replace(told.lines[0], words=f"{words}, 1 open again")
    strip.show_board(replace(told, lines=(first, *told.lines[1:])))

    assert all(
        width >= strip._words_width(line)
        for width, line in zip(strip.fit.widths, strip._board.lines, strict=True)
    )


@given(
    st.lists(st.tuples(st.integers(1, 60), st.floats(0.0, 900.0)), min_size=1, max_size=4),
    st.floats(400.0, 2000.0),
)
def test_words_take_no_more_than_the_room(lines: list[tuple[int, float]], room: float) -> None:
    """However long the words, the lines stay within the strip and hold their cells."""
    counts, words = tuple(n for n, _ in lines), tuple(px for _, px in lines)
    plain, fit = fit_tally(counts, room), fit_tally(counts, room, words_px=words)

    assert (fit.cell_px, fit.rows, fit.in_words) == (plain.cell_px, plain.rows, plain.in_words)
    assert (
        sum(fit.widths) + LINE_GAP * (len(counts) - 1)
        <= max(room, sum(plain.widths) + LINE_GAP * (len(counts) - 1)) + 1e-6
    )
