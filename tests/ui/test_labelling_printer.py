"""A printer is measured once for each stock, and labels are moved, never stretched."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session.terms import Stage
from packdesk.settings.chosen import PrinterMeasure
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

SEALED = (
    "opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered",
    "filled", "in_round", "all_shut", "sealed",
)  # fmt: skip
STOCK = "a4-3x7-64x38"


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window at the printer, six pouches sealed."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in SEALED:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.LABELLING)
    yield bench
    bench.close()


def aligned(bench: Bench, printer: str = "kitchen") -> None:
    """Make the alignment page for a printer and open the form for what is measured."""
    bench.key("A")
    bench.pick("paper", "alignment")
    bench.pick("printer", printer)
    bench.page.main.setFocus()
    bench.key(Qt.Key.Key_Space, times=2)


def enter(bench: Bench, **typed: str) -> None:
    """Fill in what was measured and press Enter."""
    for name, text in typed.items():
        bench.fill_in(name, text)
    bench.key(Qt.Key.Key_Return)


def told(bench: Bench, field: str) -> str:
    """What stands beside a field."""
    objection = bench.input(field).refusal.objection
    return f"{objection.what} {objection.figure}"


def test_a_measured_offset_moves_the_labels_of_that_printer(bench: Bench) -> None:
    """Crosses too far right and too high: labels of this printer and stock go left and down."""
    aligned(bench)
    enter(bench, across="100.2", down="99,8", right="1", low="-0.5")
    assert bench.tools.choices.settings.measures == (
        PrinterMeasure("kitchen", STOCK, 100.2, 99.8, -1.0, 0.5),
    )
    assert "moved 1 mm to the left and 0.5 mm down" in bench.page.evidence.text
    bench.key(Qt.Key.Key_Space)
    assert bench.papers.how["offset_mm"] == (-1.0, 0.5)
    bench.key("P")
    assert bench.papers.printed[-1][2] == "kitchen"


def test_a_second_measurement_adds_to_the_first(bench: Bench) -> None:
    """The alignment page is printed with the offset kept so far, and what is left is added."""
    aligned(bench)
    enter(bench, across="100", down="100", right="1", low="0")
    aligned(bench)
    assert bench.papers.aligned == (STOCK, (-1.0, 0.0))
    enter(bench, across="100", down="100", right="-0.5", low="0")
    assert bench.tools.choices.settings.measure("kitchen", STOCK).offset_mm == (-0.5, 0.0)


def test_a_wrong_scale_is_explained_and_never_made_up_for(bench: Bench) -> None:
    """Rulers of 97 mm: the words stand beside the field, the lengths are kept, nothing moves."""
    aligned(bench)
    enter(bench, across="97", down="97", right="1", low="1")
    words = told(bench, "across")
    assert "printed at about 97 % of its size" in words
    assert "actual size" in words
    measure = bench.tools.choices.settings.measure("kitchen", STOCK)
    assert (measure.across_mm, measure.offset_mm) == (97.0, (0.0, 0.0))


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("across", "300", "300 mm cannot be. Write the ruler in mm, 50 to 200."),
        ("right", "six", "“six” is not a length. Write it in mm, -5 to 5."),
        ("low", "9", "9 mm cannot be. Write it in mm, -5 to 5."),
        ("down", "nan", "nan mm cannot be. Write the ruler in mm, 50 to 200."),
    ],
)
def test_a_length_that_cannot_be_is_answered_at_its_field(
    bench: Bench, field: str, typed: str, words: str
) -> None:
    """Each field says what it wants; nothing is kept."""
    aligned(bench)
    enter(bench, **{"across": "100", "down": "100", "right": "0", "low": "0", field: typed})
    assert told(bench, field) == words
    assert bench.tools.choices.settings.measures == ()


def test_another_printer_is_not_moved(bench: Bench) -> None:
    """What was measured of one printer says nothing of another."""
    aligned(bench)
    enter(bench, across="100", down="100", right="1", low="1")
    aligned(bench, "cellar")
    assert bench.papers.aligned == (STOCK, (0.0, 0.0))
    for _ in ("what was said of the paper", "the form"):
        bench.key(Qt.Key.Key_Escape)
    bench.key("L")
    assert "No alignment page was measured" in bench.page.evidence.text
