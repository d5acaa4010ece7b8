"""A packet left open in another session rings here too, by name, and is one press away."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from packdesk.session import commands as c
from packdesk.session.terms import Stage
from packdesk.ui.icons import Icon
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def beats(bench: Bench) -> None:
    """Let the window look at every session of the book, and ring."""
    for _ in range(3):
        bench.window.heartbeat.tick()
    bench.settle()


def test_what_falls_due_elsewhere_is_told_silenced_and_gone_to(bench: Bench) -> None:
    """The band names the session; Stop sound ends the ringing there, Go there takes it up."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    bench.walk.filled().in_round()
    first = bench.session.session
    name = bench.session.name
    bench.window.submit(c.OpenSession("Rice", "metric", "R1C3"))
    assert bench.window.band.isHidden()
    bench.clock.on(minutes=45)
    beats(bench)

    band = bench.window.band.band
    assert band is not None
    assert band.headline.startswith(f"{name}: Packet P1 is ")
    assert bench.window.alarm.ringing
    assert band.session == first

    bench.click(bench.window.band.stop)
    beats(bench)
    assert not bench.window.alarm.ringing
    assert bench.window.band.band is not None, "the absorbers still lie open"
    assert bench.window.band.stop.isHidden()
    assert not bench.window.band.go.isHidden()
    bench.window.show_start()
    bench.settle()
    faces = {button.face.word: button.face for button in bench.window.start.resumes}
    listed = faces[name]
    assert "is due" not in faces["Rice"].key
    assert listed.key.endswith("1 clock is due")
    assert listed.icon is Icon.RING


def test_going_there_takes_up_the_session_that_rings(bench: Bench) -> None:
    """One press on the band shows the other session, whose own band it is then."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    bench.walk.filled().in_round()
    first = bench.session.session
    bench.window.submit(c.OpenSession("Rice", "metric", "R1C3"))
    bench.clock.on(minutes=45)
    beats(bench)

    bench.click(bench.window.band.go)

    assert bench.session.session == first
    band = bench.window.band.band
    assert band is not None
    assert band.session is None
    assert bench.window.band.go.isHidden()


def test_what_was_told_of_one_session_is_not_told_of_the_next(bench: Bench) -> None:
    """Nothing of the round, nor what was typed for it, stands on the page of another session."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    bench.walk.filled().in_round()
    bench.window.show_stage(Stage.FILLING)
    bench.settle()
    assert "lie open" in bench.page.evidence.text
    bench.press("Another count")
    bench.fill_in("count", "3")

    bench.window.submit(c.OpenSession("Rice", "metric", "R1C3"))
    bench.window.show_stage(Stage.FILLING)
    bench.settle()

    assert "lie open" not in bench.page.evidence.text
    assert bench.page.form_shown() is None


def test_stopping_the_sound_leaves_what_is_being_typed(bench: Bench) -> None:
    """The form that stands open, and what was typed in it, are there after Stop sound."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    bench.walk.filled().in_round()
    bench.window.show_stage(Stage.FILLING)
    bench.press("Another count")
    bench.fill_in("count", "3")
    bench.on(minutes=40)
    assert bench.window.alarm.ringing

    bench.click(bench.window.band.stop)

    assert not bench.window.alarm.ringing
    assert bench.page.form_shown() is not None
    assert bench.input("count").box.text() == "3"
