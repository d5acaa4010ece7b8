"""Two packets of one rating lie open at once: the page says which is taken from."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")
SPACE = Qt.Key.Key_Space


def test_the_page_says_which_packet_and_one_press_changes_over(
    theme: Theme, tmp_path: Path
) -> None:
    """What is opened first is taken from first and told so; T takes from the other packet."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in OPEN:
        getattr(bench.walk, step)()
    bench.walk.filled(12).in_round()
    bench.window.show_stage(Stage.FILLING)
    page = bench.page
    try:
        assert "lacking for what stands open; P opens" in page.evidence.text
        bench.clock.on(minutes=2)
        bench.key("P")
        assert page.sentence.text.startswith("Look at the packet or jar")
        bench.key(SPACE)
        assert "from P1 into each of pouches 1 to 10" in page.sentence.text
        assert "Take from packet P1, 10 left: its time is over first." in page._foremost.text
        for key in ("W", "3", Qt.Key.Key_Return):
            bench.key(key)
        assert {n: r.left for n, r in bench.session.rounds.items()} == {1: 7, 2: 10}

        bench.key("T")
        assert "from P2" in page.sentence.text
        assert "you chose it" in page._foremost.text
        assert "packet P2" in bench.page._title.text
        bench.key(SPACE)
        placed = [pouch.placed[-1].round for pouch in bench.session.pouches.values()]
        assert placed == [1] * 3 + [2] * 9
        assert "7 absorbers left of packet P1" in page.sentence.text
        bench.key(SPACE)
        assert "left of packet P2" not in page.sentence.text
        assert "Put the absorber left into the jar" in page.sentence.text
    finally:
        bench.close()
