"""A print of labels before it is made: which pouches, which sheet, where it starts, its name."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import Catalog
from packdesk.instants import Reading, local
from packdesk.session.book_state import BookState
from packdesk.session.commands import NoteLabelsPrinted, NoteNumberLabels
from packdesk.session.numbers import named
from packdesk.session.state import LabelsAsked, SessionState

USUAL_STOCK = {"metric": "a4-3x7-64x38", "us": "letter-2x5-102x51"}
RECORD_PAGE = {"metric": "A4", "us": "Letter"}


@dataclass(frozen=True, slots=True)
class LabelJob:
    """How a print would come out: `first` is the first free place, from 0."""

    stock: LabelStock
    first: int
    pouches: tuple[int, ...]
    used_words: str
    sheets_words: str


def right_labels(asked: LabelsAsked, torn: tuple[int, ...]) -> tuple[int, ...]:
    """The pouches whose labels are right when those of `torn` are not.

    Raises `ValueError`, in words, for one that was not printed and when none is left.
    """
    strange = [number for number in torn if number not in asked.pouches]
    if strange:
        raise ValueError(f"Pouch {strange[0]} is not in this print. It has {named(asked.pouches)}.")
    right = tuple(number for number in asked.pouches if number not in torn)
    if not right:
        raise ValueError("That is all of them. Go back with Esc and choose “None did”.")
    return right


def printed(asked: LabelsAsked, right: tuple[int, ...]) -> NoteLabelsPrinted | NoteNumberLabels:
    """The order that puts the labels asked about on record, `right` being those that are."""
    where = (asked.stock, asked.first, asked.next_cell, asked.reprint)
    if asked.line:
        return NoteNumberLabels(asked.line, right, *where)
    return NoteLabelsPrinted(right, *where)


def page_called(stock: LabelStock) -> str:
    """What a print queue calls the page of `stock`: `A4`, `Letter`, `Custom.148x210mm`."""
    pages = {(210, 297): "A4", (216, 279): "Letter"}
    width, height = stock.page_size_mm
    return pages.get((round(width), round(height)), f"Custom.{width:g}x{height:g}mm")


def to_label(session: SessionState) -> tuple[int, ...]:
    """The sealed pouches that have no label yet."""
    return tuple(p.number for p in session.working_pouches() if p.gas_tight and not p.labelled)


def usual_stock(catalog: Catalog, units: str) -> str:
    """The key of the stock to begin with."""
    wanted = USUAL_STOCK[units]
    return wanted if wanted in catalog.label_stocks else next(iter(catalog.label_stocks), "")


def label_job(
    book: BookState, stock: LabelStock, pouches: tuple[int, ...], first: int | None
) -> LabelJob:
    """Lay a print out; without `first` it starts where the last one on this stock ended."""
    used = book.sheets.get(stock.key, 0) if first is None else first
    used = min(max(used, 0), stock.cells - 1)
    counts = _on_each_sheet(len(pouches), used, stock.cells)
    if len(counts) > 1:
        rest = ", then ".join(str(count) for count in counts[1:])
        sheets = f"The next sheets start whole: {counts[0]} here, then {rest}."
    else:
        sheets = "All of them fit on this sheet."
    if not used:
        told = "This sheet is whole."
    elif used == 1:
        told = "1 label is gone from this sheet."
    else:
        told = f"{used} labels are gone from this sheet."
    return LabelJob(stock, used, pouches, told, sheets)


def _on_each_sheet(labels: int, used: int, places: int) -> tuple[int, ...]:
    counts = [min(labels, places - used)]
    labels -= counts[0]
    while labels > 0:
        counts.append(min(labels, places))
        labels -= counts[-1]
    return tuple(counts)


def file_name(session: SessionState, what: str, now: Reading) -> str:
    """The name of a PDF made now, such as `K7M2-labels-2026-10-18-101523.pdf`."""
    return f"{session.code}-{what}-{local(now.utc, now.offset_min_at):%Y-%m-%d-%H%M%S}.pdf"
