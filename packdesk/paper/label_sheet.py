"""Sheets of pouch labels as one PDF, and what the person must know before printing them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from math import ceil
from pathlib import Path
from typing import BinaryIO

from reportlab.pdfgen.canvas import Canvas

from packdesk.catalog.label_stock import LabelStock
from packdesk.paper.blank_pdf import ask_for_actual_size, blank_pdf
from packdesk.paper.delivery import deliver
from packdesk.paper.fonts import lacking, printable
from packdesk.paper.page_sizes import MM
from packdesk.paper.pouch_label import SEAM_GAP_PT, Layout, Line, lay_out
from packdesk.paper.qr import QrCode, qr_code
from packdesk.present.cards import LabelText

MOST_OFFSET_MM = 5.0
"""A sheet printed further off than this is in the wrong tray, not out of true."""

_SEAM_PT = 0.6


@dataclass(frozen=True, slots=True)
class Unfit:
    """A label that does not fit: why, what to do, and the key of a stock on which it fits."""

    pouch: int
    words: str
    stock: str | None = None


@dataclass(frozen=True, slots=True)
class Unprintable:
    """Characters of a label that print as an empty box."""

    pouch: int
    characters: str


@dataclass(frozen=True, slots=True)
class LabelReport:
    """What was written and what to tell the person; with `unfit` labels nothing was written."""

    labels: int
    sheets: int
    next_cell: int
    """The first free cell of the last sheet; 0 when that sheet is full."""
    unfit: tuple[Unfit, ...] = ()
    unprintable: tuple[Unprintable, ...] = ()


def write_labels(
    labels: Sequence[LabelText],
    stock: LabelStock,
    first_cell: int,
    out: Path | BinaryIO,
    *,
    offset_mm: tuple[float, float] = (0.0, 0.0),
    progress: Callable[[int, int], None] | None = None,
    outlines: bool = False,
    other_stocks: Iterable[LabelStock] = (),
) -> LabelReport:
    """Write all of `labels` to `out`, or nothing when one of them does not fit on `stock`.

    `first_cell` is the first unused cell of the first sheet (0 to cells - 1); further sheets
    are used from their first cell. `offset_mm` moves everything right and down by up to 5 mm
    either way, as measured on a test page. `progress` is told how many labels of how many are
    set; what it raises stops the work and leaves no file. `outlines` draws the cells, for a
    test on plain paper. `other_stocks` are searched for one that takes the labels.

    Raises `ValueError` for an impossible request and `Trouble` when the file cannot be written.
    """
    _check(labels, stock, first_cell, offset_mm)
    sheet = BytesIO()
    canvas = blank_pdf(sheet, stock.page_size_mm, f"Pouch labels, {stock.name}")
    ask_for_actual_size(canvas)
    _begin_page(canvas, stock, offset_mm, outlines)
    drawing = _Drawing(canvas, stock)
    others = sorted(other_stocks, key=lambda other: other.label_width_mm * other.label_height_mm)
    unfit = []
    for done, label in enumerate(labels):
        cell = (first_cell + done) % stock.cells
        if done and not cell:
            canvas.showPage()
            _begin_page(canvas, stock, offset_mm, outlines)
        code = qr_code(label.code)
        layout = lay_out(label, code.modules, stock.label_width_mm, stock.label_height_mm)
        if isinstance(layout, str):
            unfit.append(_unfit(label, code, layout, others))
        elif not unfit:
            x_mm, y_mm = stock.cell_origin_mm(cell)
            drawing.draw(layout, printable(label.identity), code, x_mm * MM, -y_mm * MM)
        if progress is not None:
            progress(done + 1, len(labels))
    unprintable = tuple(
        Unprintable(label.pouch, missing) for label in labels if (missing := _missing(label))
    )
    if unfit:
        return LabelReport(0, 0, first_cell, tuple(unfit), unprintable)
    canvas.save()
    deliver(sheet.getvalue(), out)
    used = first_cell + len(labels)
    return LabelReport(
        len(labels), -(-used // stock.cells), used % stock.cells, unprintable=unprintable
    )


def _check(
    labels: Sequence[LabelText],
    stock: LabelStock,
    first_cell: int,
    offset_mm: tuple[float, float],
) -> None:
    if not labels:
        raise ValueError("There is no label to print. Choose at least one pouch.")
    if not 0 <= first_cell < stock.cells:
        raise ValueError(
            f"First label {first_cell + 1} is not on the sheet. Choose 1 to {stock.cells}."
        )
    if any(abs(shift) > MOST_OFFSET_MM for shift in offset_mm):
        right, down = offset_mm
        raise ValueError(
            f"An offset of {right:g} mm right and {down:g} mm down is more than "
            f"{MOST_OFFSET_MM:g} mm. Check that the sheet lies straight in the right tray."
        )


def _begin_page(
    canvas: Canvas, stock: LabelStock, offset_mm: tuple[float, float], outlines: bool
) -> None:
    """Move the origin to the page's top left corner, offset applied, and outline the cells."""
    canvas.translate(offset_mm[0] * MM, (stock.page_size_mm[1] - offset_mm[1]) * MM)
    canvas.setLineWidth(_SEAM_PT)
    if not outlines:
        return
    width, height = stock.label_width_mm * MM, stock.label_height_mm * MM
    for cell in range(stock.cells):
        x, y = stock.cell_origin_mm(cell)
        canvas.roundRect(x * MM, -y * MM - height, width, height, stock.corner_radius_mm * MM)


class _Drawing:
    """Draws labels on a canvas; what many labels share is put into the file once."""

    def __init__(self, canvas: Canvas, stock: LabelStock) -> None:
        self._canvas = canvas
        self._width = ceil(stock.label_width_mm * MM)
        self._height = ceil(stock.label_height_mm * MM)
        self._forms: dict[Layout, str] = {}

    def draw(self, layout: Layout, identity: str, code: QrCode, left: float, top: float) -> None:
        """Draw one label with its top left corner at `left`, `top` (points, from the origin)."""
        if layout not in self._forms:
            self._forms[layout] = self._add_form(layout)
        canvas = self._canvas
        canvas.saveState()
        canvas.translate(left, top)
        canvas.doForm(self._forms[layout])
        self._draw_lines((replace(layout.identity, text=identity),))
        code_left, code_bottom, side = layout.code
        canvas.addLiteral(code.operators(code_left, -code_bottom, side))
        canvas.restoreState()

    def _add_form(self, layout: Layout) -> str:
        name = f"label{len(self._forms)}"
        left, right, seam = layout.seam
        self._canvas.beginForm(name, 0, -self._height, self._width, 0)
        self._canvas.setLineWidth(_SEAM_PT)
        for height in (seam, seam + SEAM_GAP_PT):
            self._canvas.line(left, -height, right, -height)
        self._draw_lines(layout.lines)
        self._canvas.endForm()
        return name

    def _draw_lines(self, lines: Iterable[Line]) -> None:
        text = self._canvas.beginText()
        for line in lines:
            text.setFont(line.face, line.size)
            text.setTextOrigin(line.x, -line.y)
            text.textOut(line.text)
        self._canvas.drawText(text)


def _unfit(label: LabelText, code: QrCode, why: str, others: Sequence[LabelStock]) -> Unfit:
    for other in others:
        if isinstance(
            lay_out(label, code.modules, other.label_width_mm, other.label_height_mm), Layout
        ):
            return Unfit(
                label.pouch, f"Label {label.identity}: {why} It fits on {other.name}.", other.key
            )
    return Unfit(
        label.pouch,
        f"Label {label.identity}: {why} Choose a stock with larger labels, or shorten its words.",
    )


def _missing(label: LabelText) -> str:
    words = (label.food, label.mass, label.packed, label.best_quality, label.identity, label.lot,
             label.absorbers, label.allergens, label.caution, label.advice)  # fmt: skip
    return lacking(" ".join(words))
