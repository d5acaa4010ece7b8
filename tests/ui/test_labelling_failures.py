"""What cannot be written, printed or spelt is told with a cure; nothing is lost, none is half."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec
import pytest
from PySide6.QtCore import Qt

from packdesk.app.choices import FileChoices
from packdesk.app.papers import PdfPapers
from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.terms import Stage
from packdesk.ui.pages.paper_page import PaperPage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, catalog

TO_SEALED = ("frozen", "cold_enough", "taken_out", "uncovered", "filled", "in_round", "all_shut",
             "sealed")  # fmt: skip


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window that makes real papers, two foods received."""
    (tmp_path / "papers").mkdir()
    papers = PdfPapers(tuple(catalog().label_stocks.values()), tmp_path / "own")
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path / "papers", papers=papers)
    bench.walk.opened().received()
    yield bench
    bench.close()


def to_printer(bench: Bench) -> None:
    """Six pouches are sealed, the page at the printer is shown."""
    for step in TO_SEALED:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.LABELLING)


def refusing(number: int, folder: Path) -> Callable[[Path, str], object]:
    """Opening a file of this folder for writing fails as the system's disk would."""
    really = Path.open

    def opens(path: Path, mode: str = "r", *how: object, **named: object) -> object:
        if "w" in mode and path.parent == folder:
            raise OSError(number, os.strerror(number))
        return really(path, mode, *how, **named)

    return opens


@pytest.mark.parametrize(
    ("number", "reason"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "that disk can only be read"),
        (errno.EACCES, "this account may not write there"),
    ],
)
def test_labels_that_cannot_be_written_go_into_another_folder(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, reason: str
) -> None:
    """The reason is told, nothing is on record, and another folder takes these and all later."""
    bench.walk.planned()
    to_printer(bench)
    folder, other = bench.tools.paper_folder, tmp_path / "other"
    other.mkdir()
    monkeypatch.setattr(Path, "open", refusing(number, folder))
    monkeypatch.setattr(PaperPage, "ask_folder", staticmethod(lambda *_: other))
    bench.key(Qt.Key.Key_Space)
    objection = bench.page.refusal.objection
    assert (objection.what, objection.cure) == ("Not made", "Try again")
    assert reason in objection.figure
    assert "folder" in objection.advice
    assert list(folder.iterdir()) == []
    assert not any(isinstance(e.fact, f.LabelsMade) for e in bench.desk.entries)

    bench.key("H")
    assert bench.page.main.face.label == "All 6 came out right"
    assert bench.page.shelf.paper.file.parent == other
    assert [file.suffix for file in other.iterdir()] == [".pdf"]
    assert bench.tools.choices.settings.text("paper_folder") == str(other)


def test_a_reprint_that_cannot_be_written_stays_typed(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The form stays open with its numbers; its control and the key for a folder still act."""
    bench.walk.planned()
    to_printer(bench)
    bench.walk.labelled()
    with monkeypatch.context() as full:
        full.setattr(Path, "open", refusing(errno.ENOSPC, bench.tools.paper_folder))
        bench.key("R")
        bench.type("2, 4")
        bench.key(Qt.Key.Key_Return)
        assert "the disk is full" in bench.page.refusal.objection.figure
        assert bench.input("pouches").text == "2, 4"
        assert bench.page.main.face.label == "Make these again"
        bench.key(Qt.Key.Key_Space)
        assert "the disk is full" in bench.page.refusal.objection.figure
        full.setattr(PaperPage, "ask_folder", staticmethod(lambda *_: tmp_path))
        bench.key("H")
    assert bench.page.main.face.label == "All 2 came out right"
    assert bench.session.labels_asked.pouches == (2, 4)


def test_an_own_sheet_that_cannot_be_written_stays_typed(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The catalogue folder is full: the reason and a cure that can be done, the figures stay."""
    bench.walk.planned()
    to_printer(bench)
    monkeypatch.setattr(Path, "open", refusing(errno.ENOSPC, tmp_path / "own"))
    bench.key("M")
    for name, text in {
        "columns": "2", "rows": "4", "width": "96", "height": "66", "left": "7", "top": "14",
    }.items():  # fmt: skip
        bench.fill_in(name, text)
    bench.key(Qt.Key.Key_Return)
    objection = bench.page.refusal.objection
    assert "label_stock.toml” was not written: the disk is full." in objection.figure
    assert "what you typed stays here" in objection.advice
    assert bench.input("width").text == "96"
    assert list((tmp_path / "own").iterdir()) == []


def test_settings_that_cannot_be_written_say_a_cure_that_can_be_done(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The folder of the settings is fixed, so nobody is told to choose another."""
    choices = FileChoices(tmp_path)
    monkeypatch.setattr(Path, "open", refusing(errno.EROFS, tmp_path))
    with pytest.raises(Exception, match="can only be read") as told:
        choices.keep(choices.settings.with_choice("paper_folder", "elsewhere"))
    assert told.value.cure == "Free the way to that folder, with room on its disk."
    assert choices.settings.text("paper_folder") == ""


def test_signs_that_the_face_lacks_are_told_before_printing(bench: Bench) -> None:
    """A food named with Japanese signs and a drawing: which pouches, which signs, what to do."""
    bench.walk.planned()
    plan = bench.session.plan
    lines = (msgspec.structs.replace(plan.line(1), food_name="小麦 hard wheat 🌾"), plan.line(2))
    bench.walk.do(c.AgreePlan(lines, False, 200.0, 21.0))
    to_printer(bench)
    bench.key(Qt.Key.Key_Space)
    assert bench.page.foreword.text.startswith(
        "Pouches 1 to 6: the shipped face has no sign for “小麦🌾”"
    )
    assert "ear of rice" in bench.page.foreword.text, "named for a screen that lacks it too"
    assert "spell the name so in your catalogue" in bench.page.foreword.text
    bench.key(Qt.Key.Key_Space)
    assert bench.page.foreword.text == ""
