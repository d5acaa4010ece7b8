"""Pail cards and the run sheet by keys alone: made, looked at, printed, saved, opened, stopped."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from packdesk.app.papers import PdfPapers
from packdesk.desk.ports import PaperMade
from packdesk.session.terms import Stage
from packdesk.system.printer import LOOK
from packdesk.ui.pages.paper_shelf import PaperShelf
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

STOWED = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered",
          "filled", "in_round", "all_shut", "sealed", "stowed")  # fmt: skip
QUEUE = """#!/bin/sh
for last; do :; done
echo "$@" >> "{log}"
test -e "{off}" && {{ echo "the queue kitchen is off" >&2; exit 1; }}
cp "$last" "{tray}/"
"""


class SlowPails(PdfPapers):
    """Pail cards that are written only once a test lets them."""

    def __init__(self) -> None:
        super().__init__()
        self.began, self.go_on = Event(), Event()
        self.go_on.set()

    def pail_cards(self, cards, page: str, out: Path) -> PaperMade:
        """Wait, then write them."""
        self.began.set()
        assert self.go_on.wait(20)
        return super().pail_cards(cards, page, out)


class Queue:
    """The system's command that prints, as far as it is asked; what it printed lies in a tray."""

    def __init__(self, folder: Path) -> None:
        self.log, self.off, self.tray = folder / "log", folder / "off", folder / "tray"
        self.tray.mkdir(parents=True)
        lp = folder / "lp"
        lp.write_text(QUEUE.format(log=self.log, off=self.off, tray=self.tray))
        lp.chmod(0o755)


@pytest.fixture
def queue(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Queue:
    """A print queue of this test alone."""
    queue = Queue(tmp_path / "queue")
    monkeypatch.setenv("PATH", f"{tmp_path / 'queue'}{os.pathsep}{os.environ['PATH']}")
    return queue


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window that makes real papers, six pouches in pail 1."""
    (tmp_path / "papers").mkdir()
    bench = Bench(
        theme, MemoryBook(STATION), HandDrivenClock(), tmp_path / "papers", papers=SlowPails()
    )
    for step in STOWED:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.LABELLING)
    yield bench
    bench.papers.go_on.set()
    bench.close()


def make(bench: Bench, which: str) -> None:
    """Choose a paper by keys and make it."""
    bench.key("A")
    bench.pick("paper", which)
    bench.key(Qt.Key.Key_PageDown)


@pytest.mark.parametrize(("which", "name"), [("pails", "Pail cards"), ("run-sheet", "Run sheet")])
def test_a_paper_is_seen_printed_saved_and_opened_by_keys(
    bench: Bench, queue: Queue, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    which: str, name: str,
) -> None:  # fmt: skip
    """The page drawn is dark on white; the queue gets it unscaled on its own page size."""
    copies, opened = tmp_path / "copies", []
    copies.mkdir()
    monkeypatch.setattr(PaperShelf, "ask_where", staticmethod(lambda _, where: copies / where.name))
    monkeypatch.setattr(PaperShelf, "open_file", staticmethod(opened.append))
    before = len(bench.desk.entries)
    make(bench, which)
    assert bench.page.sentence.text.startswith(f"{name}")
    image = bench.page.shelf.preview.image
    spots = {
        image.pixelColor(x, y).lightness() < 100
        for x in range(0, image.width(), 2)
        for y in range(0, image.height(), 2)
    }
    assert spots == {True, False}

    said: list[str] = []
    bench.page.said.connect(said.append)
    for key in "PSO":
        bench.key(key)
    (file,) = bench.tools.paper_folder.iterdir()
    assert queue.log.read_text().split() == [
        "-o", "print-scaling=none", "-o", "media=A4", "--", str(file),
    ]  # fmt: skip
    for lies in (queue.tray / file.name, copies / file.name):
        assert lies.read_bytes() == file.read_bytes()
    assert (opened, said[0]) == ([file], f"Sent to the printer. {LOOK}")
    bench.key(Qt.Key.Key_Space)
    assert not bench.page.shelf.isVisible()
    assert len(bench.desk.entries) == before


def test_a_queue_that_is_off_is_told_and_tried_again(bench: Bench, queue: Queue) -> None:
    """What the system answers stands there with a cure; the paper stays and can be sent again."""
    queue.off.touch()
    make(bench, "pails")
    bench.key("P")
    objection = bench.page.refusal.objection
    assert objection.figure == "The printer did not take it: the queue kitchen is off."
    assert "open the PDF and print it from there" in objection.advice
    queue.off.unlink()
    bench.click(bench.page.refusal.cure)
    assert bench.page.refusal.objection is None
    assert len(list(queue.tray.iterdir())) == 1


def test_pail_cards_are_stopped_by_the_space_bar(bench: Bench, qtbot: QtBot) -> None:
    """While they are made the window says so; stopped, no file is left and nothing lies there."""
    bench.papers.go_on.clear()
    bench.waits = False
    make(bench, "pails")
    assert bench.page.sentence.text == "Making the pail cards."
    assert bench.page.main.face.label == "Stop"
    assert bench.papers.began.wait(20)
    bench.key(Qt.Key.Key_Space)
    bench.papers.go_on.set()
    bench.settle_all()
    assert bench.page.main.face.label != "Stop"
    assert list(bench.tools.paper_folder.iterdir()) == []
    assert not bench.page.shelf.isVisible()
