"""A sheet that is not in the catalogue is measured once and kept as the person's own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.app.papers import PdfPapers
from packdesk.catalog.read import read_catalog
from packdesk.desk.ports import Trouble
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

SEALED = (
    "opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered",
    "filled", "in_round", "all_shut", "sealed",
)  # fmt: skip
SHEET = {
    "columns": "2", "rows": "4", "width": "96", "height": "66", "left": "7", "top": "14,5",
    "gap_across": "4", "gap_down": "1",
}  # fmt: skip


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window at the printer, six pouches sealed."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in SEALED:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.LABELLING)
    yield bench
    bench.close()


def enter(bench: Bench, **typed: str) -> None:
    """Open the form by its key, fill it in and press Enter."""
    bench.key("M")
    for name, text in {**SHEET, **typed}.items():
        bench.fill_in(name, text)
    bench.key(Qt.Key.Key_Return)


def test_a_measured_sheet_is_kept_and_used(bench: Bench) -> None:
    """The sheet is chosen at once, also after a restart, and labels are made on it."""
    enter(bench, right="7", name="blue box")
    (stock,) = bench.papers.stocks
    assert (stock.name, stock.cells, stock.column_pitch.value) == ("blue box", 8, 100.0)
    assert bench.tools.choices.settings.text("label_stock") == stock.key
    assert bench.page.main.face.label == "Make 6 labels"
    bench.key(Qt.Key.Key_Space, times=2)
    assert bench.desk.state.book.sheets == {stock.key: 6}


def test_the_sheet_is_drawn_as_it_is_typed(bench: Bench) -> None:
    """Each figure changes the drawing; what leaves the page is told beside its field at once."""
    bench.key("M")
    form = bench.page.own_stock
    drawn: list[int] = []
    for name, text in SHEET.items():
        bench.fill_in(name, text)
        drawn.append(len(form.drawing.face.labels_mm))
    assert drawn == [0, 0, 0, 8, 8, 8, 8, 8]
    assert form.drawing.face.labels_mm[-1] == (107.0, 215.5, 96.0, 66.0)
    bench.fill_in("rows", "5")
    assert form.drawing.face.beyond.count(True) == 2
    assert "2 of them beyond the page" in form.drawing.accessibleName()
    bench.key(Qt.Key.Key_Tab)
    objection = form.inputs["rows"].refusal.objection
    assert "a page height of 348.5 mm but the page has 297 mm" in objection.what
    bench.fill_in("rows", "4")
    bench.fill_in("corner", "40")
    bench.key(Qt.Key.Key_Tab)
    assert form.inputs["rows"].refusal.objection is None
    assert "corner radius larger than half a label" in form.inputs["corner"].refusal.objection.what
    bench.fill_in("corner", "2.5")
    bench.key(Qt.Key.Key_Return)
    (stock,) = bench.papers.stocks
    assert (stock.corner_radius.value, form.drawing.face.labels_mm) == (2.5, ())


@pytest.mark.parametrize(
    ("field", "typed", "beside", "words"),
    [
        ("right", "20", "left", "add up to 223 mm, but the page is 210 mm wide"),
        ("rows", "5", "top", "a page height of 348.5 mm but the page has 297 mm"),
        ("columns", "0", "columns", "cannot be here"),
        ("width", "a hand", "width", "a hand"),
        ("left", "", "left", "Nothing is typed"),
    ],
)
def test_a_sheet_that_cannot_be_is_answered_at_its_field(
    bench: Bench, field: str, typed: str, beside: str, words: str
) -> None:
    """Measures that miss the page, or are none, are told beside the field; nothing is kept."""
    enter(bench, **{field: typed})
    objection = bench.input(beside).refusal.objection
    assert words in f"{objection.what} {objection.figure}"
    assert bench.papers.stocks == []


def test_the_list_of_sheets_leads_to_measuring(bench: Bench) -> None:
    """The last entry of the list opens the form; going back leaves the sheet as it was."""
    before = bench.input("stock").key
    box = bench.input("stock").box
    box.setCurrentIndex(box.findData("measure"))
    box.activated.emit(box.currentIndex())
    assert bench.page.form_shown() is bench.page.forms["own_stock"]
    bench.key(Qt.Key.Key_Escape)
    assert bench.input("stock").key == before


def test_a_catalogue_that_takes_no_file_is_told(bench: Bench) -> None:
    """What was typed stays, the trouble stands beside the main control, nothing changes."""

    def refuses(_stock: object) -> None:
        raise Trouble("The file was not written: that disk can only be read.", "Choose another.")

    bench.papers.keep_stock = refuses
    enter(bench)
    assert "can only be read" in bench.page.refusal.objection.figure
    assert bench.input("columns").text == "2"


def test_a_kept_sheet_is_in_the_catalogue_of_the_next_start(bench: Bench, tmp_path: Path) -> None:
    """The entry written is read as the same geometry, without a fault."""
    enter(bench)
    (stock,) = bench.papers.stocks
    PdfPapers((), tmp_path / "catalog").keep_stock(stock)
    catalog, faults = read_catalog(tmp_path / "catalog")
    assert not faults
    again = catalog.label_stocks[stock.key]
    places = [again.cell_origin_mm(n) for n in range(8)]
    assert places == [stock.cell_origin_mm(n) for n in range(8)]
