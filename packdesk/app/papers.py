"""The PDFs as the desk's port wants them, made by the paper room when first needed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import LabelsMade
from packdesk.present.cards import LabelText, RecordOutline


class PdfPapers:
    """Makes labels and records with reportlab; `stocks` are what a refused label may be told of."""

    def __init__(self, stocks: Sequence[LabelStock] = ()) -> None:
        self._stocks = tuple(stocks)

    def labels(
        self, texts: Sequence[LabelText], stock: LabelStock, first_cell: int, out: Path
    ) -> LabelsMade:
        """Write one label for each of `texts`, beginning at a place of the first sheet."""
        from packdesk.paper.label_sheet import write_labels

        report = write_labels(texts, stock, first_cell, out, other_stocks=self._stocks)
        names = {other.key: other.name for other in self._stocks}
        return LabelsMade(
            labels=report.labels,
            sheets=report.sheets,
            next_cell=report.next_cell,
            refused=tuple(
                f"{each.words} It fits on {names[each.stock]}." if each.stock else each.words
                for each in report.unfit
            ),
            remarks=tuple(
                f"Pouch {each.pouch}: the shipped face cannot print “{each.characters}”."
                for each in report.unprintable
            ),
        )

    def record(self, outline: RecordOutline, page: str, out: Path) -> None:
        """Write the session record on pages called `A4` or `Letter`."""
        from packdesk.paper.session_record import write_record

        write_record(outline, page, out)
