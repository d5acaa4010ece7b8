"""The papers as the desk's port wants them, made by the paper room when first needed."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import LabelsMade, PagePicture, PaperMade, Progress, Trouble
from packdesk.present.calendar_entries import CalendarEntry
from packdesk.present.label_design import STANDARD, LabelDesign
from packdesk.present.outlines import RecordOutline
from packdesk.present.papers import LabelText, PailCard, RunSheet
from packdesk.sentences import capital
from packdesk.session.numbers import named

OWN_STOCKS = "label_stock.toml"
MOST_NAMED = 3
"""So many signs that a face lacks are named; a whole word of them is not spelt out."""


class PdfPapers:
    """Makes all papers with reportlab, the calendar file with icalendar.

    `stocks` are what a refused label may be told of; `own_catalog` is the folder of the person's
    own catalogue, where measured stocks are kept.
    """

    def __init__(self, stocks: Sequence[LabelStock] = (), own_catalog: Path | None = None) -> None:
        self._stocks = tuple(stocks)
        self._own_catalog = own_catalog
        self._kept: tuple[LabelStock, ...] = ()

    def labels(
        self,
        texts: Sequence[LabelText],
        stock: LabelStock,
        first_cell: int,
        out: Path,
        *,
        design: LabelDesign = STANDARD,
        offset_mm: tuple[float, float] = (0.0, 0.0),
        progress: Progress | None = None,
    ) -> LabelsMade:
        """Write one label for each of `texts`, beginning at a place of the first sheet."""
        from packdesk.paper.label_sheet import write_labels

        report = write_labels(
            texts,
            stock,
            first_cell,
            out,
            design=design,
            offset_mm=offset_mm,
            progress=progress,
            other_stocks=self._stocks,
        )
        return LabelsMade(
            labels=report.labels,
            sheets=report.sheets,
            next_cell=report.next_cell,
            refused=_gathered((each.pouch, each.words) for each in report.unfit),
            remarks=_gathered(
                (each.pouch, _lacking(each.characters)) for each in report.unprintable
            ),
        )

    def label_picture(
        self, text: LabelText, stock: LabelStock, width_px: int, *, design: LabelDesign = STANDARD
    ) -> PagePicture | str:
        """One label as it will be printed, for the live preview; why not, in words."""
        from packdesk.paper.preview import label_picture

        return label_picture(text, stock, width_px, design=design)

    def alignment(
        self, stock: LabelStock, out: Path, *, offset_mm: tuple[float, float] = (0.0, 0.0)
    ) -> None:
        """Write the alignment page of `stock`, with an offset to be tried out."""
        from packdesk.paper.alignment_page import write_alignment_page

        write_alignment_page(stock, out, offset_mm=offset_mm)

    def pail_cards(self, cards: Sequence[PailCard], page: str, out: Path) -> PaperMade:
        """Write a card for each pail, two to a page."""
        from packdesk.paper.pail_sheet import write_pail_cards

        report = write_pail_cards(cards, page, out)
        return _made(report.pages, report.unprintable)

    def run_sheet(self, sheet: RunSheet, page: str, out: Path) -> PaperMade:
        """Write the run sheet for the counter."""
        from packdesk.paper.run_paper import write_run_sheet

        report = write_run_sheet(sheet, page, out)
        return _made(report.pages, report.unprintable)

    def record(
        self, outline: RecordOutline, page: str, out: Path, *, progress: Progress | None = None
    ) -> PaperMade:
        """Write the session record on pages called `A4` or `Letter`."""
        from packdesk.paper.session_record import write_record

        report = write_record(outline, page, out, progress=progress)
        return _made(report.pages, report.unprintable)

    def table(self, text: str, out: Path) -> None:
        """Write comma-separated values; the mark in front tells spreadsheets it is UTF-8."""
        from packdesk.paper.delivery import deliver

        deliver(text.encode("utf-8-sig"), out)

    def calendar(
        self, entries: Sequence[CalendarEntry], name: str, stamp: datetime, out: Path
    ) -> None:
        """Write a calendar file (iCalendar) of `entries`; `stamp` (UTC) is now."""
        from packdesk.paper.calendar_file import write_calendar

        write_calendar(entries, name, stamp, out)

    def copy(self, paper: Path, out: Path) -> None:
        """Put a finished paper into another place as well, whole or not at all."""
        from packdesk.paper.delivery import deliver

        try:
            content = paper.read_bytes()
        except OSError as error:
            raise Trouble(
                f"“{paper}” cannot be read: {error.strerror}.", "Make it again."
            ) from error
        deliver(content, out)

    def page_picture(self, pdf: Path, page: int, width_px: int) -> PagePicture:
        """A page of a finished PDF, counted from 0, for the preview."""
        from packdesk.paper.preview import page_picture

        return page_picture(pdf, page, width_px)

    def print_out(self, pdf: Path, page: str, printer: str = "") -> str:
        """Print a finished PDF through the system at actual size; a sentence about it."""
        from packdesk.system.printer import print_file

        return print_file(pdf, page, printer)

    def printers(self) -> tuple[str, ...]:
        """The printers the system names; empty where it cannot be asked."""
        from packdesk.system.printer import printers

        return printers()

    def keep_stock(self, stock: LabelStock) -> None:
        """Add a measured stock to the person's own catalogue; what stood there stays."""
        from packdesk.paper.delivery import deliver
        from packdesk.present.measured_stock import stock_entry

        if self._own_catalog is None:
            raise Trouble(
                "There is no folder for a catalogue of your own.", "Start PackDesk with one."
            )
        file = self._own_catalog / OWN_STOCKS
        try:
            self._own_catalog.mkdir(parents=True, exist_ok=True)
            before = file.read_text(encoding="utf-8") if file.exists() else ""
        except (OSError, UnicodeDecodeError) as error:
            raise Trouble(
                f"“{file}” cannot be read: {error}.", "Mend it or put it away, then try again."
            ) from error
        kept = f"{before.rstrip()}\n\n" if before.strip() else ""
        try:
            deliver((kept + stock_entry(stock)).encode(), file)
        except Trouble as trouble:
            raise Trouble(
                trouble.sentence,
                "Free the way to that folder, with room on its disk; what you typed stays here.",
            ) from trouble
        self._stocks = (*self._stocks, stock)
        self._kept = (*self._kept, stock)

    def kept_stocks(self) -> tuple[LabelStock, ...]:
        """The stocks measured since the catalogue was read."""
        return self._kept


def _gathered(told: Iterable[tuple[int, str]]) -> tuple[str, ...]:
    """What holds for several pouches is said once, with all of their numbers before it."""
    pouches: dict[str, list[int]] = {}
    for pouch, words in told:
        pouches.setdefault(words, []).append(pouch)
    return tuple(f"{capital(named(found))}: {words}" for words, found in pouches.items())


def _made(pages: int, unprintable: str) -> PaperMade:
    return PaperMade(pages, (_lacking(unprintable),) if unprintable else ())


def _lacking(characters: str) -> str:
    """What is printed in place of signs that the face lacks, and what to do.

    The signs are named as well, for a screen whose face lacks them too.
    """
    names = [unicodedata.name(sign, f"U+{ord(sign):04X}").lower() for sign in characters]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return (
        f"the shipped face has no sign for “{characters}” ({', '.join(names[:MOST_NAMED])}{more}); "
        "an empty box is printed in its place. "
        "Latin, Greek and Cyrillic are covered: spell the name so in your catalogue or where you "
        "typed it, change the plan if it stands there, and make the paper again."
    )
