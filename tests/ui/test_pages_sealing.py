"""The page at the iron: short to read, the long advice behind one key."""

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


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Six pouches wait for the iron."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in (*OPEN, "filled", "in_round", "all_shut"):
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.SEALING)
    yield bench
    bench.close()


def test_the_iron_is_told_by_the_film_of_the_pouches(bench: Bench) -> None:
    """The first line is the setting in dots and seconds, as the catalogue has it for this film."""
    film = bench.tools.catalog.films[bench.session.plan.lines[0].film]
    dots = ("one dot", "two dots", "three dots")[film.iron_dots - 1]

    assert bench.page.standing.text.startswith(f"Dry iron, {dots}, ")


def test_one_key_unfolds_the_long_advice_and_folds_it_away(bench: Bench) -> None:
    """I shows how to seal and what to look for tomorrow; again, and the page is short as before;
    nothing goes on record for it."""
    short, entries = bench.page.evidence.text, bench.desk.entries
    bench.key("I")
    assert "garment labels" in bench.page.evidence.text
    assert "tight today, soft tomorrow" in bench.page.evidence.text

    bench.key("I")

    assert bench.page.evidence.text == short
    assert bench.desk.entries == entries


def test_sealed_once_the_page_tells_of_tomorrow(bench: Bench) -> None:
    """One press seals all that wait, and the words of the day after stand there."""
    bench.key(Qt.Key.Key_Space)

    assert all(pouch.gas_tight for pouch in bench.session.working_pouches())
    assert bench.page.evidence.text.startswith("Tomorrow: only about a fifth")
