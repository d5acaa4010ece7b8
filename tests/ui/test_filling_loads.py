"""Two loads of one lot are open: the page says which one it fills from and lets it be changed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.terms import Stage
from packdesk.ui.pages.options import OptionButton
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import PAIL, STATION, Bench, HandDrivenClock, catalog, figures


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Wheat in two loads, both of them warm, the first open, the scale at hand."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned()
    pail = catalog().pails[PAIL].name
    for mass_g in (4000.0, 5000.0):
        walk.do(c.FreezeLoad(walk.lots[0], PAIL, pail, mass_g, figures("hard_wheat", mass_g)))
    bench.clock.on(hours=150)
    walk.taken_out()
    bench.clock.on(hours=60)
    walk.do(c.UncoverLoad("A"))
    bench.window.show_stage(Stage.FILLING)
    yield bench
    bench.close()


def choices(bench: Bench) -> dict[str, OptionButton]:
    """The loads offered, by their words."""
    shown = bench.page.findChildren(OptionButton)
    return {b.option.words: b for b in shown if b.isVisible() and b.option.key[:1] in "AB"}


def filled_from(bench: Bench) -> tuple[str, ...]:
    """The loads of the filling recorded last."""
    fact = bench.desk.entries[-1].fact
    assert isinstance(fact, f.PouchesFilled)
    return fact.loads


def test_one_open_load_is_no_question(bench: Bench) -> None:
    """With one load open there is nothing to choose, and its letter goes on record."""
    assert not choices(bench)
    bench.key(Qt.Key.Key_Space)
    assert filled_from(bench) == ("A",)


def test_one_click_says_that_the_pouch_straddles(bench: Bench) -> None:
    """With two open the page says which it takes; one click names both, and only for this one."""
    bench.walk.do(c.UncoverLoad("B"))
    offered = choices(bench)
    assert list(offered) == ["A", "A, then B", "B"]
    assert offered["A"].isChecked()
    bench.click(offered["A, then B"])
    bench.press_main()
    assert filled_from(bench) == ("A", "B")
    assert choices(bench)["B"].isChecked()


def test_the_choice_is_made_with_keys(bench: Bench) -> None:
    """The loads can be walked with the arrow keys, and the mass typed after that."""
    bench.walk.do(c.UncoverLoad("B"))
    choices(bench)["A"].setFocus()
    bench.key(Qt.Key.Key_Right, times=2)
    assert choices(bench)["B"].isChecked()
    bench.press_main()
    assert filled_from(bench) == ("B",)


def test_all_at_once_takes_one_load_after_the_other(bench: Bench) -> None:
    """What is more than one load holds is said to come from both."""
    bench.walk.do(c.UncoverLoad("B"))
    bench.key("a")
    assert filled_from(bench) == ("A", "B")
