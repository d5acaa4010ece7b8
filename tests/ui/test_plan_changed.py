"""A plan changed while pouches are filled: what is in them stays, the rest goes elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.present.label_text import absorber_words
from packdesk.session.commands import BypassCold, ReceiveLot, SetAside
from packdesk.session.net_mass import net_mass_g
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

LARGE = "zip-254x356"


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """4.9 kg of rice in quart pouches, two of them filled and sealed, the plan opened again."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened()
    walk.do(ReceiveLot("white_rice", "white rice, long grain", 4900.0))
    bench.window.show_stage(Stage.BEFORE)
    bench.fill_in("fill 2610-1", "700")
    bench.press_main()
    walk.do(BypassCold("2610-1", "treated by the mill"))
    walk.filled(2).in_round(10).shut(2).jar_shut().sealed()
    bench.window.show_stage(Stage.BEFORE)
    bench.key("C")
    yield bench
    bench.close()


def test_another_pouch_is_for_the_food_that_is_left(bench: Bench) -> None:
    """Two sealed pouches keep kind, mass and absorbers; what is left goes into the other kind."""
    (before,) = bench.session.plan.lines
    bench.pick("pouch 2610-1", LARGE)
    bench.key(Qt.Key.Key_Space)

    kept, rest = bench.session.plan.lines
    same = ("line", "pouch", "fill_mass_g", "absorbers_cc", "oxygen_need_cc")
    assert [getattr(kept, name) for name in same] == [getattr(before, name) for name in same]
    assert (kept.count, kept.mass_g) == (2, 1400.0)
    assert (rest.line, rest.pouch, rest.mass_g) == (2, LARGE, 3500.0)
    last_g = rest.last_fill_mass_g or rest.fill_mass_g
    assert (rest.count - 1) * rest.fill_mass_g + last_g == pytest.approx(3500.0, rel=0.01)
    for pouch in bench.session.pouches.values():
        assert net_mass_g(bench.session, kept, pouch) == 700.0
        assert absorber_words(kept, pouch) == f"1 × {before.absorbers_cc[0]} cc absorber"

    bench.window.show_now()
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[3].line == 2


def test_a_plan_agreed_again_as_it_is_leaves_a_begun_line_alone(bench: Bench) -> None:
    """Agreed again unchanged, in a warmer room even, the line is the one that was filled by."""
    before = bench.session.plan
    bench.fill_in("room", "28")
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Space)
    assert bench.session.plan.packing_temp_c == 28.0 != before.packing_temp_c
    assert bench.session.plan.lines == before.lines


def test_the_form_says_what_stays(bench: Bench) -> None:
    """While the plan is open its line tells what is filled, and what a choice is for."""
    row = bench.page.forms["plan"].rows[0]
    assert "2 pouches are filled: 700" in row._warnings.text
    assert row._warnings.text.endswith("another pouch or mass chosen here is for the rest.")
    bench.pick("pouch 2610-1", LARGE)
    assert row._warnings.text.splitlines()[0].endswith("this line is for the rest.")


def test_the_rest_may_change_again(bench: Bench) -> None:
    """A second change of mind plans the same rest anew, and adds no third line."""
    bench.pick("pouch 2610-1", LARGE)
    bench.key(Qt.Key.Key_Space)
    bench.window.show_stage(Stage.BEFORE)
    bench.key("C")
    bench.fill_in("fill 2610-1", "500")
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Space)
    assert [(line.line, line.count, line.fill_mass_g) for line in bench.session.plan.lines] == [
        (1, 2, 700.0),
        (2, 7, 500.0),
    ]


def test_two_lines_of_one_food_are_told_apart(bench: Bench) -> None:
    """Where both have a pouch to fill, each is offered with the mass of its pouches."""
    bench.pick("pouch 2610-1", LARGE)
    bench.key(Qt.Key.Key_Space)
    bench.walk.do(SetAside((2,), "torn", True))
    bench.window.show_now()
    names = [button.option.words for button in bench.page._lines.buttons]
    assert len(names) == 2
    assert names[0].endswith(", 700\N{NO-BREAK SPACE}g")
    assert names[1].endswith("\N{NO-BREAK SPACE}kg")
