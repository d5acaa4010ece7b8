from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget

from packdesk.desk.ports import Trouble
from packdesk.session.commands import CloseSession, FillPouches
from packdesk.session.facts import AlarmSilenced, PouchesFilled
from packdesk.session.terms import Stage
from packdesk.ui.heartbeat import slept_words
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

DISK_FULL = Trouble("The disk is full.", "Make room on it, then try again.")


@pytest.fixture
def book() -> MemoryBook:
    """A book that can be made to fail."""
    return MemoryBook(STATION)


@pytest.fixture
def bench(theme: Theme, book: MemoryBook, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, book, HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


@pytest.fixture
def at_the_scale(bench: Bench) -> Bench:
    """The same with wheat ready to fill."""
    walk = bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered()
    bench.window.show_stage(Stage.FILLING)
    return bench


# How it opens -------------------------------------------------------------------------------------


def test_an_empty_book_asks_for_the_name_of_a_session(bench: Bench) -> None:
    """On an empty book the focus is in the name of a new session and nothing else is to be done."""
    assert bench.page is bench.window.start
    assert QApplication.focusWidget() is bench.input("name").box


def test_no_heavy_library_is_loaded_when_the_window_is_up(tmp_path: Path) -> None:
    """Opening the window on an empty book loads no library for figures, plots, papers, dates."""
    script = """
import sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from packdesk.catalog.read import read_catalog
from packdesk.desk.desk import Desk
from packdesk.desk.ports import Tools
from packdesk.record.book import Book
from packdesk.system.awake import KeepAwake
from packdesk.system.clock import SystemClock
from packdesk.ui import start
from packdesk.ui.window import Window
from uuid import UUID

folder = Path(sys.argv[1])
clock = SystemClock()
QApplication.exec = lambda *_: QApplication.processEvents() or 0
with Book.open(folder / "record.packdesk", UUID(int=1)) as book:
    tools = Tools(read_catalog()[0], None, folder, KeepAwake(), clock.offset_min)
    assert start.open_window(Desk(book, clock), tools) == 0
heavy = {"numpy", "scipy", "pint", "reportlab", "pypdfium2", "zxingcpp", "pyqtgraph", "icalendar"}
heavy &= set(sys.modules)
print(",".join(sorted(heavy)))
"""
    done = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == ""


def test_a_restart_goes_on_in_the_same_place(
    theme: Theme, book: MemoryBook, tmp_path: Path
) -> None:
    """A window opened again shows the stage, the tally and the clocks of the session left."""
    clock = HandDrivenClock()
    first = Bench(theme, book, clock, tmp_path)
    walk = first.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered().filled(6).in_round().shut(2)
    first.window.show_now()
    said = (first.page.stage, first.page.card, first.window.tally._board.last_entry)
    first.close()
    again = Bench(theme, book, clock, tmp_path)
    now = (again.page.stage, again.page.card, again.window.tally._board.last_entry)
    again.close()
    assert now == said
    assert said[0] is Stage.FILLING


def test_a_closed_session_is_not_gone_on_with(
    theme: Theme, book: MemoryBook, tmp_path: Path
) -> None:
    """After the last session was closed the window opens on the list of sessions."""
    clock = HandDrivenClock()
    first = Bench(theme, book, clock, tmp_path)
    first.walk.opened()
    first.window.submit(CloseSession())
    first.close()
    again = Bench(theme, book, clock, tmp_path)
    page, rows = again.page, len(again.window.start.resumes)
    again.close()
    assert (page, rows) == (again.window.start, 1)


# What may go wrong --------------------------------------------------------------------------------


def test_what_could_not_be_saved_is_said_and_kept_in_the_fields(
    at_the_scale: Bench, book: MemoryBook
) -> None:
    """A full disk is said with its cure; nothing counts, and the typed mass still stands there."""
    bench = at_the_scale
    book.trouble = DISK_FULL
    bench.type("702")
    bench.key(Qt.Key.Key_Return)
    objection = bench.page.refusal.objection
    assert (objection.what, objection.figure, objection.advice) == (
        "NOT saved",
        "The disk is full.",
        "Make room on it, then try again.",
    )
    assert bench.session.pouches == {}
    assert bench.input("mass").text == "702"
    assert bench.window.tally._board.saved.startswith("NOT saved")


def test_trying_again_keeps_the_time_of_the_act(at_the_scale: Bench, book: MemoryBook) -> None:
    """What is saved on the second try happened when it was first entered."""
    bench = at_the_scale
    book.trouble = DISK_FULL
    bench.key(Qt.Key.Key_Space)
    asked_at = bench.clock.reading().utc
    bench.clock.on(minutes=7)
    book.trouble = None
    bench.click(bench.page.refusal.cure)
    entry = bench.desk.entries[-1]
    assert isinstance(entry.fact, PouchesFilled)
    assert entry.happened_at == asked_at
    assert bench.page.refusal.objection is None
    assert bench.window.tally._board.saved.startswith("Saved ")


def test_a_refusal_stands_beside_the_main_control(at_the_scale: Bench) -> None:
    """What the desk refuses is said in its own sentence, and the next act takes it away."""
    bench = at_the_scale
    bench.window.submit(FillPouches(1, 500))
    assert "planned" in bench.page.refusal.objection.what
    bench.key(Qt.Key.Key_Space)
    assert bench.page.refusal.objection is None
    assert len(bench.session.pouches) == 1


def test_an_error_nobody_caught_is_said_above_the_page(bench: Bench) -> None:
    """A sentence for the whole window stands above the page until it is taken away."""
    bench.window.say("PackDesk made a mistake. Your record is safe.")
    assert bench.window.notices.isVisible()
    QApplication.processEvents()
    bench.click(bench.window.notices._shown[0].button)
    assert bench.window.notices.sentences == ()
    assert not bench.window.notices.isVisible()


# Clocks and alarms --------------------------------------------------------------------------------


def test_an_alarm_rings_until_it_is_stopped_and_the_band_until_it_is_acted_on(
    at_the_scale: Bench,
) -> None:
    """A late packet rings and shows the band; Stop sound leaves the band, only the act ends it."""
    bench = at_the_scale
    bench.walk.filled(4).in_round()
    assert not bench.window.band.isVisible()
    bench.on(minutes=25)
    assert bench.window.band.isVisible()
    assert bench.window.alarm.ringing
    assert bench.strokes
    bench.click(bench.window.band.stop)
    assert not bench.window.alarm.ringing
    assert isinstance(bench.desk.entries[-1].fact, AlarmSilenced)
    assert bench.window.band.isVisible()
    bench.on(minutes=1)
    assert not bench.window.alarm.ringing
    bench.key("C")
    bench.press_main()
    assert not bench.window.band.isVisible()


def test_the_beats_put_what_fell_due_on_record_once(at_the_scale: Bench) -> None:
    """However many beats pass, a clock that is due is put on record once."""
    bench = at_the_scale
    bench.walk.filled(4).in_round()
    bench.on(minutes=25)
    entries = len(bench.desk.entries)
    for _ in range(5):
        bench.on(seconds=1)
    assert len(bench.desk.entries) == entries


def test_a_computer_that_slept_says_so(at_the_scale: Bench) -> None:
    """A long gap between two beats is told with what fell due meanwhile."""
    bench = at_the_scale
    bench.walk.filled(4).in_round()
    bench.window.heartbeat.tick()
    bench.clock.on(minutes=43)
    bench.window.heartbeat.tick()
    said = bench.window.notices.sentences[-1]
    assert said.startswith("This computer slept 43 min. No clock was lost.")
    assert "past its time" in said


def test_nothing_is_said_of_sleep_after_a_restart_of_the_machine() -> None:
    """The sentence about sleep names the gap alone when nothing fell due."""
    assert slept_words(2580.0, "") == "This computer slept 43 min. No clock was lost."


def test_the_computer_is_kept_awake_while_a_clock_within_the_hour_runs(
    at_the_scale: Bench,
) -> None:
    """A packet's clock holds the computer awake, and its end lets it sleep again."""
    bench = at_the_scale
    bench.on(seconds=1)
    assert not bench.tools.awake.held
    bench.walk.filled(4).in_round()
    bench.on(seconds=1)
    assert bench.tools.awake.held
    bench.walk.jar_shut()
    bench.on(seconds=1)
    assert not bench.tools.awake.held


# For everybody ------------------------------------------------------------------------------------


def unnamed(root: QWidget) -> list[str]:
    """The widgets that can have the focus and have no name to be read out."""
    found = []
    for widget in root.findChildren(QWidget):
        if widget.focusPolicy() == Qt.FocusPolicy.NoFocus or not widget.isVisible():
            continue
        if widget.objectName().startswith("qt_"):
            continue
        told = QAccessible.queryAccessibleInterface(widget)
        if told is not None and not told.text(QAccessible.Text.Name).strip():
            found.append(f"{type(widget).__name__} in {type(widget.parentWidget()).__name__}")
    return found


def test_everything_that_can_have_the_focus_has_a_name(at_the_scale: Bench) -> None:
    """Every control and field, on every page and in every form, has a name to be read out."""
    bench = at_the_scale
    bench.walk.filled(6).in_round().shut(2)
    missing = {}
    for page in (*bench.window.pages.values(), bench.window.start, bench.window.story):
        bench.window._show_page(page)
        for name in ("", *page.forms):
            if name:
                page._opened = name
                page._show_card(page.card)
            QApplication.processEvents()
            missing[f"{type(page).__name__} {name}"] = unnamed(bench.window)
        page._opened = ""
    assert {place: names for place, names in missing.items() if names} == {}


def test_the_story_is_one_key_away_and_one_key_back(at_the_scale: Bench) -> None:
    """H shows every entry from any page, Esc leads back to the work."""
    bench = at_the_scale
    bench.key("H")
    assert bench.page is bench.window.story
    assert bench.page.list.count() == len(bench.desk.entries)
    bench.key(Qt.Key.Key_Escape)
    assert bench.page.stage is Stage.FILLING


def test_colours_and_text_size_are_one_press_away(bench: Bench, theme: Theme) -> None:
    """The size of the text is chosen on the start page and taken at once."""
    wanted = next(b for b in bench.window.start.sizes.buttons if b.option.key == "130")
    bench.page.scroll.ensureWidgetVisible(wanted)
    QApplication.processEvents()
    bench.click(wanted)
    assert theme.measure.text_percent == 130


def test_the_alarm_can_be_tried_out(bench: Bench) -> None:
    """The test of the alarm sounds at once, says what came of it, and leaves no entry."""
    bench.window.start.alarm_test.act()
    assert bench.strokes
    for _ in range(10):
        bench.on(seconds=1)
    assert len(bench.window.notices.sentences) == 2
    assert bench.desk.entries == ()


def test_the_alarm_can_be_tried_before_a_packet_is_cut(at_the_scale: Bench) -> None:
    """At the ready check one key sounds the alarm; nothing goes on record for it."""
    bench = at_the_scale
    bench.walk.filled(bench.session.plan.lines[0].count)
    entries, strokes = bench.desk.entries, bench.strokes
    assert bench.page.main.face.label == "Make ready"
    bench.key("T")
    assert bench.strokes > strokes
    assert bench.desk.entries == entries
    bench.window.alarm.silence()


def test_a_packet_warns_once_before_it_is_due(at_the_scale: Bench) -> None:
    """Some minutes before a packet is due it sounds a warning, on record once, without a band."""
    bench = at_the_scale
    bench.walk.filled(4).in_round()
    bench.on(minutes=14)
    assert "packet:1/soon" in bench.session.alarms
    assert bench.strokes
    assert not bench.window.band.isVisible()
    entries = len(bench.desk.entries)
    bench.on(seconds=30)
    assert len(bench.desk.entries) == entries


def test_a_sleeping_computer_is_warned_of_whenever_somebody_walks_off(bench: Bench) -> None:
    """After each load went in the window says what sleep would do, and names the next clock."""
    bench.walk.opened().received().planned()
    bench.window.show_stage(Stage.COLD_TREATMENT)
    bench.press_main()
    assert bench.window.notices.sentences[0].startswith("A sleeping computer cannot ring.")
    bench.press_main()
    assert len(bench.session.loads) == 2
    (warning,) = bench.window.notices.sentences
    assert warning.startswith("A sleeping computer cannot ring.")
    assert "Next: " in warning


def test_nothing_rings_where_nothing_can_be_put_on_record(at_the_scale: Bench) -> None:
    """A session that a newer PackDesk wrote into shows what is due but does not ring for it."""
    bench = at_the_scale
    bench.walk.filled(4).in_round()
    bench.desk.state = replace(bench.desk.state, newer_kinds=("pouch_weighed_twice",))
    strokes = bench.strokes
    bench.on(minutes=25)
    assert bench.window.band.isVisible()
    assert not bench.window.alarm.ringing
    assert bench.strokes == strokes
