"""A page for plain paper that shows how far a printer misses a sheet of labels."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from packdesk.catalog.label_stock import LabelStock
from packdesk.paper.blank_pdf import ask_for_actual_size, blank_pdf
from packdesk.paper.delivery import deliver
from packdesk.paper.fit import wrap
from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, printable
from packdesk.paper.page_sizes import MM
from packdesk.present.printer_trim import RULER_MM, check_offset

_BLACK, _GREY, _WHITE = HexColor("#000000"), HexColor("#A0A0A0"), HexColor("#FFFFFF")
_MARK_MM = 5.0
_PANEL_MM = 124.0
"""Side of the white square in the middle that holds the two rulers and the words."""
_MARGIN_MM = 8.0
_COLUMN_MM = (18.0, 96.0)
"""Where the words begin and end, from the corner in which the rulers meet."""

_STEPS = (
    "Print this page on plain paper at actual size (100 %), never fitted to the page.",
    (
        "Measure both rulers. Each must be 100 mm long, to within 0.5 mm. If not, the printer "
        "scales: look for “actual size” or “100 %” in its settings and print again."
    ),
    (
        "Lay the page over a sheet of labels and hold both to the light. Measure how far the "
        "crosses lie to the right of the labels' corners, and how far below; left and above count "
        "as minus. Note all four figures here and enter them: the labels then move the other way."
    ),
)

_NOTED = ("ruler across", "ruler down", "crosses right", "crosses below")
"""What is noted by hand on the page itself, in mm."""


def write_alignment_page(
    stock: LabelStock, out: Path | BinaryIO, *, offset_mm: tuple[float, float] = (0.0, 0.0)
) -> None:
    """Write the outlines of `stock`, crosses at its outer corners, and a ruler each way.

    `offset_mm` moves outlines and crosses right and down, to try out an offset measured before;
    the rulers stay. Raises `ValueError` for an offset of more than 5 mm or a page without room
    for the rulers, and `Trouble` when the file cannot be written.
    """
    check_offset(offset_mm)
    if min(stock.page_size_mm) < _PANEL_MM:
        raise ValueError(
            f"A sheet of {stock.page_size_mm[0]:g} × {stock.page_size_mm[1]:g} mm has no room for "
            f"two rulers. An alignment page needs at least {_PANEL_MM:g} mm each way."
        )
    content = BytesIO()
    canvas = blank_pdf(content, stock.page_size_mm, f"Alignment page, {stock.name}")
    ask_for_actual_size(canvas)
    canvas.translate(0, stock.page_size_mm[1] * MM)
    canvas.saveState()
    canvas.translate(offset_mm[0] * MM, -offset_mm[1] * MM)
    _draw_outlines(canvas, stock)
    _draw_crosses(canvas, stock)
    canvas.restoreState()
    _draw_panel(canvas, stock)
    canvas.save()
    deliver(content.getvalue(), out)


def _draw_outlines(canvas: Canvas, stock: LabelStock) -> None:
    width, height = stock.label_width_mm * MM, stock.label_height_mm * MM
    canvas.setLineWidth(0.4)
    canvas.setStrokeColor(_GREY)
    for cell in range(stock.cells):
        x, y = stock.cell_origin_mm(cell)
        radius = stock.corner_radius_mm * MM
        canvas.roundRect(x * MM, -y * MM - height, width, height, radius)


def _draw_crosses(canvas: Canvas, stock: LabelStock) -> None:
    """A cross on each outer corner of the four corner labels."""
    left, top = stock.cell_origin_mm(0)
    last_x, last_y = stock.cell_origin_mm(stock.cells - 1)
    right, bottom = last_x + stock.label_width_mm, last_y + stock.label_height_mm
    canvas.setLineWidth(0.6)
    canvas.setStrokeColor(_BLACK)
    for x in (left, right):
        for y in (top, bottom):
            canvas.line((x - _MARK_MM) * MM, -y * MM, (x + _MARK_MM) * MM, -y * MM)
            canvas.line(x * MM, -(y - _MARK_MM) * MM, x * MM, -(y + _MARK_MM) * MM)


def _draw_panel(canvas: Canvas, stock: LabelStock) -> None:
    """Rulers to the right and down from one corner, the words between them."""
    page_width, page_height = stock.page_size_mm
    canvas.saveState()
    canvas.translate((page_width - _PANEL_MM) / 2 * MM, -(page_height - _PANEL_MM) / 2 * MM)
    canvas.setFillColor(_WHITE)
    canvas.rect(0, -_PANEL_MM * MM, _PANEL_MM * MM, _PANEL_MM * MM, stroke=0, fill=1)
    canvas.setFillColor(_BLACK)
    canvas.translate(_MARGIN_MM * MM, -_MARGIN_MM * MM)
    _draw_words(canvas, stock)
    _draw_ruler(canvas, figures_above=False)
    canvas.rotate(-90)
    _draw_ruler(canvas, figures_above=True)
    canvas.restoreState()


def _draw_words(canvas: Canvas, stock: LabelStock) -> None:
    left, right = (edge * MM for edge in _COLUMN_MM)
    y = -22 * MM
    y = _draw_text(canvas, "Alignment page", BOLD, 17.0, (left, right), y)
    y = _draw_text(canvas, printable(stock.name), SEMIBOLD, 10.5, (left, right), y) - 6
    for step, words in enumerate(_STEPS, start=1):
        canvas.setFont(SEMIBOLD, 10.5)
        canvas.drawString(left, y, str(step))
        y = _draw_text(canvas, words, REGULAR, 10.5, (left + 5 * MM, right), y) - 5
    width = (right - left) / len(_NOTED)
    for place, words in enumerate(_NOTED):
        canvas.setFont(REGULAR, 8)
        canvas.drawString(left + place * width, y - 10 * MM, words)
        canvas.line(left + place * width, y - 6.5 * MM, left + (place + 0.85) * width, y - 6.5 * MM)


def _draw_text(
    canvas: Canvas, text: str, face: str, size: float, edges: tuple[float, float], y: float
) -> float:
    """Draw `text` between `edges` from baseline `y` down; answer the baseline after it."""
    left, right = edges
    canvas.setFont(face, size)
    for line in wrap(text, face, (right - left) / size, break_words=True):
        canvas.drawString(left, y, line)
        y -= 1.35 * size
    return y


def _draw_ruler(canvas: Canvas, figures_above: bool) -> None:
    """Ticks every millimetre along the axis from the origin, figures every ten."""
    side = 1 if figures_above else -1
    canvas.setStrokeColor(_BLACK)
    canvas.setLineWidth(0.4)
    canvas.line(0, 0, RULER_MM * MM, 0)
    for mm in range(RULER_MM + 1):
        length = 5.0 if mm % 10 == 0 else 3.5 if mm % 5 == 0 else 2.0
        canvas.line(mm * MM, 0, mm * MM, side * length * MM)
    canvas.setFont(REGULAR, 8)
    figures_y = 6 * MM if figures_above else -6 * MM - 0.66 * 8
    for mm in range(10, RULER_MM, 10):
        canvas.drawCentredString(mm * MM, figures_y, str(mm))
    canvas.drawCentredString(RULER_MM * MM, figures_y, f"{RULER_MM} mm")
