"""More absorbers counted than reckoned: pouches are felt before the iron, near and from afar."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session.facts import AbsorbersFelt
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

SPACE, ENTER = Qt.Key.Key_Space, Qt.Key.Key_Return


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Six pouches shut of a packet of ten; five, not four, were counted into the jar."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered().filled().in_round().shut(6)
    bench.window.show_stage(Stage.FILLING)
    bench.key("W")
    bench.type("5")
    bench.key(ENTER)
    yield bench
    bench.close()


def test_the_doubt_stands_before_the_iron_until_it_is_answered(bench: Bench) -> None:
    """No press of the Space bar seals them; one key tells that each has its own."""
    for stage in (Stage.FILLING, Stage.SEALING):
        bench.window.show_stage(stage)
        assert bench.page.sentence.text == (
            "1 absorber more was in packet P1 than reckoned: 1\N{NO-BREAK SPACE}of pouches 1"
            "\N{NO-BREAK SPACE}to\N{NO-BREAK SPACE}6 may have none."
        )
        bench.key(SPACE, times=3)
        assert not any(pouch.gas_tight for pouch in bench.session.pouches.values())
        bench.key(Qt.Key.Key_Escape)
    bench.key("N")
    assert bench.desk.entries[-1].fact == AbsorbersFelt(round=1, pouches=(1, 2, 3, 4, 5, 6))
    bench.key(SPACE)
    assert all(bench.session.pouches[number].gas_tight for number in range(1, 7))


def test_from_afar_the_doubt_is_read_and_a_press_leads_to_the_desk(bench: Bench) -> None:
    """Two metres away it says that one may have none, and the press answers nothing."""
    bench.window.show_stage(Stage.SEALING)
    bench.key("F")
    assert "may have none: feel each" in bench.window.far.face.sentence
    before = len(bench.desk.entries)
    bench.key(SPACE)
    assert not bench.window.from_afar
    assert len(bench.desk.entries) == before


def test_the_one_without_is_typed_and_gets_its_absorber(bench: Bench) -> None:
    """Its number and Enter: it stands open and is led to the jar."""
    bench.type("3")
    bench.key(ENTER)
    assert bench.session.pouches[3].placed == ()
    assert not bench.session.pouches[3].closed
    bench.window.show_stage(Stage.SEALING)
    assert bench.page.sentence.text == "Seal pouches 1, 2 and 4 to 6, two seams each."


def test_a_doubt_about_what_is_sealed_holds_up_labels_and_pails(bench: Bench) -> None:
    """What is sealed is felt too before its label tells how many are in it, or a pail takes it."""
    bench.walk.sealed()
    for stage in (Stage.LABELLING, Stage.AFTER):
        bench.window.show_stage(stage)
        assert "may have none" in bench.page.sentence.text
        bench.key(SPACE)
        assert bench.page.stage is Stage.SEALING
    bench.key("N")
    bench.window.show_stage(Stage.LABELLING)
    assert "may have none" not in bench.page.sentence.text


def test_a_typed_count_at_the_jar_is_what_goes_into_it(theme: Theme, tmp_path: Path) -> None:
    """Where the page asks for the jar, a figure typed is the count, not lost: seven, not four."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered().filled().in_round().shut(6)
    bench.window.show_stage(Stage.FILLING)
    assert bench.page.main.face.label == "4 are in the jar"
    for key in ("7", ENTER):
        bench.key(key)
    (jar,) = bench.desk.state.book.remainders.values()
    assert jar.count == 7
    assert "3 absorbers more" in bench.page.sentence.text
    assert not bench.page._cells.isVisible(), "no pouch to come is shown in place of those felt"
    bench.close()


def test_the_iron_does_not_call_done_what_stands_open(theme: Theme, tmp_path: Path) -> None:
    """Four of six are shut and sealed: the two without absorber are named and lead to filling."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered().filled().in_round().shut(4).jar_shut()
    bench.window.show_stage(Stage.SEALING)
    bench.key(SPACE)
    page = bench.page
    assert page.sentence.text == "What is shut is sealed; pouches 5 and 6 are still open."
    assert page.card.main.goto is Stage.FILLING
    bench.close()
