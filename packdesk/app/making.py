"""Papers from a session file, as the command line and the rehearsal make them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from packdesk.app.papers import PdfPapers
from packdesk.app.session_files import Told
from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import Catalog, read_catalog
from packdesk.desk.ports import LabelsMade, PaperMade
from packdesk.present.calendar_entries import calendar_entries
from packdesk.present.freezer_plan import FreezerPlan, session_freezer_plan
from packdesk.present.label_design import NUMBER_FIRST, STANDARD
from packdesk.present.label_text import label_texts, number_texts, numbers_to_come
from packdesk.present.pail_card import pail_cards
from packdesk.present.pouch_table import pouch_csv
from packdesk.present.record_outline import record_outline
from packdesk.present.run_sheet import run_sheet
from packdesk.session.numbers import listed, named
from packdesk.session.state import SessionState
from packdesk.system.folders import find_folders

DEFAULT_STOCK = {"metric": "a4-3x7-64x38", "us": "letter-2x5-102x51"}
PAGE = {"metric": "A4", "us": "Letter"}


def labels_of(
    told: Told,
    stock_key: str | None,
    first: int,
    out: Path,
    *,
    pouches: str = "",
    numbers_only: bool = False,
    offset_mm: tuple[float, float] = (0.0, 0.0),
) -> LabelsMade:
    """Write a label for every pouch of a told session that is in work, or for some of them.

    `first` is the first free place of the first sheet, counted from 1; `pouches` are the ones
    wanted (again), as `3, 7-9`; `numbers_only` makes labels that go on before filling, for the
    pouches still to come unless others are named. Raises `ValueError`, in words, for an unknown
    stock, a place that is not on the sheet, pouches that are not there, or labels that do not fit.
    """
    session = _session(told)
    catalog = _shelf()
    stock = stock_called(catalog, stock_key or DEFAULT_STOCK[session.units])
    if not 1 <= first <= stock.cells:
        raise ValueError(f"Place {first} is not on the sheet; it has places 1 to {stock.cells}.")
    if numbers_only and session.plan is not None and not session.plan.numbered:
        raise ValueError(
            "This plan works with counted pouches. Plan numbered working to print numbers."
        )
    numbers = _wanted(session, pouches, numbers_only)
    made = PdfPapers(tuple(catalog.label_stocks.values())).labels(
        number_texts(session, numbers) if numbers_only else label_texts(session, numbers),
        stock,
        first - 1,
        out,
        design=NUMBER_FIRST if numbers_only else STANDARD,
        offset_mm=offset_mm,
    )
    if made.refused:
        raise ValueError("\n".join(made.refused))
    return made


def _wanted(session: SessionState, pouches: str, numbers_only: bool) -> tuple[int, ...]:
    """The pouches to label: those named, else those in work, or still to come."""
    there = tuple(pouch.number for pouch in session.working_pouches())
    to_come = numbers_to_come(session) if numbers_only else ()
    offered = (*there, *to_come)
    if not offered:
        raise ValueError("This session has no filled pouch yet, so there is nothing to label.")
    if not pouches:
        return to_come or there
    numbers = pouch_numbers(pouches)
    missing = [number for number in numbers if number not in offered]
    if missing:
        raise ValueError(f"{listed(missing)} not in this session; it has {named(offered)}.")
    return numbers


def pouch_numbers(typed: str) -> tuple[int, ...]:
    """The numbers meant by `3, 7-9`, each once, in the order typed.

    Raises `ValueError`, in words, for anything else.
    """
    found: dict[int, None] = {}
    for part in typed.split(","):
        said = re.fullmatch(r"\s*(\d{1,6})(?:\s*[-–]\s*(\d{1,6}))?\s*", part)
        first, last = (int(said[1]), int(said[2] or said[1])) if said else (1, 0)
        if not 1 <= first <= last:
            raise ValueError(f"“{typed}” names no pouches. Write them as 3, 7-9.")
        found.update(dict.fromkeys(range(first, last + 1)))
    return tuple(found)


def stock_called(catalog: Catalog, key: str) -> LabelStock:
    """The label stock with this key; raises `ValueError` that names those there are."""
    if key not in catalog.label_stocks:
        raise _not_there("label stock", key, catalog.label_stocks)
    return catalog.label_stocks[key]


def _not_there(kind: str, key: str, known: Iterable[str]) -> ValueError:
    """Say that the catalogue lacks something, which there is, and what is wrong in one's own."""
    faults = [str(fault) for fault in read_catalog(_own_catalog())[1]]
    said = f"There is no {kind} “{key}”. Choose one of: {', '.join(known)}."
    return ValueError("\n".join((said, *faults)))


def alignment_of(key: str, offset_mm: tuple[float, float], out: Path) -> LabelStock:
    """Write the alignment page of the stock called `key`."""
    stock = stock_called(_shelf(), key)
    PdfPapers().alignment(stock, out, offset_mm=offset_mm)
    return stock


def pails_of(told: Told, kind: str | None, out: Path) -> PaperMade:
    """Write the card of every pail of a told session; `kind` is the key of what the pails are."""
    from packdesk.planning.plan import usual_pail  # loads numpy

    session = _session(told)
    catalog = _shelf()
    if kind is not None and kind not in catalog.pails:
        raise _not_there("pail", kind, catalog.pails)
    pail = catalog.pails[kind] if kind is not None else usual_pail(catalog)
    return PdfPapers().pail_cards(pail_cards(session, pail), PAGE[session.units], out)


def run_sheet_of(told: Told, out: Path) -> PaperMade:
    """Write the run sheet of a told session."""
    session = _session(told)
    sheet = run_sheet(session, told.last, _shelf())
    return PdfPapers().run_sheet(sheet, PAGE[session.units], out)


def pouches_of(told: Told, out: Path) -> int:
    """Write every pouch of a told session as comma-separated values; answer how many."""
    session = _session(told)
    PdfPapers().table(pouch_csv(session), out)
    return len(session.pouches)


def freezer_of(told: Told) -> FreezerPlan:
    """When what is still outside must go into the freezer, for the packing day agreed."""
    return session_freezer_plan(_session(told), told.state.book, _shelf(), told.last)


def calendar_of(told: Told, out: Path) -> int:
    """Write what a told session still has to come as a calendar file; answer how many entries."""
    session = _session(told)
    entries = calendar_entries(session, told.last, freezer_of(told))
    if not entries:
        raise ValueError(f"{session.name} has nothing still to come; a calendar would be empty.")
    PdfPapers().calendar(entries, session.name, told.last.utc, out)
    return len(entries)


def record_of(told: Told, out: Path) -> PaperMade:
    """Write the record of a told session."""
    session = _session(told)
    outline = record_outline(told.state, told.entries, told.last, _shelf())
    return PdfPapers().record(outline, PAGE[session.units], out)


def _shelf() -> Catalog:
    """The catalogue with the person's own entries."""
    return read_catalog(_own_catalog())[0]


def _own_catalog() -> Path:
    return find_folders().data / "catalog"


def _session(told: Told) -> SessionState:
    if told.state.session is None:
        raise ValueError(f"{told.file.name} opens no session; its first fact should.")
    return told.state.session
