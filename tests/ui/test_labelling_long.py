"""Many labels are made beside the window; they can be watched and stopped."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from threading import Event, current_thread, main_thread

import pytest
from PySide6.QtCore import QObject, Qt
from pytestqt.qtbot import QtBot
from shiboken6 import delete

from packdesk.desk.ports import LabelsMade, Trouble
from packdesk.session import facts as f
from packdesk.session.terms import Stage
from packdesk.ui.pages.long_job import LongJob, paper_thread, printing_threads, settle
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

SEALED = (
    "opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered",
    "filled", "in_round", "all_shut", "sealed",
)  # fmt: skip


class SlowPress:
    """Labels that wait at the first one until a test lets them go on."""

    def __init__(self, fails: bool = False) -> None:
        self.go_on = Event()
        self.began = Event()
        self.fails = fails
        self.beside = False

    def __call__(self, texts, stock, first, out: Path, *, progress, **_how) -> LabelsMade:
        """Make them."""
        self.beside = current_thread() is not main_thread()
        progress(1, len(texts))
        self.began.set()
        assert self.go_on.wait(20)
        for done in range(2, len(texts) + 1):
            progress(done, len(texts))
        if self.fails:
            raise Trouble("The file was not written: the disk is full.", "Make room on it.")
        out.write_bytes(b"%PDF-1.4 invented")
        return LabelsMade(len(texts), 1, len(texts))


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window at the printer that does not wait for papers, as a person need not."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in SEALED:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.LABELLING)
    settle()
    bench.waits = False
    yield bench
    bench.close()


def begun(bench: Bench, qtbot: QtBot, press: SlowPress) -> None:
    """Start a print and wait until its first label is told of."""
    bench.papers.labels = press
    bench.key(Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: bench.page.sentence.text == "Making labels: 1 of 6.", timeout=20_000)


def printed(bench: Bench) -> list[f.LabelsPrinted]:
    """The prints on record."""
    return [e.fact for e in bench.desk.entries if isinstance(e.fact, f.LabelsPrinted)]


def test_many_labels_are_made_beside_the_window(bench: Bench, qtbot: QtBot) -> None:
    """The page tells how far they are, then asks how they came out; the record waits."""
    press = SlowPress()
    begun(bench, qtbot, press)
    assert press.beside
    press.go_on.set()
    qtbot.waitUntil(lambda: bench.page.main.face.label == "All 6 came out right", timeout=20_000)
    assert printed(bench) == []
    bench.key(Qt.Key.Key_Space)
    assert printed(bench)[0].pouches == (1, 2, 3, 4, 5, 6)


def test_what_comes_back_comes_to_the_thread_of_the_window(qtbot: QtBot) -> None:
    """Signals of a job are heard on the main thread, whoever listens."""
    heard: list[bool] = []
    job = LongJob(lambda tell: tell(1, 1))
    job.progressed.connect(lambda *_: heard.append(current_thread() is main_thread()))
    job.done.connect(lambda _: heard.append(current_thread() is main_thread()))
    job.start()
    qtbot.waitUntil(lambda: len(heard) == 2, timeout=20_000)
    assert heard == [True, True]


def test_a_window_closed_meanwhile_stops_the_print(qtbot: QtBot) -> None:
    """A job whose page is gone goes no further and says nothing to anybody."""
    page, told, gone, ended = QObject(), Event(), Event(), Event()
    done: list[int] = []

    def make(tell) -> None:
        try:
            for number in range(1, 4):
                tell(number, 3)
                done.append(number)
                told.set()
                assert gone.wait(20)
        finally:
            ended.set()

    LongJob(make, page).start()
    assert told.wait(20)
    delete(page)
    gone.set()
    assert ended.wait(20)
    printing_threads().wait()
    paper_thread().wait()
    assert done == [1]


def test_a_stopped_print_leaves_nothing(bench: Bench, qtbot: QtBot) -> None:
    """Stopping leaves no file and no entry, and the labels are offered again."""
    press = SlowPress()
    begun(bench, qtbot, press)
    assert bench.page.main.face.label == "Stop"
    bench.key(Qt.Key.Key_Space)
    press.go_on.set()
    qtbot.waitUntil(lambda: bench.page.main.face.label == "Make 6 labels", timeout=20_000)
    assert (printed(bench), list(bench.tools.paper_folder.glob("*.pdf"))) == ([], [])


def test_a_disk_that_fills_up_meanwhile_is_told(bench: Bench, qtbot: QtBot) -> None:
    """What went wrong stands beside the main control, and trying again works."""
    press = SlowPress(fails=True)
    begun(bench, qtbot, press)
    press.go_on.set()
    qtbot.waitUntil(lambda: bench.page.refusal.objection is not None, timeout=20_000)
    assert "the disk is full" in bench.page.refusal.objection.figure
    press.fails = False
    bench.click(bench.page.refusal.cure)
    qtbot.waitUntil(lambda: bench.page.main.face.label == "All 6 came out right", timeout=20_000)
