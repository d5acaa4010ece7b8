"""The core-temperature plot of the record, in the look of the screen's own plot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from packdesk.paper.fonts import REGULAR, SEMIBOLD, printable, text_width
from packdesk.paper.page_sizes import MM
from packdesk.present.outlines import AxisMark, CorePlot

_INK, _SECOND_INK, _RULE = HexColor("#1A2040"), HexColor("#3D425E"), HexColor("#D2CBBA")
_EDGE = HexColor("#7A7464")
_COLD, _HAZE = HexColor("#17648B"), HexColor("#C4DCE6")
_DEW, _INDIGO, _WHITE = HexColor("#704400"), HexColor("#2B3985"), HexColor("#FFFFFF")

_PT = 8.5
_ROW = 11.0
_LEFT = 13 * MM
_HEIGHT = 47 * MM
_FOOT = 15.0
_TOP = 2 * _ROW + 3
_BELOW = 9.0
_PADDING_C = 1.5
_HOLD_PT = 5.0
_HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class _Scale:
    """Maps hours since the first point and °C into points of the page."""

    width: float
    hours: float
    low_c: float
    high_c: float

    def x(self, hour: float) -> float:
        return _LEFT + (self.width - _LEFT) * hour / self.hours

    def y(self, temp_c: float) -> float:
        return _FOOT + _HEIGHT * (temp_c - self.low_c) / (self.high_c - self.low_c)


class RecordPlot(Flowable):
    """Draws a `CorePlot` over the width it is given; `room_pt` is how high it stands."""

    room_pt = _FOOT + _HEIGHT + _TOP + _BELOW

    def __init__(self, plot: CorePlot) -> None:
        super().__init__()
        self._plot = plot

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Take the whole width."""
        self.width, self.height = available_width, self.room_pt
        return self.width, self.height

    def draw(self) -> None:
        """Draw the axes, then what was reckoned, then what was read and done."""
        curve = self._plot.curve
        temps = [temp for point in curve.points for temp in (point.low_c, point.high_c)]
        temps += [curve.threshold_c, *(temp for _, temp in curve.readings)]
        temps += [curve.dew_point_c] if curve.dew_point_c is not None else []
        temps += [step.temp_c for step in curve.air]
        scale = _Scale(
            self.width,
            max(self._hour(curve.points[-1].at), 1.0),
            min(temps) - _PADDING_C,
            max(temps) + _PADDING_C,
        )
        canvas: Canvas = self.canv
        canvas.saveState()
        canvas.translate(0, _BELOW)
        self._draw_axes(canvas, scale)
        self._draw_band(canvas, scale)
        self._draw_threshold(canvas, scale)
        self._draw_dew_point(canvas, scale)
        self._draw_air(canvas, scale)
        self._draw_surface(canvas, scale)
        self._write_threshold(canvas, scale)
        self._draw_core(canvas, scale)
        self._draw_cold_done(canvas, scale)
        self._draw_events(canvas, scale)
        self._draw_readings(canvas, scale)
        canvas.restoreState()

    def _hour(self, at: datetime) -> float:
        return (at - self._plot.curve.points[0].at) / _HOUR

    def _draw_axes(self, canvas: Canvas, scale: _Scale) -> None:
        canvas.setLineWidth(0.5)
        for mark in self._plot.temperatures:
            y = scale.y(mark.at)
            canvas.setStrokeColor(_RULE)
            canvas.line(_LEFT, y, scale.width, y)
            _write(canvas, mark.words, _LEFT - 4, y - 3, _SECOND_INK, right=True)
        canvas.setStrokeColor(_SECOND_INK)
        canvas.line(_LEFT, _FOOT, scale.width, _FOOT)
        ends = [scale.x(mark.at) for mark in self._plot.days[1:]] + [scale.width]
        for mark, end in zip(self._plot.days, ends, strict=True):
            start = scale.x(mark.at)
            if mark.at:
                canvas.line(start, _FOOT, start, _FOOT - 4)
            width = text_width(printable(mark.words), REGULAR) * _PT
            if width + 3 <= end - start:
                middle = (start + end - width) / 2
                _write(canvas, mark.words, middle, _FOOT - _ROW, _SECOND_INK)

    def _draw_band(self, canvas: Canvas, scale: _Scale) -> None:
        points = self._plot.curve.points
        edge = [(scale.x(self._hour(point.at)), scale.y(point.high_c)) for point in points]
        edge += [(scale.x(self._hour(point.at)), scale.y(point.low_c)) for point in points[::-1]]
        path = canvas.beginPath()
        path.moveTo(*edge[0])
        for corner in edge[1:]:
            path.lineTo(*corner)
        path.close()
        canvas.setFillColor(_HAZE)
        canvas.drawPath(path, stroke=0, fill=1)

    def _draw_threshold(self, canvas: Canvas, scale: _Scale) -> None:
        """The treatment temperature, the hold hanging from it, twin seam where it ended."""
        curve = self._plot.curve
        y = scale.y(curve.threshold_c)
        canvas.setStrokeColor(_COLD)
        canvas.setLineWidth(1.0)
        canvas.setDash([5, 3])
        canvas.line(_LEFT, y, scale.width, y)
        canvas.setDash()
        if curve.hold is not None:
            start, end = (scale.x(self._hour(at)) for at in curve.hold)
            now = min(max(scale.x(self._hour(curve.now)), start), end)
            canvas.setFillColor(_INDIGO)
            canvas.rect(start, y - _HOLD_PT, now - start, _HOLD_PT, stroke=0, fill=1)
            canvas.setStrokeColor(_INDIGO)
            canvas.rect(now, y - _HOLD_PT, end - now, _HOLD_PT, stroke=1, fill=0)
            _draw_seam(canvas, end, y - _HOLD_PT - 3, y + 3)

    def _draw_cold_done(self, canvas: Canvas, scale: _Scale) -> None:
        """Where the dose is complete on the likely line, if no hold leads up to it."""
        at = self._plot.curve.cold_done
        after = next((point for point in self._plot.curve.points if at and point.at >= at), None)
        if at is not None and after is not None:
            y = scale.y(after.likely_c)
            _draw_seam(canvas, scale.x(self._hour(at)), y - _HOLD_PT, y + _HOLD_PT)

    def _write_threshold(self, canvas: Canvas, scale: _Scale) -> None:
        """The words of the hold, over the lines that run there."""
        curve = self._plot.curve
        start = scale.x(self._hour(curve.hold[0])) if curve.hold is not None else _LEFT
        foot = scale.y(curve.threshold_c) + 4
        left = self._threshold_words_from(scale, start, foot)
        _write(canvas, curve.threshold_words, left, foot, _COLD, face=SEMIBOLD)

    def _threshold_words_from(self, scale: _Scale, start: float, foot: float) -> float:
        """Where the words of the hold begin: over it, before the next event; else left of it.

        There they end where the falling core is still above them.
        """
        width = text_width(printable(self._plot.curve.threshold_words), SEMIBOLD) * _PT
        events = (scale.x(mark.at) for mark in self._plot.events)
        room = min((x for x in events if x > start), default=scale.width)
        above = [
            x
            for point in self._plot.curve.points
            if (x := scale.x(self._hour(point.at))) < start
            and scale.y(point.low_c) > foot + _PT + 4
        ]
        if start + 6 + width > room and above and max(above) - width > _LEFT:
            return max(above) - width
        return max(min(start + 6, scale.width - width), _LEFT)

    def _draw_dew_point(self, canvas: Canvas, scale: _Scale) -> None:
        """The room's dew point, from when the load was out in the room."""
        curve, events = self._plot.curve, self._plot.events
        if curve.dew_point_c is None:
            return
        y, start = scale.y(curve.dew_point_c), scale.x(events[0].at if events else 0.0)
        canvas.setStrokeColor(_DEW)
        canvas.setLineWidth(1.0)
        canvas.setDash([7, 3, 2, 3])
        canvas.line(start, y, scale.width, y)
        canvas.setDash()
        _write(canvas, curve.dew_words, start - 4, y - 3, _DEW, face=SEMIBOLD, right=True)

    def _draw_air(self, canvas: Canvas, scale: _Scale) -> None:
        """What was round the load, as steps."""
        curve = self._plot.curve
        if not curve.air:
            return
        ends = [*(step.at for step in curve.air[1:]), curve.points[-1].at]
        corners = [
            (scale.x(self._hour(at)), scale.y(step.temp_c))
            for step, end in zip(curve.air, ends, strict=True)
            for at in (step.at, end)
        ]
        _trace(canvas, corners, _EDGE, 0.6, [])

    def _draw_surface(self, canvas: Canvas, scale: _Scale) -> None:
        """The food at the wall, thin and dotted."""
        corners = [
            (scale.x(self._hour(point.at)), scale.y(point.surface_c))
            for point in self._plot.curve.points
            if point.surface_c is not None
        ]
        _trace(canvas, corners, _SECOND_INK, 0.7, [1.4, 1.4])

    def _draw_core(self, canvas: Canvas, scale: _Scale) -> None:
        """The likely core: solid as far as it is past, dotted beyond."""
        curve = self._plot.curve
        for past in (True, False):
            points = [point for point in curve.points if past == (point.at <= curve.now)]
            if not past and len(points) < len(curve.points):
                points = [curve.points[len(curve.points) - len(points) - 1], *points]
            if len(points) < 2:
                continue
            path = canvas.beginPath()
            path.moveTo(scale.x(self._hour(points[0].at)), scale.y(points[0].likely_c))
            for point in points[1:]:
                path.lineTo(scale.x(self._hour(point.at)), scale.y(point.likely_c))
            canvas.setStrokeColor(_COLD)
            canvas.setLineWidth(1.6)
            canvas.setLineJoin(1)
            canvas.setDash([] if past else [1.6, 1.6])
            canvas.drawPath(path, stroke=1, fill=0)
        canvas.setDash()

    def _draw_events(self, canvas: Canvas, scale: _Scale) -> None:
        """What was done, each under its own words; “now” where the record is still being made."""
        marks = list(self._plot.events)
        curve = self._plot.curve
        if curve.now < curve.points[-1].at:
            marks.append(AxisMark(self._hour(curve.now), curve.now_words))
        cold = curve.hold[1] if curve.hold is not None else curve.cold_done
        if curve.hold_words and cold is not None:
            marks.append(AxisMark(self._hour(cold), curve.hold_words))
        if curve.lid_off is not None:
            middle = curve.lid_off[0] + (curve.lid_off[1] - curve.lid_off[0]) / 2
            marks.append(AxisMark(self._hour(middle), curve.lid_words))
        top = _FOOT + _HEIGHT
        taken = [-1.0, -1.0]
        for mark in sorted(marks, key=lambda mark: mark.at):
            width = text_width(printable(mark.words), SEMIBOLD) * _PT
            x = scale.x(mark.at)
            left = max(min(x - width / 2, scale.width - width), _LEFT)
            row = 0 if left > taken[0] else 1
            taken[row] = left + width + 6
            canvas.setStrokeColor(_INK)
            canvas.setLineWidth(0.7)
            canvas.line(x, _FOOT, x, top + row * _ROW + 1)
            _write(canvas, mark.words, left, top + row * _ROW + 4, _INK, face=SEMIBOLD)

    def _draw_readings(self, canvas: Canvas, scale: _Scale) -> None:
        canvas.setStrokeColor(_INK)
        canvas.setFillColor(_WHITE)
        canvas.setLineWidth(1.4)
        for at, temp_c in self._plot.curve.readings:
            canvas.circle(scale.x(self._hour(at)), scale.y(temp_c), 2.6, stroke=1, fill=1)


def _trace(
    canvas: Canvas,
    corners: Sequence[tuple[float, float]],
    color: Color,
    width: float,
    dashes: Sequence[float],
) -> None:
    """A line through all corners."""
    if len(corners) < 2:
        return
    path = canvas.beginPath()
    path.moveTo(*corners[0])
    for corner in corners[1:]:
        path.lineTo(*corner)
    canvas.setStrokeColor(color)
    canvas.setLineWidth(width)
    canvas.setDash(list(dashes))
    canvas.drawPath(path, stroke=1, fill=0)
    canvas.setDash()


def _draw_seam(canvas: Canvas, x: float, bottom: float, top: float) -> None:
    """The twin seam: two parallel lines where something was met."""
    canvas.setFillColor(_WHITE)
    canvas.rect(x - 3.2, bottom, 6.4, top - bottom, stroke=0, fill=1)
    canvas.setStrokeColor(_INDIGO)
    canvas.setLineWidth(1.1)
    for shift in (-1.4, 1.4):
        canvas.line(x + shift, bottom, x + shift, top)


def _write(
    canvas: Canvas,
    words: str,
    x: float,
    y: float,
    color: Color,
    *,
    face: str = REGULAR,
    right: bool = False,
) -> None:
    """Write on a patch of white, so that no line runs through the words."""
    text = printable(words)
    width = text_width(text, face) * _PT
    left = x - width if right else x
    canvas.setFillColor(_WHITE)
    canvas.rect(left - 2, y - 2.2, width + 4, _PT + 1.4, stroke=0, fill=1)
    canvas.setFillColor(color)
    canvas.setFont(face, _PT)
    canvas.drawString(left, y, text)


def plot_words(plots: Sequence[CorePlot]) -> list[str]:
    """Every text that stands in `plots`, to be looked over for what the face lacks."""
    return [
        words
        for plot in plots
        for words in (
            plot.curve.threshold_words, plot.curve.hold_words, plot.curve.dew_words,
            plot.curve.lid_words, plot.curve.now_words,
            *(mark.words for mark in (*plot.temperatures, *plot.days, *plot.events)),
        )
    ]  # fmt: skip
