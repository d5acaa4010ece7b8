"""What the core plot shows besides lines and words: hairlines, days, the hold, gates, now."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainter, QPen

from packdesk.instants import Offset
from packdesk.present.curves import CoreCurve
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, draw_right
from packdesk.ui.widgets.plot_scale import PlotScale, axis, cold_point, lid_point, time_ticks
from packdesk.ui.widgets.plot_words import GATE_REACH, HOLD_BAR
from packdesk.ui.widgets.strokes import draw_wedge


class PlotMarks:
    """Draws the marks of one picture with a painter in px of the plot."""

    def __init__(self, painter: QPainter, *, theme: Theme, ground: str, scale: PlotScale) -> None:
        self._painter = painter
        self._theme = theme
        self._ground = ground
        self._scale = scale

    def draw_grid(self, *, fahrenheit: bool) -> None:
        """At most five hairlines with their figures at the left, and the foot."""
        theme, painter, area = self._theme, self._painter, self._scale.area
        note, step = theme.font(Role.NOTE, Weight.REGULAR), theme.line(Role.NOTE)
        figures = area.left() - theme.px(10)
        for temp_c, words in axis(self._scale.low_c, self._scale.high_c, fahrenheit=fahrenheit):
            y = round(self._scale.y(temp_c)) + 0.5
            painter.setPen(QPen(theme.color("rule"), 1.2))
            painter.drawLine(QLineF(area.left(), y, area.right(), y))
            draw_right(painter, words, figures, y - step / 2, step, note, theme.color("ink2"))
        painter.setPen(QPen(theme.color("edge"), theme.px(1.5)))
        painter.drawLine(QLineF(area.left(), area.bottom(), area.right(), area.bottom()))

    def draw_days(self, offset: Offset) -> None:
        """Ticks at midnight with the day between them, or at round hours."""
        theme, painter, scale = self._theme, self._painter, self._scale
        note, step = theme.font(Role.NOTE, Weight.REGULAR), theme.line(Role.NOTE)
        metrics = theme.metrics(Role.NOTE, Weight.REGULAR)
        foot, used = scale.area.bottom(), -1e9
        for tick in time_ticks(scale.start, scale.end, offset):
            if scale.start < tick.at < scale.end:
                x = scale.x(tick.at)
                painter.setPen(QPen(theme.color("edge"), theme.px(1.5)))
                painter.drawLine(QLineF(x, foot, x, foot + theme.px(8)))
            width = metrics.horizontalAdvance(tick.words)
            start, end = scale.x(tick.words_from), scale.x(tick.words_to)
            left = (start + end - width) / 2
            left = min(max(left, scale.area.left()), scale.area.right() - width)
            fits_span = tick.words_from == tick.words_to or end - start >= width
            if fits_span and left > used + theme.px(8):
                at = QPointF(left, foot + theme.px(7))
                draw_lines(painter, [tick.words], at, step, note, theme.color("ink2"))
                used = left + width

    def draw_hold(self, curve: CoreCurve) -> None:
        """The hold hangs from the threshold: solid so far, outline to come, seam where met."""
        theme, painter, scale = self._theme, self._painter, self._scale
        if curve.hold is None:
            return
        start, end = (max(scale.x(at), scale.area.left()) for at in curve.hold)
        if end == scale.area.left():  # over before what is shown
            return
        now = min(max(scale.x(curve.now), start), end)
        top, height = scale.y(curve.threshold_c), theme.px(HOLD_BAR)
        indigo = theme.color("indigo")
        painter.fillRect(QRectF(start, top, now - start, height), indigo)
        if now < end:
            painter.setPen(QPen(indigo, theme.px(1.5)))
            painter.setBrush(theme.color(self._ground))
            painter.drawRect(QRectF(now, top, end - now, height))
        self._gate(end, top - theme.px(6), top + height + theme.px(6))

    def draw_gates(self, curve: CoreCurve) -> None:
        """The twin seam on the core line where the dose is complete or the lid may come off."""
        reach = self._theme.px(GATE_REACH)
        for point in (cold_point(curve, self._scale), lid_point(curve, self._scale)):
            if point is None:
                continue
            self._gate(point.x(), point.y() - reach, point.y() + reach)

    def draw_opened(self, curve: CoreCurve) -> None:
        """A line where the lid came off: beyond it the food lies open, whatever is reckoned."""
        if curve.opened is None or curve.opened < self._scale.start:
            return
        theme, area, x = self._theme, self._scale.area, self._scale.x(curve.opened)
        self._painter.setPen(QPen(theme.color("indigo"), theme.px(1.5)))
        self._painter.drawLine(QLineF(x, area.top(), x, area.bottom()))

    def draw_now(self, curve: CoreCurve) -> None:
        """The line of this moment under its wedge."""
        theme, scale = self._theme, self._scale
        x, ink = scale.x(curve.now), theme.color("ink")
        top, width = scale.area.top() - theme.px(4), theme.px(2.4)
        line = QRectF(x - width / 2, top, width, scale.area.bottom() - top)
        self._painter.fillRect(line, ink)
        draw_wedge(self._painter, QPointF(x, top + theme.px(1)), theme.px(14), -theme.px(10), ink)

    def _gate(self, x: float, top: float, bottom: float) -> None:
        theme, painter = self._theme, self._painter
        width, apart = theme.px(2.2), theme.px(5)
        back = QRectF(x - apart / 2 - width, top, apart + 2 * width, bottom - top)
        painter.fillRect(back, theme.color(self._ground))
        for shift in (-apart / 2, apart / 2):
            bar = QRectF(x + shift - width / 2, top, width, bottom - top)
            painter.fillRect(bar, theme.color("indigo"))
