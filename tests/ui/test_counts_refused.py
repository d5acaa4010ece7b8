"""Counts that cannot be, and absorbers that are not enough, at the counter and at the iron."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")
SPACE, ENTER, BACK = Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Backspace


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Six pouches stand open, everything is ready for a packet."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in OPEN:
        getattr(bench.walk, step)()
    bench.walk.filled(6).made_ready()
    bench.window.show_stage(Stage.FILLING)
    yield bench
    bench.close()


def doubted_packet(bench: Bench, count: int) -> None:
    """Open a packet that is slack and whose indicator shows oxygen."""
    bench.key("P")
    bench.fill_in("absorbers", str(count))
    bench.option("bag", "slack")
    bench.pick("indicator", "oxygen")
    bench.press_main()


def refused(bench: Bench, entries: int) -> str:
    """What is said beside the count, which stands there still; nothing was recorded."""
    assert len(bench.desk.entries) == entries
    objection = bench.input("count").refusal.objection
    assert objection is not None
    assert bench.page.main.face.label == objection.what.rstrip(".")
    assert bench.page.main.face.missing == objection.figure.rstrip(".")
    return f"{bench.input('count').text}: {objection.what} {objection.figure}"


def test_a_count_that_cannot_be_is_refused_with_why_and_can_be_mended(bench: Bench) -> None:
    """Six wait, nine absorbers at two each do for four: more is refused in words, stays in its
    field, and is mended there; the same at the scale and at the iron."""
    page = bench.page
    doubted_packet(bench, 9)
    entries = len(bench.desk.entries)
    for letter in ("5", ENTER):
        bench.key(letter)
    why = "9 absorbers are left, 2 each: 4\u00a0pouches at most."
    assert refused(bench, entries) == f"5: 5 are too many. {why}"
    bench.press("Only 1 each")
    placed = [pouch for pouch in bench.session.pouches.values() if pouch.placed]
    assert len(placed) == 5, "as planned five can be had of nine"

    entries = len(bench.desk.entries)
    for letter in ("9", SPACE):
        bench.key(letter)
    assert refused(bench, entries) == "9: 9 are too many. 1 waits for an absorber."
    bench.press("Only 1 each")
    assert refused(bench, entries) == "9: 9 are too many. 1 waits for an absorber."
    for letter in (BACK, "1"):
        bench.key(letter)
    assert bench.input("count").refusal.objection is None
    assert page.main.face.label == "Pouch 6 is shut"
    for letter in (ENTER, SPACE):
        bench.key(letter)
    assert all(pouch.shut for pouch in bench.session.pouches.values())

    entries = len(bench.desk.entries)
    bench.fill_in("count", "8")
    bench.key(ENTER)
    assert refused(bench, entries) == "8: 8 are too many. The plan has 7 to fill yet."
    bench.window.show_stage(Stage.SEALING)
    for letter in ("7", ENTER):
        bench.key(letter)
    assert refused(bench, entries) == "7: 7 are too many. 6 wait for this seam."


def test_too_weak_a_packet_is_counted_and_shut_up_where_the_person_says(bench: Bench) -> None:
    """One of a doubted packet is not enough for a pouch: no forecast stands there; how many, in
    what and where are taken, and where the hand is empty no jar is made."""
    page = bench.page
    doubted_packet(bench, 1)
    assert page.sentence.text.startswith("Not enough for a pouch: put the 1 left of packet P1 into")
    assert "is then shut about" not in page.evidence.text
    assert "left at about" not in f"{page.standing.text} {page.evidence.text}"
    assert not page._cells.isVisible()
    bench.key("W")
    bench.fill_in("counted", "1")
    bench.pick("vessel", "quart_jar")
    bench.fill_in("place", "cellar")
    bench.press_main()
    (jar,) = bench.desk.state.book.remainders.values()
    assert (jar.count, jar.vessel, jar.place) == (1, "quart_jar", "cellar")

    bench.walk.made_ready()
    bench.window.show_stage(Stage.FILLING)
    doubted_packet(bench, 1)
    bench.key("W")
    bench.fill_in("counted", "0")
    assert page.main.face.label == "None is left"
    bench.key(ENTER)
    assert len(bench.desk.state.book.remainders) == 1
    assert not any(round_.left for round_ in bench.session.rounds.values())


def test_the_words_of_a_packet_not_looked_at_know_its_indicator(bench: Bench) -> None:
    """A bag nobody looked at counts as sound; that its indicator shows no oxygen is said too."""
    bench.key("P")
    doubt = bench.page._packet.doubt
    assert doubt.text == "Neither looked at nor felt, it counts as sound."
    bench.pick("indicator", "no_oxygen")
    assert doubt.text.startswith("The indicator shows no oxygen; the bag was not looked at")
    assert "nor the absorbers felt" in doubt.text
    bench.option("feel", "soft")
    assert "felt" not in doubt.text
    bench.option("bag", "tight")
    assert doubt.text == ""
