"""Closing while clocks run, and what of the looks a person chose comes back at the next start."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QImage, QRegion
from PySide6.QtWidgets import QApplication, QWidget

from packdesk.app.choices import FileChoices
from packdesk.desk.desk import Desk
from packdesk.desk.ports import Tools
from packdesk.session.terms import Stage
from packdesk.settings.chosen import Settings
from packdesk.ui import start
from packdesk.ui.closing import ONCE_MORE
from packdesk.ui.looks import kept_palette, kept_percent
from packdesk.ui.pages.options import Option, Options
from packdesk.ui.theme.choice import PaletteChoice
from packdesk.ui.theme.theme import Theme
from packdesk.ui.theme.tokens import DARK
from packdesk.ui.window import Window
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, tools


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window that asks before it closes, as it does for a person."""
    found = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    found.window.closing.asks = True
    yield found
    found.window.closing.asks = False
    found.close()


def asked(bench: Bench) -> list[str]:
    """What is asked about closing now."""
    return [words for words in bench.window.notices.sentences if words.endswith(ONCE_MORE)]


# Closing ------------------------------------------------------------------------------------------


def test_closing_with_a_clock_asks_and_no_keeps_the_window(bench: Bench) -> None:
    """With loads in the freezer closing is asked about; who stays is asked again."""
    bench.walk.opened().received().planned().frozen()
    bench.window.show_stage(Stage.FILLING)
    bench.window.afar.show_far()

    bench.window.close()
    bench.settle()
    assert bench.window.isVisible()
    (words,) = asked(bench)
    assert words.startswith("A closed PackDesk cannot ring. Next: Black beans cooling, due at ")
    assert not bench.window.from_afar

    stay = next(n for n in bench.window.notices.children() if getattr(n, "words", "") == words)
    bench.click(stay.button)
    assert asked(bench) == []
    bench.window.close()
    assert bench.window.isVisible()
    assert asked(bench) == [words]


def test_closing_once_more_closes(bench: Bench) -> None:
    """The second wish in a row is granted."""
    bench.walk.opened().received().planned().frozen()
    bench.window.close()
    assert bench.window.isVisible()

    bench.window.close()
    assert not bench.window.isVisible()


def test_an_act_between_withdraws_the_question(bench: Bench) -> None:
    """Who goes on working after all is asked anew, not taken at an old word."""
    bench.walk.opened().received().planned().frozen()
    bench.window.close()
    bench.window.undo()
    assert asked(bench) == []

    bench.window.close()
    assert bench.window.isVisible()


def test_closing_asks_nothing_without_a_clock(bench: Bench) -> None:
    """Where nothing would ring the window closes at once."""
    bench.walk.opened().received().planned()

    bench.window.close()
    assert not bench.window.isVisible()


# The looks ----------------------------------------------------------------------------------------


def test_colours_and_text_size_come_back(
    qapp: QApplication, theme: Theme, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Dark colours and larger text chosen today are there, and marked, at the next start."""
    clock = HandDrivenClock()

    def kit() -> Tools:
        return replace(tools(tmp_path, clock), choices=FileChoices(tmp_path))

    window = Window(Desk(MemoryBook(STATION), clock), kit(), theme)
    for row, key in ((window.start.colours, "dark"), (window.start.sizes, "115")):
        next(b for b in row.buttons if b.option.key == key).click()
    window.close()
    window.deleteLater()
    found: list[tuple[int, str, str, str]] = []

    def look(*_: object) -> int:
        tops = QApplication.topLevelWidgets()
        (again,) = [w for w in tops if isinstance(w, Window) and w.isVisible()]
        marks = (again.start.colours.key, again.start.sizes.key)
        found.append((again.theme.measure.text_percent, again.theme.tokens.name, *marks))
        assert again.closing.asks
        again.close()
        again.deleteLater()
        return 0

    monkeypatch.setattr(QApplication, "exec", look)
    dress = qapp.palette(), qapp.font()
    start.open_window(Desk(MemoryBook(STATION), clock), kit())
    qapp.setPalette(dress[0])
    qapp.setFont(dress[1])
    assert found == [(115, DARK.name, "dark", "115")]


def test_unknown_looks_are_the_usual_ones() -> None:
    """A word or a step that is not known, as from a later PackDesk, is read as the usual one."""
    later = Settings({"palette": "sepia", "text_percent": 104.0})
    assert kept_palette(later) is PaletteChoice.FOLLOW_SYSTEM
    assert kept_percent(later) == 100


# The tick -----------------------------------------------------------------------------------------


def ticked(row: Options) -> list[bool]:
    """For each choice, whether something stands in ink in the place of the tick, at its right."""
    image = QImage(row.size(), QImage.Format.Format_RGB32)
    image.fill(row.theme.color("sheet"))
    row.render(image, QPoint(), QRegion(), QWidget.RenderFlag.DrawChildren)
    wanted = row.theme.color("ink").lightness()

    def is_ink(x: int, y: int) -> bool:
        return abs(image.pixelColor(x, y).lightness() - wanted) < 40

    found = []
    for button in row.buttons:
        place = button.geometry()
        left, right = place.right() - row.theme.whole(30), place.right() - row.theme.whole(10)
        middle = range(place.top() + place.height() // 3, place.bottom() - place.height() // 3)
        found.append(any(is_ink(x, y) for x in range(left, right) for y in middle))
    return found


@pytest.mark.parametrize("note", ["", "for 20 h"])
def test_what_is_chosen_has_a_tick_in_a_row_of_three(theme: Theme, note: str) -> None:
    """In a narrow row too the choice is marked by more than its edge, with every word whole."""
    row = Options(theme, "Where it stands")
    words = ("In free air", "Touching", "Stacked")
    row.show_options(tuple(Option(word, word, note) for word in words), "In free air")
    row.resize(540, row.sizeHint().height())
    row.show()
    QApplication.processEvents()
    assert ticked(row) == [True, False, False]
    assert [b.toolTip() for b in row.buttons] == ["", "", ""]

    row.choose("Stacked")
    assert ticked(row) == [False, False, True]
    row.close()
    row.deleteLater()


def test_a_tick_never_cuts_the_words(theme: Theme) -> None:
    """Where a choice is as wide as its words the tick is a small one above them."""
    row = Options(theme, "Where it stands")
    row.show_options((Option("1", "In free air"), Option("2", "Touching")), "1")
    row.resize(240, row.sizeHint().height())
    row.show()
    QApplication.processEvents()
    assert row.buttons[0].toolTip() == ""
    row.close()
    row.deleteLater()
