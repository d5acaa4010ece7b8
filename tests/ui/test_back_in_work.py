"""A pouch set aside with its food and brought back: it is the next thing to do, and named."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.present.tally_board import progress
from packdesk.session import commands as c
from packdesk.session.net_mass import net_mass_g
from packdesk.session.tally import tallies
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Six wheat pouches are sealed, number 2 stands aside with its food; others are to come."""
    found = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in (*OPEN, "filled", "in_round", "all_shut", "sealed", "one_aside"):
        getattr(found.walk, step)()
    yield found
    found.close()


def test_while_others_are_to_fill_it_waits_for_their_round_and_is_named(bench: Bench) -> None:
    """The page goes on filling, since no packet is opened for one pouch alone, and says what
    stands open; so do the far view and the tally, and the iron leads back to filling."""
    bench.walk.do(c.ReturnPouches((2,)))

    bench.window.show_stage(Stage.FILLING)
    assert bench.page.main.face.label == "Pouch 7 is filled"
    assert bench.page._first.text == "Pouch 2 is back in work and open: take its old absorber out."
    bench.key("F")
    assert "Pouch 2 is back" in bench.window.far.face.sentence.replace("\u00a0", " ")
    bench.key("F")
    assert progress(tallies(bench.session)[0]) == "5 sealed, 1 back and open, 7 to fill"

    bench.window.show_stage(Stage.SEALING)
    assert bench.page.sentence.text.startswith("Back to filling first: fresh absorbers into")
    assert bench.page.main.face.label == "Go to filling"


def test_once_all_are_filled_it_is_the_next_thing_to_do(bench: Bench) -> None:
    """Heading and far view name it, whatever food was picked last."""
    bench.walk.do(c.RevisePlan(1, 6))
    bench.walk.do(c.ReturnPouches((2,)))

    bench.window.show_stage(Stage.FILLING)
    assert bench.page.sentence.text.startswith(
        "Pouch 2 is back in work and open: take its old absorber out. Make ready"
    )
    assert bench.page.main.face.label == "Make ready"
    assert bench.page.count_afar == "1 open again"
    bench.key("F")
    assert "Pouch 2 is back" in bench.window.far.face.sentence.replace("\u00a0", " ")


def test_with_others_at_the_iron_it_is_named_there_too(bench: Bench) -> None:
    """While another pouch waits for its seam the page at the iron still says what stands open."""
    bench.walk.do(c.ReopenPouches((3,), "look"))
    bench.walk.do(c.ShutPouches((3,)))
    bench.walk.do(c.ReturnPouches((2,)))

    bench.window.show_stage(Stage.SEALING)

    assert bench.page._foremost.text.startswith("Pouch 2 stands open again")
    assert any(control.goto is Stage.FILLING for control in bench.page.card.seconds)


def test_nothing_is_to_fill_for_a_pouch_that_holds_its_food(bench: Bench) -> None:
    """Aside with its food it takes no food from those to come, and the last of them is filled with
    what is left; then Space puts no pouch more on record."""
    line = bench.session.plan.lines[0]
    bench.window.show_stage(Stage.FILLING)
    bench.key("A")

    pouches = bench.session.pouches
    assert len(pouches) == line.count
    assert sum(net_mass_g(bench.session, line, p) for p in pouches.values()) == pytest.approx(
        line.mass_g, abs=1.0
    )
    assert bench.page.sentence.text.startswith("All are filled. Make ready")


def test_lost_food_lessens_what_all_means(bench: Bench) -> None:
    """With as much lost as two pouches hold, A fills two fewer, and U plans as many."""
    line = bench.session.plan.lines[0]
    bench.walk.do(c.NoteFoodLost(1, 2.0 * line.fill_mass_g, "spilled"))
    bench.window.show_stage(Stage.FILLING)
    bench.key("A")

    session = bench.session
    held_g = sum(net_mass_g(session, line, p) for p in session.pouches.values())
    assert held_g + session.lost_g[1] == pytest.approx(line.mass_g, abs=1.0)
    assert bench.page.main.face.hint == "Enter with a typed mass"
    assert ", 1 set aside; no food is left." in bench.page.standing.text
    before = len(session.pouches)
    bench.key(Qt.Key.Key_Space)
    assert len(bench.session.pouches) == before, "nothing is left for another"


def test_the_last_pouch_is_exchanged_with_its_mass(theme: Theme, tmp_path: Path) -> None:
    """X on pouch 4 and the last one: what was left is in pouch 4 then, a full one in the last, and
    all together still hold what the line had; the way back is one press."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned(numbered=True)
    walk.frozen().cold_enough().taken_out().uncovered()
    line = bench.session.plan.lines[0]
    bench.window.show_stage(Stage.FILLING)
    bench.key("A")

    def masses_g() -> list[float]:
        return [net_mass_g(bench.session, line, p) for p in bench.session.pouches.values()]

    before = masses_g()
    bench.key("X")
    bench.fill_in("first", "4")
    bench.fill_in("second", str(line.count))
    bench.key(Qt.Key.Key_Return)

    after = masses_g()
    assert (after[3], after[-1]) == (before[-1], before[3])
    assert before[-1] < before[3]
    assert sum(after) == pytest.approx(line.mass_g, abs=1.0)
    bench.key(Qt.Key.Key_Backspace)
    assert masses_g() == before
    bench.close()
