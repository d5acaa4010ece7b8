from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from packdesk.record.book import Book
from packdesk.session import facts as f
from packdesk.session.terms import PouchStage, SealVerdict, Stage
from packdesk.ui.theme.theme import Theme
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


class Home:
    """A book on the disk and whoever comes back to it: opens windows, one after another."""

    def __init__(self, theme: Theme, folder: Path) -> None:
        self._theme = theme
        self._folder = folder
        self.clock = HandDrivenClock(datetime(2026, 10, 12, 16, 0, tzinfo=UTC))
        self._book: Book | None = None
        self.bench: Bench | None = None

    def open(self) -> Bench:
        """Open the window on the book."""
        self._book = Book.open(self._folder / "record.packdesk", STATION)
        papers = self._folder / "papers"
        papers.mkdir(exist_ok=True)
        self.bench = Bench(self._theme, self._book, self.clock, papers)
        return self.bench

    def leave(self) -> None:
        """Close the window and the book."""
        if self.bench is not None:
            self.bench.close()
            self._book.close()
        self.bench = None


@pytest.fixture
def home(theme: Theme, tmp_path: Path) -> Iterator[Home]:
    """An empty book in a folder of its own."""
    home = Home(theme, tmp_path)
    yield home
    home.leave()


def standing(bench: Bench) -> list[PouchStage]:
    """How far each pouch has come."""
    return [pouch.stage for pouch in bench.session.working_pouches()]


def test_a_whole_session_by_hand_with_a_restart_in_the_middle(home: Home) -> None:
    """From an empty book to closed pails, with keys and clicks alone and a restart on the way."""
    bench = home.open()

    # A session, two lots, a plan.
    bench.type("Autumn wheat and rice")
    bench.key(Qt.Key.Key_Return)
    assert bench.page.stage is Stage.BEFORE
    bench.pick("food", "hard_wheat")
    bench.fill_in("mass", "5.6 kg")
    bench.fill_in("code", "W-0926")
    bench.press_main()
    bench.key("A")
    bench.pick("food", "white_rice")
    bench.fill_in("mass", "1,4")
    bench.key(Qt.Key.Key_Return)
    assert [lot.mass_g for lot in bench.desk.state.book.lots.values()] == [5600.0, 1400.0]
    bench.fill_in("fill 2610-1", "700")
    bench.fill_in("fill 2610-2", "700")
    bench.press_main()
    plan = bench.session.plan
    assert [(line.food, line.count) for line in plan.lines] == [
        ("hard_wheat", 8),
        ("white_rice", 2),
    ]
    bench.key(Qt.Key.Key_Space)

    # Two loads into the freezer, the first of them noted later.
    assert bench.page.stage is Stage.COLD_TREATMENT
    bench.fill_in("when", "about 17:30")
    bench.key(Qt.Key.Key_Return)
    bench.fill_in("freezer", "−20")
    bench.press_main()
    loads = bench.session.loads
    assert set(loads) == {"A", "B"}
    assert loads["A"].frozen.utc < loads["B"].frozen.utc
    bench.on(hours=30)
    bench.type("-14,5")
    bench.key(Qt.Key.Key_Return)
    assert isinstance(bench.desk.entries[-1].fact, f.CoreRead)

    # The laptop is shut, and opened again days later: everything rings that fell due.
    home.leave()
    home.clock.on(hours=120)
    bench = home.open()
    assert bench.page.stage is Stage.COLD_TREATMENT
    bench.window.heartbeat.tick()
    assert bench.window.band.isVisible()
    bench.click(bench.window.band.stop)
    for _ in range(2):
        bench.fill_in("damp", "50")
        bench.key(Qt.Key.Key_Return)
    assert all(load.taken_out is not None for load in bench.session.loads.values())
    bench.key(Qt.Key.Key_Space)

    # Thaw, lids on until the food is warm.
    assert bench.page.stage is Stage.THAW_EQUILIBRATION
    bench.key(Qt.Key.Key_Space)
    assert not any(load.uncovered for load in bench.session.loads.values())
    bench.key(Qt.Key.Key_Escape)
    bench.on(hours=60)
    bench.key(Qt.Key.Key_Space, times=2)
    assert all(load.uncovered is not None for load in bench.session.loads.values())
    bench.key(Qt.Key.Key_Space)

    # A group of 8: six weighed or counted, one undone, the rest at once.
    assert bench.page.stage is Stage.FILLING
    bench.type("702")
    bench.key(Qt.Key.Key_Return)
    bench.key(Qt.Key.Key_Space, times=2)
    bench.key(Qt.Key.Key_Backspace)
    bench.key("A")
    assert [pouch.net_mass_g for pouch in bench.session.working_pouches()] == [702.0, *[None] * 7]

    # A round: each thing is checked, the packet is cut, everything is shut in two presses.
    bench.key(Qt.Key.Key_Space, times=6)
    bench.fill_in("absorbers", "10")
    bench.press_main()
    assert bench.session.rounds[1].left == 10
    bench.on(minutes=3)
    bench.type("5")
    bench.key(Qt.Key.Key_Return)
    bench.on(minutes=3)
    home_before = bench.page.card

    # The power fails in the middle of the round.
    home.leave()
    bench = home.open()
    assert bench.page.card == home_before
    bench.key(Qt.Key.Key_Space)
    assert standing(bench) == [PouchStage.PRESSED_SHUT] * 8
    bench.key(Qt.Key.Key_Space)
    assert bench.session.rounds[1].shut_up
    assert bench.desk.state.book.remainders["R1"].count == 2

    # Two seams each; one pouch has a wrinkle and comes back from being set aside.
    bench.window.show_stage(Stage.SEALING)
    bench.key("S")
    bench.fill_in("pouches", "3")
    bench.fill_in("reason", "a wrinkle in the seam")
    bench.key(Qt.Key.Key_Return)
    assert bench.session.pouches[3].aside
    bench.key(Qt.Key.Key_Space)
    assert standing(bench) == [PouchStage.SEALED] * 7

    # Labels, from the second place of a used sheet.
    bench.window.show_stage(Stage.LABELLING)
    QApplication.processEvents()
    sheet = bench.page.laid_out.sheet
    place = sheet.place_rect(1).center().toPoint()
    from PySide6.QtTest import QTest

    QTest.mouseClick(sheet, Qt.MouseButton.LeftButton, pos=place)
    bench.key(Qt.Key.Key_Space, times=2)
    assert bench.papers.labels_made == [(1, 2, 4, 5, 6, 7, 8)]
    printed = next(e.fact for e in bench.desk.entries if isinstance(e.fact, f.LabelsPrinted))
    assert (printed.first_cell, bench.desk.state.book.sheets[printed.stock]) == (1, 8)

    # After: into the pail, lid on, the first look at the seams a day later.
    bench.window.show_stage(Stage.AFTER)
    bench.key(Qt.Key.Key_Space, times=2)
    assert bench.session.pails["1"].lidded
    bench.on(hours=25)
    bench.key("E")
    bench.fill_in("pouches", "5")
    bench.option("verdict", SealVerdict.SOFT)
    bench.press_main()
    bench.key(Qt.Key.Key_Space)
    assert standing(bench) == [PouchStage.SEAL_CHECKED] * 7
    assert bench.session.pouches[5].checks[-1].verdict is SealVerdict.SOFT
    bench.key("X")
    bench.fill_in("remark", "more jars next time")
    bench.press_main()
    assert "0 of 2 pouches of white rice filled" in bench.page.refusal.objection.what
    bench.keep_as_it_is()
    assert bench.session.closed_at is not None
    bench.key(Qt.Key.Key_Space)
    assert bench.papers.records == 1

    # Nothing of it is lost: the next window lists the session as closed.
    home.leave()
    bench = home.open()
    assert bench.page is bench.window.start
    assert bench.desk.sessions()[0].closed
