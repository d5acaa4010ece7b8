"""The papers beside the labels: which there are, and how each is made from what is in sight."""

from __future__ import annotations

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import PaperMade
from packdesk.present.label_design import NUMBER_FIRST
from packdesk.present.label_job import RECORD_PAGE, file_name, label_job, page_called
from packdesk.present.label_text import number_texts, numbers_to_come
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
    "numbers": "Number labels, before filling",
    "pails": "Pail cards",
    "record": "Session record",
    "pouches": "Pouches for a spreadsheet (CSV)",
    "alignment": "Alignment page",
}
PAPER_CHOICES = tuple(Choice(key, name) for key, name in NAMES.items())


def make_paper(
    which: str, stock: LabelStock, sight: Sight, offset_mm: tuple[float, float] = (0.0, 0.0)
) -> tuple[Paper, tuple[str, ...]]:
    """Make the paper called `which`, a key of `NAMES`; answer it and what is to be known of it.

    Raises `AtField`, beside the field "paper", when there is nothing to put on it yet, and
    `Trouble` when it cannot be written. `offset_mm` is how far the printer's prints are moved.
    """
    session, papers, now = sight.session, sight.tools.papers, sight.now
    page = RECORD_PAGE[sight.units]
    out = sight.tools.paper_folder / file_name(session, which, now)
    made = PaperMade(1)
    match which:
        case "run-sheet":
            try:
                sheet = run_sheet(session, now, sight.tools.catalog)
            except ValueError as wrong:
                raise AtField("paper", str(wrong)) from None
            made = papers.run_sheet(sheet, page, out)
        case "numbers":
            return _numbers(stock, sight, offset_mm)
        case "pails":
            from packdesk.planning.plan import usual_pail  # loads numpy

            cards = pail_cards(session, usual_pail(sight.tools.catalog))
            if not cards:
                raise AtField("paper", "No pail has a pouch in it yet. Stow some, then make them.")
            made = papers.pail_cards(cards, page, out)
        case "record":
            outline = record_outline(sight.state, sight.entries, now, sight.tools.catalog)
            made = papers.record(outline, page, out)
        case "pouches":
            if not session.pouches:
                raise AtField("paper", "No pouch is filled yet. A table needs one at least.")
            out = out.with_suffix(".csv")
            papers.table(pouch_csv(session), out)
            return Paper(out, NAMES[which], printed=False), ()
        case "alignment":
            papers.alignment(stock, out, offset_mm=offset_mm)
            page = page_called(stock)
    return Paper(out, NAMES[which], page), made.remarks


def _numbers(
    stock: LabelStock, sight: Sight, offset_mm: tuple[float, float]
) -> tuple[Paper, tuple[str, ...]]:
    """Labels with the numbers that the pouches still to be filled will have."""
    session = sight.session
    numbers = numbers_to_come(session)
    if not numbers:
        raise AtField("paper", "No pouch is still to be filled. Agree a plan, or print labels.")
    job = label_job(sight.state.book, stock, numbers, None)
    out = sight.tools.paper_folder / file_name(session, "numbers", sight.now)
    texts = number_texts(session, numbers)
    made = sight.tools.papers.labels(
        texts, stock, job.first, out, design=NUMBER_FIRST, offset_mm=offset_mm
    )
    if made.refused:
        raise AtField("stock", "The labels were not made. " + " ".join(made.refused))
    after = f"Afterwards {made.next_cell} places of the last sheet are gone: touch the first free."
    return Paper(out, NAMES["numbers"], page_called(stock)), (*made.remarks, after)
