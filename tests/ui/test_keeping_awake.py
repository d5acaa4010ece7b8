"""That a computer may fall asleep is told until it is understood, and not at every packet."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

ASLEEP = "This computer could not be kept awake."


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Pouches filled, on a computer that cannot be kept awake."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.tools.awake.hold = lambda *, screen_on: ASLEEP
    walk = bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered().filled(6)
    bench.window.show_stage(Stage.FILLING)
    bench.on(seconds=1)
    yield bench
    bench.close()


def test_what_is_understood_comes_back_only_when_it_is_news(bench: Bench) -> None:
    """Esc takes the notice away for the rest of the session, other starts of it as well; once the
    computer could be held awake, that it cannot be any more is told again."""

    def another_packet() -> tuple[str, ...]:
        bench.walk.jar_shut()
        bench.on(hours=3)
        bench.walk.in_round().shut(1)
        bench.on(seconds=1)
        return bench.window.notices.sentences

    bench.walk.in_round().shut(1)
    bench.on(seconds=1)
    assert bench.window.notices.sentences == (ASLEEP,)

    bench.key(Qt.Key.Key_Escape)
    assert bench.window.notices.sentences == ()
    assert bench.page.main.hasFocus()
    assert another_packet() == ()

    bench.window.awake._held = False  # as after another start
    bench.on(seconds=1)
    assert bench.window.notices.sentences == ()

    refused, bench.tools.awake.hold = bench.tools.awake.hold, lambda *, screen_on: ""
    assert another_packet() == ()
    bench.tools.awake.hold = refused
    assert another_packet() == (ASLEEP,)
