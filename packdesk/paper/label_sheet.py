"""Sheets of pouch labels as one PDF, and what the person must know before printing them."""

from __future__ import annotations

from collections import Counter
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
from packdesk.paper.label_block import Line
from packdesk.paper.page_sizes import MM
from packdesk.paper.pouch_label import SEAM_GAP_PT, Layout, lay_out
from packdesk.paper.qr import QrCode, qr_code
from packdesk.present.label_design import STANDARD, LabelDesign, LabelField
from packdesk.present.papers import LabelText
from packdesk.present.printer_trim import check_offset

_SEAM_PT = 0.6


@dataclass(frozen=True, slots=True)
class Unfit:
    """A label that does not fit: why and what to do, and the key of a stock on which it fits.

    The words go on after the pouch is named.
    """

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
    design: LabelDesign = STANDARD,
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
    ready: list[_Ready] = []
    unfit: list[Unfit] = []
    for label in labels:
        code = qr_code(label.code)
        layout = lay_out(label, code.modules, stock.label_width_mm, stock.label_height_mm, design)
        if isinstance(layout, Layout):
            ready.append(_Ready(layout, printable(label.identity), code))
        else:
            unfit.append(_unfit(label, code.modules, layout, stock, other_stocks, design))
        if progress is not None:
            progress(len(ready) + len(unfit), len(labels))
    unprintable = tuple(
        Unprintable(label.pouch, missing) for label in labels if (missing := _missing(label))
    )
    if unfit:
        return LabelReport(0, 0, first_cell, tuple(unfit), unprintable)
    deliver(_draw_sheets(ready, stock, first_cell, offset_mm, outlines), out)
    used = first_cell + len(labels)
    return LabelReport(
        len(labels), -(-used // stock.cells), used % stock.cells, unprintable=unprintable
    )


@dataclass(frozen=True, slots=True)
class _Ready:
    """All it takes to draw one label."""

    layout: Layout
    identity: str
    code: QrCode


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
    check_offset(offset_mm)


def _draw_sheets(
    ready: Sequence[_Ready],
    stock: LabelStock,
    first_cell: int,
    offset_mm: tuple[float, float],
    outlines: bool,
) -> bytes:
    sheets = BytesIO()
    canvas = blank_pdf(sheets, stock.page_size_mm, f"Pouch labels, {stock.name}")
    ask_for_actual_size(canvas)
    drawing = _Drawing(canvas, stock, (label.layout for label in ready))
    for place, label in enumerate(ready, start=first_cell):
        cell = place % stock.cells
        if place == first_cell or not cell:
            if place > first_cell:
                canvas.showPage()
            canvas.translate(offset_mm[0] * MM, (stock.page_size_mm[1] - offset_mm[1]) * MM)
            if outlines:
                drawing.outline_cells()
        drawing.draw(label, cell)
    canvas.save()
    return sheets.getvalue()


_Shape = tuple[object, ...]
"""Where the lines of a layout stand and how large, whatever they say."""


def _shape(layout: Layout) -> _Shape:
    return layout.seam, *((line.x, line.y, line.face, line.size) for line in layout.lines)


class _Alike:
    """Labels of one shape: what all of them say is put into the file once, as a form."""

    def __init__(self) -> None:
        self.form = ""
        self._labels = 0
        self._seen: Counter[Line] = Counter()

    def add(self, layout: Layout) -> None:
        """One more label of this shape."""
        self._labels += 1
        self._seen.update(layout.lines)

    def shared(self, layout: Layout) -> tuple[Line, ...]:
        """The lines that every label of this shape has; none where there is but one label."""
        if self._labels < 2:
            return ()
        return tuple(line for line in layout.lines if self._seen[line] == self._labels)


class _Drawing:
    """Draws labels below an origin at the sheet's top left corner."""

    def __init__(self, canvas: Canvas, stock: LabelStock, layouts: Iterable[Layout]) -> None:
        self._canvas = canvas
        self._stock = stock
        self._alike: dict[_Shape, _Alike] = {}
        for layout in layouts:
            self._alike.setdefault(_shape(layout), _Alike()).add(layout)

    def outline_cells(self) -> None:
        """Draw the edge of every cell, for a test on plain paper."""
        stock = self._stock
        width, height = stock.label_width_mm * MM, stock.label_height_mm * MM
        self._canvas.setLineWidth(_SEAM_PT)
        for cell in range(stock.cells):
            x, y = stock.cell_origin_mm(cell)
            self._canvas.roundRect(x * MM, -y * MM - height, width, height,
                                   stock.corner_radius_mm * MM)  # fmt: skip

    def draw(self, label: _Ready, cell: int) -> None:
        """Draw one label in its cell."""
        x_mm, y_mm = self._stock.cell_origin_mm(cell)
        canvas = self._canvas
        canvas.saveState()
        canvas.translate(x_mm * MM, -y_mm * MM)
        layout = label.layout
        alike = self._alike[_shape(layout)]
        shared = alike.shared(layout)
        if not alike.form and shared:
            alike.form = self._add_form(layout, shared)
        if shared:
            canvas.doForm(alike.form)
        else:
            self._draw_seam(layout)
        own = [line for line in layout.lines if line not in shared]
        self._draw_lines([*own, replace(layout.identity, text=label.identity)])
        left, bottom, side = layout.code
        canvas.addLiteral(label.code.operators(left, -bottom, side))
        canvas.restoreState()

    def _add_form(self, layout: Layout, lines: Iterable[Line]) -> str:
        name = f"label{sum(bool(alike.form) for alike in self._alike.values())}"
        width, height = self._stock.label_width_mm * MM, self._stock.label_height_mm * MM
        self._canvas.beginForm(name, 0, -ceil(height), ceil(width), 0)
        self._draw_seam(layout)
        self._draw_lines(lines)
        self._canvas.endForm()
        return name

    def _draw_seam(self, layout: Layout) -> None:
        if layout.seam is not None:
            left, right, seam = layout.seam
            self._canvas.setLineWidth(_SEAM_PT)
            for below in (seam, seam + SEAM_GAP_PT):
                self._canvas.line(left, -below, right, -below)

    def _draw_lines(self, lines: Iterable[Line]) -> None:
        text = self._canvas.beginText()
        for line in lines:
            text.setFont(line.face, line.size)
            text.setTextOrigin(line.x, -line.y)
            text.textOut(line.text)
        self._canvas.drawText(text)


def _unfit(
    label: LabelText,
    modules: int,
    why: str,
    stock: LabelStock,
    others: Iterable[LabelStock],
    design: LabelDesign,
) -> Unfit:
    """Say why, and name the smallest of `others` that takes the label, on equal paper first."""
    for other in sorted(others, key=lambda other: _distance(stock, other)):
        setting = lay_out(label, modules, other.label_width_mm, other.label_height_mm, design)
        if isinstance(setting, Layout):
            return Unfit(label.pouch, f"{why} There is room on {other.name}.", other.key)
    return Unfit(label.pouch, f"{why} Choose a stock with larger labels, or shorten its words.")


def _distance(stock: LabelStock, other: LabelStock) -> tuple[bool, float]:
    return (
        other.page_size_mm != stock.page_size_mm, other.label_width_mm * other.label_height_mm
    )  # fmt: skip


def _missing(label: LabelText) -> str:
    """What of a label the face lacks: asked field by field, since most fields come again."""
    found = (lacking(getattr(label, field)) for field in LabelField)
    return "".join(dict.fromkeys("".join(found)))
