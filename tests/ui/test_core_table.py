"""The plot as a table on the pages of cold and thaw."""

from __future__ import annotations

from pathlib import Path
from threading import Event
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent

from packdesk.present.freezer_plan import FreezerPlan, session_freezer_plan
from packdesk.session import commands as c
from packdesk.session.terms import Stage
from packdesk.ui.pages import freezer_card
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


def cooling(theme: Theme, tmp_path: Path) -> Bench:
    """Two loads in the freezer, one of them read."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned().frozen()
    walk.clock.on(hours=8)
    walk.do(c.NoteCoreReading("A", -5.0))
    bench.window.show_stage(Stage.COLD_TREATMENT)
    bench.page.choose(load="A")
    return bench


def test_a_key_turns_the_plot_into_a_table_and_back(theme: Theme, tmp_path: Path) -> None:
    """T shows the table, its button says how to come back, T shows the plot again."""
    bench = cooling(theme, tmp_path)
    view = bench.page.core
    assert view.plot.isVisible()

    bench.key("t")
    assert view.table.isVisible()
    assert not view.plot.isVisible()
    assert view.switch.face.word == "Plot"

    bench.click(view.switch)
    assert view.plot.isVisible()
    bench.close()


def test_a_screen_reader_hears_row_and_column(theme: Theme, tmp_path: Path) -> None:
    """Every cell says its time and its column; the table has a name; now is among its rows."""
    bench = cooling(theme, tmp_path)
    table = bench.page.core.table
    model = table.model()

    assert table.accessibleName() == "Core temperature as a table"
    assert any(row.now for row in table.rows)
    for row, told in enumerate(table.rows):
        for column in range(model.columnCount()):
            said = model.data(model.index(row, column), Qt.ItemDataRole.AccessibleTextRole)
            heading = model.headerData(column, Qt.Orientation.Horizontal)
            assert said.startswith(f"{told.when}, {heading}: ")
    bench.close()


def test_the_table_follows_a_reading(theme: Theme, tmp_path: Path) -> None:
    """A reading noted is a row at once."""
    bench = cooling(theme, tmp_path)
    before = len(bench.page.core.table.rows)
    bench.on(hours=3)
    bench.walk.do(c.NoteCoreReading("A", -10.0))
    bench.window.refresh()

    rows = bench.page.core.table.rows
    assert len(rows) == before + 1
    assert "core read −10" in [row.what.replace("\u00a0°C", "") for row in rows]
    bench.close()


def test_a_heartbeat_moves_now_without_working_out_the_curve_anew(
    theme: Theme, tmp_path: Path
) -> None:
    """An hour of heartbeats keeps the points there are; only now moves on."""
    bench = cooling(theme, tmp_path)
    before = bench.page.core.plot.curve
    bench.on(hours=1)
    bench.window.heartbeat.tick()
    after = bench.page.core.plot.curve

    assert before is not None
    assert after is not None
    assert after.points is before.points
    assert (after.now - before.now).total_seconds() == 3600
    bench.close()


def test_the_wheel_over_the_plot_scrolls_the_page(theme: Theme, tmp_path: Path) -> None:
    """The plot takes no wheel for itself."""
    bench = cooling(theme, tmp_path)
    plot = bench.page.core.plot
    assert plot.graph is not None
    at = QPointF(5, 5)
    wheel = QWheelEvent(
        at, plot.mapToGlobal(at), QPoint(), QPoint(0, 120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    assert wheel.type() == QEvent.Type.Wheel
    assert plot.childAt(5, 5) is None
    bench.close()


def test_what_is_still_outside_has_its_latest_time_on_the_cold_page(
    theme: Theme, tmp_path: Path
) -> None:
    """With a packing day agreed the page says by when each lot goes in, until all are in."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received()
    bench.window.show_stage(Stage.BEFORE)
    bench.fill_in("day", "2026-10-25 at ten")
    bench.press_main()
    bench.window.show_stage(Stage.COLD_TREATMENT)
    bench.settle()
    card = bench.page.freezer

    assert card.isVisible()
    assert card.text.startswith("To pack on Sunday 25 October at 10:00, begin the cold by ")
    assert "Hard wheat" in card.text
    assert "Black beans" in card.text

    walk.frozen()
    bench.window.refresh()
    assert not card.isVisible()

    out = tmp_path / "loads.ics"
    for stage, first in (
        (Stage.COLD_TREATMENT, "Out of the freezer, lid on"),
        (Stage.THAW_EQUILIBRATION, "Lid off"),
    ):
        bench.window.show_stage(stage)
        bench.page.core.calendar.ask_where = lambda parent, suggested: out
        bench.page.focus_main()
        bench.key("K")
        entries, *_ = bench.window.tools.papers.calendars[-1]
        said = [each.summary.partition(":")[0] for each in entries]
        assert said == [first, first, "Pack"]
        if stage is Stage.COLD_TREATMENT:
            bench.on(hours=140)
            for load in bench.session.loads:
                walk.do(c.TakeLoadOut(load, 21.0, None))
            bench.window.refresh()
    bench.close()


def test_no_press_waits_for_the_plan_of_what_is_outside(
    theme: Theme, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A load is recorded while its plan is worked out; the old plan gives no calendar file."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.walk.opened().received()
    bench.window.show_stage(Stage.BEFORE)
    bench.fill_in("day", "2026-10-25 at ten")
    bench.press_main()
    bench.window.show_stage(Stage.COLD_TREATMENT)
    bench.settle()
    before, go_on, fails = bench.page.freezer.text.splitlines(), Event(), [True]
    assert bench.page.freezer.calendar.isVisible()

    def slowly(*asked: Any) -> FreezerPlan:
        assert go_on.wait(10.0)
        if fails.pop() if fails else False:
            raise ValueError("no plan this time")
        return session_freezer_plan(*asked)

    monkeypatch.setattr(freezer_card, "session_freezer_plan", slowly)
    bench.waits = False
    bench.press_main()
    assert len(bench.session.loads) == 1
    shown = bench.page.freezer.text.splitlines()
    assert shown == [f"{before[0]} {freezer_card.WORKED_OUT_ANEW}", *before[1:]]
    assert not bench.page.freezer.calendar.isVisible()

    go_on.set()
    bench.settle_all()
    assert freezer_card.WORKED_OUT_ANEW in bench.page.freezer.text
    bench.on(minutes=1)
    bench.settle_all()
    assert freezer_card.WORKED_OUT_ANEW not in bench.page.freezer.text
    assert bench.page.freezer.isVisible()
    assert bench.page.freezer.calendar.isVisible()
    assert bench.page.freezer.text.splitlines() != before
    bench.close()
