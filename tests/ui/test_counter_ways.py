"""What the cards at the counter and the iron name, and where their keys lead."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session import commands as c
from packdesk.session.terms import PacketCondition, Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, agreed

SPACE, ESCAPE = Qt.Key.Key_Space, Qt.Key.Key_Escape


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Seven pouches of rice that take 200 cc each are planned; none is filled."""
    found = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    plan(found, 4900.0)
    yield found
    found.close()


def plan(bench: Bench, mass_g: float, food: str = "white_rice", pouch: str = "zip-203x254") -> None:
    """So much food is there, needs no cold, and is planned."""
    walk = bench.walk.opened()
    walk.do(c.ReceiveLot(food, bench.tools.catalog.foods[food].name, mass_g))
    walk.do(c.AgreePlan((agreed(1, walk.lots[0], food, mass_g, pouch),), False, 0.0, 21.0))
    walk.do(c.BypassCold(walk.lots[0], "treated by the mill"))


def packet(bench: Bench, rating: int, count: int, condition: PacketCondition) -> None:
    """A packet lies open."""
    bench.walk.do(c.OpenPacket(f"self-{rating}", rating, count, condition, 21.0))
    bench.window.show_stage(Stage.FILLING)


def test_doubt_is_said_of_its_packet_by_name(bench: Bench) -> None:
    """A slack packet of another rating lies open beside the sound one that is taken from."""
    bench.walk.filled(4).made_ready()
    packet(bench, 500, 10, PacketCondition.SLACK)
    packet(bench, 200, 10, PacketCondition.TIGHT)

    assert bench.page.sentence.text.startswith("Drop 1 absorber into each of pouches 1 to 4")
    assert "Air may have got into packet P1:" in bench.page.evidence.text
    assert "this packet" not in bench.page.evidence.text


def test_why_what_lies_open_goes_back_into_the_jar(bench: Bench) -> None:
    """Absorbers of a rating that no pouch takes are shut up again, and it is said why."""
    bench.walk.filled(4).made_ready()
    packet(bench, 500, 2, PacketCondition.TIGHT)

    assert bench.page.sentence.text.startswith("Put the 2 absorbers left into the jar")
    assert bench.page._foremost.text == (
        "Pouches 1 to 4 take 200 cc each; those of packet P1 are of 500 cc."
    )


@pytest.mark.parametrize("ready", [False, True])
def test_what_waits_for_the_iron_is_said_once_all_are_filled(bench: Bench, ready: bool) -> None:
    """Also before and after the next round is made ready for, G leads to those pressed shut."""
    bench.walk.filled(3).in_round(3).shut(3).filled(4)
    if ready:
        bench.walk.made_ready()
    bench.window.show_stage(Stage.FILLING)
    assert bench.page.sentence.text.startswith("Look at the packet" if ready else "All are filled.")
    assert "3 wait for the iron; G goes there." in bench.page.card.evidence

    bench.key("G")
    assert bench.page.sentence.text == "Seal pouches 1 to 3, two seams each."


def test_g_leads_to_the_iron_once_a_liner_has_its_absorber(theme: Theme, tmp_path: Path) -> None:
    """Before that there is nothing to seal, and G is not offered."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    try:
        plan(bench, 10_000.0, "hard_wheat", "liner-508x762")
        bench.walk.filled(1).in_round(10)
        bench.window.show_stage(Stage.FILLING)
        assert "G" not in [each.key for each in bench.page.card.seconds]
        bench.key("G")
        assert bench.page.stage is Stage.FILLING

        bench.key(SPACE)
        bench.key("G")
        assert bench.page.stage is Stage.SEALING
    finally:
        bench.close()


def test_every_pouch_that_stands_open_is_named_from_afar(bench: Bench) -> None:
    """Two were opened again at the iron, one after the other; the clock in view is of one."""
    bench.walk.filled(7).in_round(7).shut(7)
    bench.walk.do(c.ReopenPouches((2,), "look"))
    bench.clock.on(minutes=3)
    bench.walk.do(c.ReopenPouches((7,), "look"))
    bench.window.show_stage(Stage.SEALING)
    bench.key("F")

    said = bench.window.far.face.sentence
    assert said == "Pouches 2 and 7 stand open. Seal pouches 1 and 3 to 6, two seams each."


def test_esc_takes_a_notice_away_and_leaves_the_ready_check(bench: Bench) -> None:
    """What was ticked stays ticked; only the next Esc goes back to filling."""
    bench.walk.filled(7)
    bench.window.show_stage(Stage.FILLING)
    bench.key(SPACE, times=2)
    ticked = bench.page.chosen.ready.ticked
    assert len(ticked) == 1
    bench.window.notices.say("The computer slept for 20 min.")

    bench.key(ESCAPE)
    assert not bench.window.notices.sentences
    assert bench.page.chosen.ready.ticked == ticked
    bench.key(ESCAPE)
    assert bench.page.chosen.ready is None
