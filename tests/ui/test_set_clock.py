"""The window goes on working when the computer's clock is set, and says so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.script import STATION
from tests.ui.window_kit import Bench, HandDrivenClock


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Four pouches stand open beside an open packet."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered().filled(4).in_round()
    bench.window.show_stage(Stage.FILLING)
    yield bench
    bench.close()


def test_work_goes_on_while_the_clock_is_set_back_and_asks_after_a_restart(
    bench: Bench,
) -> None:
    """A round goes on over a clock set back; over a restart it asks, and keeps what is so."""
    bench.window.heartbeat.tick()
    now = bench.clock.reading()
    bench.clock.set(replace(now, utc=now.utc - timedelta(hours=2)))
    bench.window.heartbeat.tick()

    assert bench.window.notices.sentences[-1] == (
        "The computer's clock was set back 2 h. Whatever is under way goes on as before."
    )
    before = len(bench.desk.entries)
    bench.clock.on(minutes=1)
    bench.key(Qt.Key.Key_Space)
    assert len(bench.desk.entries) > before
    assert bench.page.refusal.objection is None

    now = bench.clock.reading()
    bench.clock.set(replace(now, utc=now.utc - timedelta(hours=3), steady_s=5.0, boot="boot-2"))
    bench.window.heartbeat.tick()
    before = len(bench.desk.entries)
    bench.press_main()
    asked = bench.page.refusal.objection
    assert asked is not None
    assert asked.what.startswith("By this computer's clock that would be before the last entry")
    bench.keep_as_it_is()
    assert len(bench.desk.entries) > before
    assert bench.desk.state.disputed == ()
