"""How much quicker label sheets are than the straightforward way, measured side by side."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from io import BytesIO
from time import process_time
from typing import NamedTuple

from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.lib.utils import simpleSplit
from reportlab.pdfgen.canvas import Canvas

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import read_catalog
from packdesk.paper.fonts import register_faces
from packdesk.paper.label_block import Line
from packdesk.paper.label_sheet import write_labels
from packdesk.paper.page_sizes import MM
from packdesk.paper.pouch_label import Layout, lay_out
from packdesk.paper.qr import qr_code
from packdesk.present.papers import LabelText

LABELS = 105
RUNS = 2
"""Each with words of its own, so that nothing is laid out before; the better one of each counts."""

TIMES_QUICKER = 40.0


def test_label_sheets_are_forty_times_quicker_and_no_larger_than_the_straightforward_way() -> None:
    """Sheets with the same words and codes take a fortieth of the time and no more bytes."""
    stock = read_catalog()[0].label_stocks["a4-3x7-64x38"]
    runs = [_run(run, stock) for run in range(RUNS)]
    ours_s, plain_s = (min(each[way].seconds for each in runs) for way in (0, 1))
    ours, plain = (sum(each[way].size for each in runs) / RUNS / LABELS for way in (0, 1))

    print(
        f"\nlabels with code per second {LABELS / ours_s:.0f}, straightforward "
        f"{LABELS / plain_s:.0f}: {plain_s / ours_s:.0f} times; bytes per label {ours:.0f}, "
        f"straightforward {plain:.0f}"
    )
    assert plain_s / ours_s >= TIMES_QUICKER
    assert ours <= plain


class _Made(NamedTuple):
    """How long a file took, in the processor's time, which other work hardly disturbs; bytes."""

    seconds: float
    size: int


def _run(run: int, stock: LabelStock) -> tuple[_Made, _Made]:
    """The same labels our way, then the straightforward way, which is given where all stands."""
    labels = [_label(run, number) for number in range(1, LABELS + 1)]
    ours = _made(lambda out: write_labels(labels, stock, 0, out))
    layouts = [_layout(label, stock) for label in labels]
    return ours, _made(lambda out: _straightforward(labels, layouts, stock, out))


def _made(write: Callable[[BytesIO], object]) -> _Made:
    out = BytesIO()
    start = process_time()
    write(out)
    return _Made(process_time() - start, len(out.getvalue()))


def _straightforward(
    labels: Sequence[LabelText], layouts: Sequence[Layout], stock: LabelStock, out: BytesIO
) -> None:
    """A text that fits by trying sizes, a call for each line, the library's own code widget."""
    width_mm, height_mm = stock.page_size_mm
    canvas = Canvas(out, pagesize=(width_mm * MM, height_mm * MM), invariant=1, pageCompression=1)
    for index, (label, layout) in enumerate(zip(labels, layouts, strict=True)):
        cell = index % stock.cells
        if index and not cell:
            canvas.showPage()
        x_mm, y_mm = stock.cell_origin_mm(cell)
        canvas.saveState()
        canvas.translate(x_mm * MM, (height_mm - y_mm) * MM)
        for line in layout.lines:
            _draw_text(canvas, line)
        _draw_text(canvas, replace(layout.identity, text=label.identity))
        assert layout.seam is not None
        left, right, seam = layout.seam
        canvas.line(left, -seam, right, -seam)
        code_left, code_bottom, side = layout.code
        drawing = Drawing(side, side)
        drawing.add(
            QrCodeWidget(label.code, barLevel="M", barWidth=side, barHeight=side, barBorder=0)
        )
        renderPDF.draw(drawing, canvas, code_left, -code_bottom)
        canvas.restoreState()
    canvas.save()


def _draw_text(canvas: Canvas, line: Line) -> None:
    size = 30.0
    while size > line.size and len(simpleSplit(line.text, line.face, size, 115.0)) > 1:
        size -= 0.5
    canvas.setFont(line.face, line.size)
    canvas.drawString(line.x, -line.y, line.text)


def _layout(label: LabelText, stock: LabelStock) -> Layout:
    register_faces()
    modules = qr_code(label.code).modules
    layout = lay_out(label, modules, stock.label_width_mm, stock.label_height_mm)
    assert isinstance(layout, Layout)
    return layout


def _label(run: int, number: int) -> LabelText:
    """A pouch that was weighed by itself, of a food that no run before has printed."""
    food = ("Hard red wheat", "Long white rice")[run]
    mass_g = 1180 + number
    return LabelText(
        pouch=number,
        food=food,
        mass=f"{mass_g} g (2 lb {mass_g / 28.35 - 32:.1f} oz)",
        packed="2026-11-25 packed",
        best_quality="Best quality to 2046–2056",
        identity=f"Pouch K7M2-{number:03d}",
        lot=f"Lot 2611-{run + 1}",
        absorbers="1 × 500 cc oxygen absorber",
        allergens=("Contains: wheat", "May contain: soy")[run],
        caution="",
        advice="Take out the absorber before cooking.",
        code=(
            f"PACKDESK POUCH K7M2-{number:03d} / {food.upper()} / {mass_g} G / PACKED 2026-11-25 "
            f"/ BEST TO 2046-2056 / LOT 2611-{run + 1}"
        ),
    )
