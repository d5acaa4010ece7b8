"""The papers beside the labels: which there are, and how each is made from what is in sight."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import PaperMade, Progress, Stopped
from packdesk.present.label_job import RECORD_PAGE, file_name, page_called
from packdesk.present.pail_card import pail_cards
from packdesk.present.pouch_table import pouch_csv
from packdesk.present.record_outline import record_outline
from packdesk.present.run_sheet import run_sheet
from packdesk.ui.pages.inputs import AtField
from packdesk.ui.pages.paper_shelf import Paper
from packdesk.ui.pages.sight import Sight
from packdesk.ui.widgets.choice_field import Choice

NAMES = {
    "run-sheet": "Run sheet for the counter",
    "pails": "Pail cards",
    "record": "Session record",
    "pouches": "Pouches for a spreadsheet (CSV)",
    "alignment": "Alignment page",
}
MAKING = {
    "run-sheet": "Making the run sheet",
    "pails": "Making the pail cards",
    "record": "Making the session record",
    "pouches": "Making the table of pouches",
    "alignment": "Making the alignment page",
}
ON_STOCK = ("alignment",)
"""Papers laid out like a sheet of labels; all others lie on a page of running text."""

AT_PRINTER = tuple(NAMES)
AFTERWARDS = ("pails", "record", "pouches", "run-sheet", "alignment")
"""The papers in the order they are wanted on two pages."""


def choices_of(papers: tuple[str, ...]) -> tuple[Choice, ...]:
    """Papers as a list to pick from."""
    return tuple(Choice(key, NAMES[key]) for key in papers)


@dataclass(frozen=True, slots=True)
class OnShelf:
    """A paper that is made, what is to be known of it, and whose alignment page it is, if one."""

    paper: Paper
    remarks: tuple[str, ...] = ()
    aligned: str = ""


MakesPaper = Callable[[Progress], OnShelf]


def paper_maker(
    which: str,
    stock: LabelStock,
    sight: Sight,
    folder: Path,
    offset_mm: tuple[float, float] = (0.0, 0.0),
) -> MakesPaper:
    """How the paper called `which`, a key of `NAMES`, is put into a folder, on any thread.

    Raises `AtField`, beside the field "paper", when there is nothing to put on it yet; making it
    raises `Trouble` when it cannot be written. `offset_mm` is how far prints are moved.
    """
    out = folder / file_name(sight.session, which, sight.now)
    papers, page = sight.tools.papers, RECORD_PAGE[sight.units]
    if which == "alignment":
        paper = Paper(out, NAMES[which], page_called(stock))

        def write(_progress: Progress) -> OnShelf:
            papers.alignment(stock, out, offset_mm=offset_mm)
            return OnShelf(paper, aligned=stock.key)

    elif which == "pouches":
        if not sight.session.pouches:
            raise AtField("paper", "No pouch is filled yet. A table needs one at least.")
        paper = Paper(out.with_suffix(".csv"), NAMES[which], printed=False)

        def write(_progress: Progress) -> OnShelf:
            papers.table(pouch_csv(sight.session), paper.file)
            return OnShelf(paper)

    else:
        paper = Paper(out, NAMES[which], page)
        written = _written(which, sight, page, out)

        def write(progress: Progress) -> OnShelf:
            return OnShelf(paper, written(progress).remarks)

    return _whole(write, paper.file)


def _whole(write: MakesPaper, file: Path) -> MakesPaper:
    """Write a paper unless it is stopped; what was stopped while it was written is taken away."""

    def made(progress: Progress) -> OnShelf:
        try:
            on_shelf = write(progress)
            progress(1, 1)
        except Stopped:
            file.unlink(missing_ok=True)
            raise
        return on_shelf

    return made


def _written(which: str, sight: Sight, page: str, out: Path) -> Callable[[Progress], PaperMade]:
    """How a paper of running text is written; refuses one that would be empty."""
    session, now, catalog, papers = (
        sight.session, sight.now, sight.tools.catalog, sight.tools.papers,
    )  # fmt: skip
    match which:
        case "run-sheet":
            try:
                sheet = run_sheet(session, now, catalog)
            except ValueError as wrong:
                raise AtField("paper", str(wrong)) from None
            return lambda _progress: papers.run_sheet(sheet, page, out)
        case "pails":
            from packdesk.planning.plan import usual_pail  # loads numpy

            cards = pail_cards(session, usual_pail(catalog))
            if not cards:
                raise AtField("paper", "No pail has a pouch in it yet. Stow some, then make them.")
            return lambda _progress: papers.pail_cards(cards, page, out)
        case "record":

            def record(progress: Progress) -> PaperMade:
                outline = record_outline(sight.state, sight.entries, now, catalog)
                return papers.record(outline, page, out, progress=progress)

            return record
        case _:
            raise KeyError(which)
