"""What can be done beside the main control is within a finger's reach, however much it is."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from packdesk.session import facts as f
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.look_window import SCENES
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

SIZES = [(1366, 768), (1093, 614)]


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window in which a scene is set up."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def set_up(bench: Bench, scene: str, size: tuple[int, int]) -> None:
    """Bring the window into a scene, at this size."""
    bench.window.resize(*size)
    SCENES[scene](bench.walk, bench.window)
    bench.window.refresh()
    bench.settle()


def in_sight(widget: QWidget) -> bool:
    """Whether no part of it is hidden or scrolled away."""
    QApplication.processEvents()
    return widget.isVisible() and widget.visibleRegion().boundingRect() == widget.rect()


@pytest.mark.parametrize("size", SIZES)
def test_every_second_control_is_in_reach_of_a_pointer(bench: Bench, size: tuple[int, int]) -> None:
    """Beyond two, one stands below them; beyond three, «More» unfolds all others in sight, each
    named, and each does what its letter does."""
    set_up(bench, "revise", size)
    page = bench.page
    named = [each.label for each in page.card.seconds]
    assert len(named) > 6
    assert [each.face.word for each in page.seconds] == named[:2]
    assert in_sight(page.third)
    assert page.third.accessibleName() == f"More: {', '.join(named[2:])}"

    bench.click(page.third)
    shown = [each for each in page.further.rows.buttons if each.isVisible()]
    assert [each.face.word for each in shown] == named[2:]
    assert all(in_sight(each) for each in shown)
    assert shown[0].hasFocus()
    bench.key(Qt.Key.Key_Escape)
    assert not page.further.rows.isVisible()
    assert page.main.hasFocus()

    bench.click(page.third)
    bench.click(shown[named[2:].index("Food lost")])
    assert page.form_opened("lost")
    assert not page.further.opened
    assert not page.third.isVisible(), "beside a form stands the way back"
    bench.key(Qt.Key.Key_Escape)
    bench.key("L")
    assert page.form_opened("lost")


@pytest.mark.parametrize("size", SIZES)
def test_of_three_second_controls_each_stands_there(bench: Bench, size: tuple[int, int]) -> None:
    """At the iron the third, how to seal, is told by a finger alone."""
    set_up(bench, "seal", size)
    page = bench.page
    third = page.card.seconds[2]
    assert (page.third.face.word, page.third.face.key) == (third.label, third.key)
    assert in_sight(page.third)
    bench.click(page.third)
    assert "garment labels" in page.evidence.text


def test_absorbers_that_do_not_suffice_are_shut_up_by_a_finger(bench: Bench) -> None:
    """At a doubted packet the way out stands before another count."""
    set_up(bench, "doubted", SIZES[1])
    (way_out,) = (each for each in bench.page.seconds if each.face.key == "C")
    assert in_sight(way_out)
    bench.click(way_out)
    assert bench.page.form_opened("jar")


def test_what_was_unfolded_folds_once_something_is_done(bench: Bench) -> None:
    """The Space bar fills a pouch as ever, and what lies unfolded gives way."""
    set_up(bench, "fill-some", SIZES[0])
    bench.click(bench.page.third)
    bench.press_main()
    assert isinstance(bench.desk.entries[-1].fact, f.PouchesFilled)
    assert not bench.page.further.opened


def test_the_forecast_of_pouches_never_scrolls_away(bench: Bench) -> None:
    """Sentence, main control, what is still to come and the count stand in one sight while filling:
    at the first pouch, with food lost, beside a form, and under an alarm."""
    set_up(bench, "revise", SIZES[0])

    def looked_at(words: str, count: str) -> None:
        bench.settle()
        page = bench.page
        assert words in page.standing.text
        assert count in bench.window.tally.runs[0].accessibleName()
        assert bench.window.tally.runs[0].isVisible()
        for widget in (page.sentence, page.main, page.standing):
            assert in_sight(widget)

    looked_at("makes 6 more, not 7", "6 filled")
    bench.key("L")
    looked_at("makes 6 more, not 7", "6 filled")
    bench.key(Qt.Key.Key_Escape)
    bench.key("U")
    looked_at("6 of 12 filled", "6 filled")
    bench.walk.in_round().shut(6).jar_shut()
    bench.on(hours=2)
    assert bench.window.band.isVisible()
    looked_at("6 of 12 filled", "6 shut")


@pytest.mark.parametrize("scene", ["round", "late"])
def test_a_round_is_told_in_one_sight(bench: Bench, scene: str) -> None:
    """Forecast, count, pouches and caution stand there without scrolling, also under an alarm: the
    words below the ribbon give way first, then the size of the pouches."""
    set_up(bench, scene, SIZES[0])
    page = bench.page
    assert page.standing.text.startswith("4 left at about 30 s each: 2 min; margin used up in ")
    for widget in (page.sentence, page.main, page.standing, page._progress, page.caution):
        assert in_sight(widget)
    gave_way = scene == "late"
    assert (page._ribbon.gives_way, page._cells.gives_way) == (gave_way, gave_way)


@pytest.mark.parametrize("scene", ["short", "doubted", "tired"])
def test_a_caution_rises_above_long_words(bench: Bench, scene: str) -> None:
    """Where much is to be told the caution stands before it, in sight; with room it stands below
    the pouches again."""
    for size, risen in (((1366, 768), True), ((1366, 1200), False), ((1366, 768), True)):
        if bench.session is None:
            set_up(bench, scene, size)
        bench.window.resize(*size)
        bench.settle()
        assert in_sight(bench.page.caution), f"{scene} at {size}"
        tops = [widget.y() for widget in (bench.page.caution, bench.page._cells)]
        assert (tops[0] < tops[1]) == risen


def test_a_larger_window_takes_back_what_gave_way(bench: Bench) -> None:
    """With room again the ribbon says its words and pouches are drawn as large as before."""
    set_up(bench, "late", SIZES[0])
    bench.window.resize(1366, 900)
    bench.settle()
    assert not bench.page._ribbon.gives_way
    assert not bench.page._cells.gives_way


def test_the_look_at_a_packet_fits_a_small_screen(bench: Bench) -> None:
    """All that is looked at, and what it means, stands there before anything scrolls."""
    set_up(bench, "packet", SIZES[1])
    form = bench.page.forms["packet"]
    for name in ("rating", "absorbers", "indicator"):
        assert in_sight(form.inputs[name].box), name
    for button in (*form.inputs["bag"].buttons, *form.inputs["feel"].buttons):
        assert in_sight(button)
    assert form.doubt.text.startswith("Air got into this packet")
    assert in_sight(form.doubt)
