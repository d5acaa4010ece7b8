"""Labels are on record when they came out right, and only those that did."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.app.papers import PdfPapers
from packdesk.desk.ports import Trouble
from packdesk.session import facts as f
from packdesk.session.terms import Stage
from packdesk.ui.pages.paper_shelf import PaperShelf
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")
SEALED = (*OPEN, "filled", "in_round", "all_shut", "sealed")


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def bring(bench: Bench, *steps: str) -> None:
    """Bring the session so far and show the page at the printer."""
    for step in steps:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.LABELLING)


def printed(bench: Bench) -> list[f.LabelsPrinted]:
    """The prints on record."""
    return [e.fact for e in bench.desk.entries if isinstance(e.fact, f.LabelsPrinted)]


def labelled(bench: Bench) -> list[int]:
    """The pouches that count as labelled."""
    return [number for number, pouch in bench.session.pouches.items() if pouch.labelled]


def told(bench: Bench) -> str:
    """What stands beside the field for pouches."""
    objection = bench.input("pouches").refusal.objection
    return f"{objection.what} {objection.figure}"


def test_labels_count_once_they_came_out_right(bench: Bench) -> None:
    """Made labels are asked about, and on record with their sheet only after a yes."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space)
    assert bench.page.sentence.text == "Print at 100 %. Did the labels come out right?"
    assert (printed(bench), bench.desk.state.book.sheets) == ([], {})
    bench.key(Qt.Key.Key_Space)
    assert labelled(bench) == [1, 2, 3, 4, 5, 6]
    assert bench.desk.state.book.sheets == {printed(bench)[0].stock: 6}
    assert not bench.page.shelf.isVisible()


def test_labels_that_did_not_come_out_use_nothing(bench: Bench) -> None:
    """After a no the print does not count and the same labels are offered again."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space)
    bench.key("N")
    assert (printed(bench), labelled(bench), bench.desk.state.book.sheets) == ([], [], {})
    assert bench.page.main.face.label == "Make 6 labels"
    assert bench.page.laid_out.sheet.face.used == 0


def test_torn_labels_are_printed_again_on_the_next_free_places(bench: Bench) -> None:
    """What was right counts, the sheet is used, and the torn ones keep their numbers."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space)
    bench.key("T")
    bench.type("3, 5-6")
    bench.key(Qt.Key.Key_Return)
    assert labelled(bench) == [1, 2, 4]
    assert bench.page.main.face.label == "Make 3 labels"
    bench.key(Qt.Key.Key_Space, times=2)
    assert bench.papers.labels_made == [(1, 2, 3, 4, 5, 6), (3, 5, 6)]
    assert [(each.pouches, each.first_cell) for each in printed(bench)] == [
        ((1, 2, 4), 0), ((3, 5, 6), 6),
    ]  # fmt: skip


def test_a_reprint_torn_again_is_offered_with_its_pouches(bench: Bench) -> None:
    """Chosen pouches are printed again; of those torn once more the numbers stand there."""
    bring(bench, *SEALED, "labelled")
    bench.key("R")
    bench.type("2, 4-5")
    bench.key(Qt.Key.Key_Return)
    bench.key("T")
    bench.type("4")
    bench.key(Qt.Key.Key_Return)
    assert [(each.pouches, each.reprint) for each in printed(bench)[1:]] == [((2, 5), True)]
    assert bench.input("pouches").text == "4"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("9", "Pouch 9 is not in this print. It has pouches 1 to 6."),
        ("1-6", "That is all of them. Go back with Esc and choose “None did”."),
    ],
)
def test_a_torn_label_must_be_one_of_the_print(bench: Bench, typed: str, words: str) -> None:
    """A number that was not printed, or all of them, is answered beside the field."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space)
    bench.key("T")
    bench.type(typed)
    bench.key(Qt.Key.Key_Return)
    assert told(bench) == words
    assert printed(bench) == []


def test_a_finished_paper_is_seen_printed_saved_and_opened(bench: Bench, tmp_path: Path) -> None:
    """The page is turned, printed on its own page size, copied where asked, and opened, by keys."""
    opened: list[Path] = []
    kept, PaperShelf.open_file = PaperShelf.open_file, staticmethod(opened.append)
    asked, PaperShelf.ask_where = (
        PaperShelf.ask_where,
        staticmethod(lambda _parent, where: tmp_path / f"copy-{where.name}"),
    )
    try:
        bring(bench, *SEALED)
        bench.key(Qt.Key.Key_Space)
        assert bench.page.shelf.preview.accessibleName() == "Page 1 of 2 as printed"
        for key in "GPSO":
            bench.key(key)
    finally:
        PaperShelf.open_file, PaperShelf.ask_where = kept, asked
    assert bench.page.shelf.preview.accessibleName() == "Page 2 of 2 as printed"
    ((name, page, _),) = bench.papers.printed
    assert (page, (tmp_path / f"copy-{name}").exists()) == ("A4", True)
    assert [file.name for file in opened] == [name]
    assert printed(bench) == []


def test_a_copy_that_cannot_be_written_is_told(bench: Bench, tmp_path: Path) -> None:
    """A folder that takes no copy is told beside the main control, with a way to try again."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space)

    def refuses(_paper: Path, _out: Path) -> None:
        raise Trouble("The copy was not written: that disk can only be read.", "Choose another.")

    bench.papers.copy = refuses
    asked, PaperShelf.ask_where = PaperShelf.ask_where, staticmethod(lambda *_: tmp_path / "x")
    try:
        bench.key("S")
    finally:
        PaperShelf.ask_where = asked
    assert "can only be read" in bench.page.refusal.objection.figure


def test_the_page_shown_is_the_page_made(theme: Theme, tmp_path: Path) -> None:
    """The real PDF stands in the window with dark marks on white where labels are."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path, papers=PdfPapers())
    try:
        bring(bench, *SEALED)
        bench.key(Qt.Key.Key_Space)
        image = bench.page.shelf.preview.image
        dark = [
            (x, y)
            for x in range(image.width())
            for y in range(image.height())
            if image.pixelColor(x, y).lightness() < 100
        ]
        assert dark
        assert max(y for _, y in dark) < image.height() / 3, "six labels fill two rows of seven"
    finally:
        bench.close()


# The question -------------------------------------------------------------------------------------


def restarted(bench: Bench, theme: Theme, tmp_path: Path) -> Bench:
    """The program once more, on the same book."""
    bench.window.close()
    return Bench(theme, bench.book, bench.clock, tmp_path)


def test_the_question_is_asked_again_after_a_restart(
    bench: Bench, theme: Theme, tmp_path: Path
) -> None:
    """Labels made and not answered for are asked about at the next start, with their pages."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space)
    again = restarted(bench, theme, tmp_path)
    try:
        assert again.page.sentence.text == "Print at 100 %. Did the labels come out right?"
        assert again.page.shelf.isVisible()
        again.key("T")
        again.type("3")
        again.key(Qt.Key.Key_Return)
        assert labelled(again) == [1, 2, 4, 5, 6]
        assert again.desk.state.book.sheets == {printed(again)[0].stock: 6}
    finally:
        again.close()


def test_the_question_outlives_its_file(bench: Bench, theme: Theme, tmp_path: Path) -> None:
    """Where the PDF was thrown away the question stands alone and can be answered."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space)
    bench.page.shelf.paper.file.unlink()
    again = restarted(bench, theme, tmp_path)
    try:
        assert not again.page.shelf.isVisible()
        again.key(Qt.Key.Key_Space)
        assert labelled(again) == [1, 2, 3, 4, 5, 6]
    finally:
        again.close()


def test_an_answer_taken_back_is_asked_for_again(bench: Bench) -> None:
    """A yes pressed by mistake is undone, and the question stands there once more."""
    bring(bench, *SEALED)
    bench.key(Qt.Key.Key_Space, times=2)
    bench.window.undo()
    assert (labelled(bench), bench.page.main.face.label) == ([], "All 6 came out right")


def test_labels_finished_behind_another_page_are_asked_about_at_their_own(bench: Bench) -> None:
    """A form open on another page stays as it is while labels are put on record."""
    bring(bench, *SEALED)
    bench.waits = False
    bench.key(Qt.Key.Key_Space)
    bench.window.show_stage(Stage.AFTER)
    bench.key("W")
    bench.settle_all()
    assert bench.page.form_opened("stow")
    bench.window.show_stage(Stage.LABELLING)
    assert bench.page.main.face.label == "All 6 came out right"


# Other papers -------------------------------------------------------------------------------------


def make(bench: Bench, which: str) -> None:
    """Choose another paper and make it."""
    bench.key("A")
    bench.pick("paper", which)
    bench.page.main.setFocus()
    bench.key(Qt.Key.Key_Space)


def test_pouches_as_a_table_are_saved_not_printed(bench: Bench) -> None:
    """The table of pouches lies in the folder for papers; it has no page to print."""
    written: list[str] = []
    bench.papers.table = lambda text, out: written.append(f"{out.suffix} {text.splitlines()[0]}")
    bring(bench, *SEALED)
    make(bench, "pouches")
    assert written[0].startswith(".csv ")
    assert not bench.page.shelf.controls["P"].isVisible()
    before = len(bench.desk.entries)
    bench.key(Qt.Key.Key_Space)
    assert (bench.page.main.face.label, len(bench.desk.entries)) == ("Make 6 labels", before)


def test_pail_cards_without_pails_are_answered_at_the_field(bench: Bench) -> None:
    """A paper with nothing to say yet is refused beside the field that chose it."""
    bring(bench, *SEALED)
    make(bench, "pails")
    assert bench.input("paper").refusal.objection.what == "No pail has a pouch in it yet."


def test_the_record_is_reached_from_the_printer(bench: Bench) -> None:
    """The session record can be made where the other papers are."""
    bring(bench, *SEALED)
    make(bench, "record")
    assert (bench.papers.records, bench.page.shelf.isVisible()) == (1, True)
