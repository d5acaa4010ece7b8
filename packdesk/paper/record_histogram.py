"""The histogram of weighed pouches in the record: a bar for each step of mass, and the plan."""

from __future__ import annotations

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from packdesk.paper.fonts import REGULAR, SEMIBOLD, printable
from packdesk.paper.page_sizes import MM
from packdesk.present.outlines import MassHistogram

_INK, _SECOND_INK = HexColor("#1A2040"), HexColor("#3D425E")
_INDIGO, _EDGE, _WHITE = HexColor("#2B3985"), HexColor("#7A7464"), HexColor("#FFFFFF")
_PT = 8.5
_WIDTH, _HEIGHT = 100 * MM, 22 * MM
_FOOT, _TITLE = 14.0, 26.0
_LEFT = 4 * MM
_BELOW = 7.0
_WIDEST_BAR = 13 * MM


class RecordHistogram(Flowable):
    """Draws a `MassHistogram`; `room_pt` is how high it stands."""

    room_pt = _BELOW + _FOOT + _HEIGHT + _TITLE + 4

    def __init__(self, histogram: MassHistogram) -> None:
        super().__init__()
        self._histogram = histogram

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """A small picture: as wide as its bars need."""
        bars = _LEFT + _WIDEST_BAR * len(self._histogram.counts)
        self._right = min(bars, _WIDTH, available_width)
        self.width, self.height = available_width, self.room_pt
        return self.width, self.height

    def draw(self) -> None:
        """Draw where the plan lies, bars with their counts over it, round masses below."""
        told = self._histogram
        canvas: Canvas = self.canv
        first, last = told.edges_g[0], told.edges_g[-1]
        highest = max(told.counts)

        def x(mass_g: float) -> float:
            return _LEFT + (self._right - _LEFT) * (mass_g - first) / (last - first)

        canvas.saveState()
        canvas.translate(0, _BELOW)
        canvas.setFont(SEMIBOLD, _PT + 0.5)
        canvas.setFillColor(_INK)
        canvas.drawString(0, _FOOT + _HEIGHT + _TITLE - 9, printable(told.title))
        self._draw_plan(canvas, x(told.planned_g))
        for low, high, number in zip(told.edges_g, told.edges_g[1:], told.counts, strict=False):
            if not number:
                continue
            height = (_HEIGHT - 10) * number / highest
            canvas.setFillColor(_INDIGO)
            canvas.rect(x(low) + 0.7, _FOOT, x(high) - x(low) - 1.4, height, stroke=0, fill=1)
            middle, above = (x(low) + x(high)) / 2, _FOOT + height + 2.5
            canvas.setFillColor(_WHITE)
            canvas.rect(middle - 6, above - 1.5, 12, _PT, stroke=0, fill=1)
            canvas.setFillColor(_INK)
            canvas.setFont(REGULAR, _PT)
            canvas.drawCentredString(middle, above, str(number))
        self._draw_axis(canvas, [(x(mark.at), mark.words) for mark in told.marks])
        canvas.restoreState()

    def _draw_axis(self, canvas: Canvas, marks: list[tuple[float, str]]) -> None:
        canvas.setStrokeColor(_EDGE)
        canvas.setLineWidth(0.7)
        canvas.line(_LEFT, _FOOT, self._right, _FOOT)
        canvas.setFillColor(_SECOND_INK)
        canvas.setFont(REGULAR, _PT)
        for at, words in marks:
            canvas.line(at, _FOOT, at, _FOOT - 3)
            canvas.drawCentredString(at, _FOOT - 11.5, printable(words))

    def _draw_plan(self, canvas: Canvas, at: float) -> None:
        """A dashed line at the planned mass, its words beside its upper end."""
        words = printable(self._histogram.planned_words)
        canvas.setStrokeColor(_INK)
        canvas.setDash([3, 2])
        canvas.line(at, _FOOT, at, _FOOT + _HEIGHT + 8)
        canvas.setDash()
        canvas.setFillColor(_SECOND_INK)
        canvas.setFont(REGULAR, _PT)
        canvas.drawString(at + 3, _FOOT + _HEIGHT + 2, words)
