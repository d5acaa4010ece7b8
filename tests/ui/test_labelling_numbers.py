"""Numbers are printed before filling, one food after another, and stand on record."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.present.measures import Measures
from packdesk.present.words import fact_words
from packdesk.session import facts as f
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window at the printer, two foods received, nothing planned."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.walk.opened().received()
    bench.window.show_stage(Stage.LABELLING)
    yield bench
    bench.close()


def on_record(bench: Bench) -> list[tuple[int, tuple[int, ...], int, bool]]:
    """Line, numbers, first place and reprint of the number labels on record."""
    facts = [e.fact for e in bench.desk.entries if isinstance(e.fact, f.NumberLabelsPrinted)]
    return [(each.line, each.pouches, each.first_cell, each.reprint) for each in facts]


def told(bench: Bench) -> str:
    """What stands beside the field for numbers."""
    objection = bench.input("pouches").refusal.objection
    return f"{objection.what} {objection.figure}"


def test_numbers_are_printed_food_by_food_before_filling(bench: Bench) -> None:
    """Each food's numbers are made, answered for, use places of the sheet, and are in the story."""
    bench.walk.planned(numbered=True)
    wheat = len(bench.session.numbers_printed) + bench.session.plan.line(1).count
    assert bench.page.main.face.label == "Make these numbers"
    assert bench.page.laid_out.sheet.face.to_print == wheat
    bench.key(Qt.Key.Key_Space)
    assert bench.page.sentence.text == "Print at 100 %. Did the numbers come out right?"
    assert (on_record(bench), bench.papers.how["design"].above[0]) == ([], "identity")
    bench.key(Qt.Key.Key_Space)
    assert on_record(bench) == [(1, tuple(range(1, wheat + 1)), 0, False)]
    (stock, used), *_ = bench.desk.state.book.sheets.items()
    assert used == wheat % bench.tools.catalog.label_stocks[stock].cells
    assert f"for pouches 1 to {wheat}, before filling" in fact_words(
        next(e.fact for e in bench.desk.entries if isinstance(e.fact, f.NumberLabelsPrinted)),
        Measures("metric"),
    )

    assert (bench.input("line").key, bench.page.laid_out.sheet.face.used) == ("2", used)
    bench.key(Qt.Key.Key_Space, times=2)
    beans = bench.session.plan.line(2).count
    assert on_record(bench)[1:] == [(2, tuple(range(wheat + 1, wheat + beans + 1)), used, False)]
    assert bench.page.main.face.label == "Go to sealing"
    assert f"pouches 1 to {wheat}, hard wheat" in bench.page.evidence.text


def test_torn_numbers_are_offered_again_and_a_yes_can_be_undone(bench: Bench) -> None:
    """Those that tore are printed with the same numbers; undone, the question stands again."""
    bench.walk.planned(numbered=True)
    bench.type("1-4")
    assert bench.page.laid_out.sheet.face.to_print == 4
    bench.key(Qt.Key.Key_Return)
    bench.key("T")
    bench.type("2")
    bench.key(Qt.Key.Key_Return)
    assert on_record(bench) == [(1, (1, 3, 4), 0, False)]
    bench.type("2-3")
    bench.key(Qt.Key.Key_Return)
    bench.key(Qt.Key.Key_Space)
    assert on_record(bench)[1:] == [(1, (2, 3), 4, True)]
    assert set(bench.session.numbers_printed) == {1, 2, 3, 4}
    bench.window.undo()
    assert set(bench.session.numbers_printed) == {1, 3, 4}
    assert bench.page.main.face.label == "All 2 came out right"
    bench.key("T")
    bench.type("3")
    bench.key(Qt.Key.Key_Return)
    assert (bench.input("line").key, bench.input("pouches").text) == ("1", "3")


def test_numbers_that_did_not_come_out_are_not_on_record(bench: Bench) -> None:
    """After a no the same numbers are offered, from the same place."""
    bench.walk.planned(numbered=True)
    bench.key(Qt.Key.Key_Space)
    bench.key("N")
    assert (on_record(bench), bench.desk.state.book.sheets) == ([], {})
    assert bench.page.main.face.label == "Make these numbers"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("99", "Pouch 99 is not one still to be filled with hard wheat."),
        ("some", "“some” names no pouches."),
    ],
)
def test_numbers_that_cannot_be_are_answered_at_the_field(
    bench: Bench, typed: str, words: str
) -> None:
    """A number that no pouch of the food will have makes no label."""
    bench.walk.planned(numbered=True)
    bench.fill_in("pouches", typed)
    bench.key(Qt.Key.Key_Return)
    assert words in told(bench)
    assert bench.papers.labels_made == []


def test_a_plan_that_counts_its_pouches_says_why_there_are_no_numbers(bench: Bench) -> None:
    """Where pouches are counted nothing is offered, and the key for numbers tells the cure."""
    bench.walk.planned()
    assert "This plan counts its pouches, so no numbers" in bench.page.evidence.text
    bench.key("N")
    assert "change it to numbered ones first" in bench.page.refusal.objection.what
    assert bench.papers.labels_made == []
