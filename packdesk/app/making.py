"""Labels and record from a session file, as the command line and the rehearsal make them."""

from __future__ import annotations

from pathlib import Path

from packdesk.app.papers import PdfPapers
from packdesk.app.session_files import Told
from packdesk.catalog.read import read_catalog
from packdesk.desk.ports import LabelsMade
from packdesk.present.label_text import label_texts
from packdesk.present.record_outline import record_outline
from packdesk.session.state import SessionState

DEFAULT_STOCK = {"metric": "a4-3x7-64x38", "us": "letter-2x5-102x51"}
PAGE = {"metric": "A4", "us": "Letter"}


def labels_of(told: Told, stock_key: str | None, first: int, out: Path) -> LabelsMade:
    """Write a label for every pouch of a told session that is in work.

    `first` is the first free place of the first sheet, counted from 1. Raises `ValueError`
    for an unknown stock, a place that is not on the sheet, or labels that do not fit.
    """
    session = _session(told)
    catalog, _ = read_catalog()
    key = stock_key or DEFAULT_STOCK[session.units]
    if key not in catalog.label_stocks:
        known = ", ".join(catalog.label_stocks)
        raise ValueError(f"There is no label stock “{key}”. Choose one of: {known}.")
    stock = catalog.label_stocks[key]
    if not 1 <= first <= stock.cells:
        raise ValueError(f"Place {first} is not on the sheet; it has places 1 to {stock.cells}.")
    numbers = tuple(pouch.number for pouch in session.working_pouches())
    if not numbers:
        raise ValueError("This session has no filled pouch yet, so there is nothing to label.")
    papers = PdfPapers(tuple(catalog.label_stocks.values()))
    made = papers.labels(label_texts(session, numbers, told.last), stock, first - 1, out)
    if made.refused:
        raise ValueError("\n".join(made.refused))
    return made


def record_of(told: Told, out: Path) -> None:
    """Write the record of a told session."""
    session = _session(told)
    outline = record_outline(told.state, told.entries, told.last, read_catalog()[0])
    PdfPapers().record(outline, PAGE[session.units], out)


def _session(told: Told) -> SessionState:
    if told.state.session is None:
        raise ValueError(f"{told.file.name} opens no session; its first fact should.")
    return told.state.session
