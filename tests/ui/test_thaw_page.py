"""The thaw page in a low window: what gives way, and what does not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from packdesk.present.cards import Control
from packdesk.session import commands as c
from packdesk.session.terms import Probe, Stage
from packdesk.ui.theme.theme import Theme
from packdesk.units import NotUnderstood
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


def warming(theme: Theme, tmp_path: Path, width: int, height: int) -> Bench:
    """Load A warms while load B is overdue in the freezer, so that the alarm band stands."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.window.resize(width, height)
    walk = bench.walk.opened().received().planned().frozen()
    walk.clock.on(hours=110)
    walk.do(c.TakeLoadOut("A", 21.0, 0.5))
    walk.clock.on(hours=6)
    bench.window.show_stage(Stage.THAW_EQUILIBRATION)
    bench.page.choose(load="A")
    bench.window.heartbeat.tick()
    for _ in range(3):
        QApplication.processEvents()
    return bench


def test_with_the_alarm_band_the_plot_is_whole_and_sentences_give_way(
    theme: Theme, tmp_path: Path
) -> None:
    """At 1366 px the plot keeps its least height in sight; what is left out is in the tooltip."""
    bench = warming(theme, tmp_path, 1366, 768)
    page, plot = bench.page, bench.page.core.plot

    assert plot.height() >= theme.whole(150)
    foot = plot.mapTo(page.scroll.viewport(), plot.rect().bottomLeft()).y()
    assert foot <= page.scroll.viewport().height()
    assert "no dew settles" in page.evidence.text
    assert "Never open" in f"{page.evidence.text}{page.evidence.toolTip()}"
    bench.close()


def test_in_a_tall_window_every_sentence_is_said(theme: Theme, tmp_path: Path) -> None:
    """At 1920 px nothing is left to the tooltip, and nothing scrolls."""
    bench = warming(theme, tmp_path, 1920, 1080)
    page = bench.page

    assert "Never open" in page.evidence.text
    assert "wipe the outside" in page.evidence.text
    assert page.evidence.toolTip() == ""
    assert page.scroll.verticalScrollBar().maximum() == 0
    bench.close()


def test_a_wired_probe_of_a_warming_pail_is_noted(theme: Theme, tmp_path: Path) -> None:
    """A probe that was in before the lid went on is read through the closed lid, and moves it."""
    bench = warming(theme, tmp_path, 1366, 768)
    before = bench.session.loads["A"].thaw.lid_off

    bench.key("R")
    assert "Never open a warming pail" in bench.page.foreword.text
    bench.option("where", Probe.CORE)
    assert bench.input("damp").isHidden()
    bench.fill_in("temp", "-18")
    bench.key(Qt.Key.Key_Return)
    if bench.page.refusal.objection:
        bench.keep_as_it_is()

    load = bench.session.loads["A"]
    assert load.readings[-1].probe is Probe.CORE
    assert load.thaw.lid_off.likely > before.likely
    bench.key("R")
    assert bench.input("where").key == "room"
    bench.fill_in("temp", "70")
    bench.key(Qt.Key.Key_Return)
    assert "was the thermometer in Fahrenheit?" in repr(bench.page.refusal.objection)
    assert not bench.session.room_readings
    bench.close()


def test_a_core_is_never_noted_as_the_room(theme: Theme, tmp_path: Path) -> None:
    """Where no load is warming a figure said to be the core's is answered in words."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.walk.opened().received().planned().frozen()
    bench.window.show_stage(Stage.THAW_EQUILIBRATION)
    reading = Control("Note the reading", form="reading")
    typed = {"where": Probe.CORE, "temp": -4.0, "when": None}

    with pytest.raises(NotUnderstood, match="No load is warming"):
        bench.page.order(reading, typed, bench.page.sight)
    bench.close()
