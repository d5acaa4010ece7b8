"""The core-temperature plot: past solid, future dotted, its band, and words on the thing itself."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import CoreCurve
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, draw_right, wrapped
from packdesk.ui.widgets.plot_scale import (
    PlotScale,
    axis,
    lid_point,
    likely_line,
    scale_for,
    time_ticks,
)
from packdesk.ui.widgets.plot_words import HOLD_BAR, PlotWords, dew_start
from packdesk.ui.widgets.strokes import draw_wedge
from packdesk.ui.widgets.themed import Themed

LEAST_HEIGHT = 150
NO_CURVE = "Type two core readings and the curve follows them."
EMPTY_LOW_C, EMPTY_HIGH_C = -22, 24


class CorePlot(Themed):
    """Draws a `CoreCurve`; the same in words is its accessible description.

    The plot has no frame and no legend: words stand beside what they name, on a patch of the
    ground, and move aside for each other and for the curve. Words that find no free place, in a
    very low plot, are left to the tooltip.
    """

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, *, ground: str = "sheet"
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._curve: CoreCurve | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.show_curve(None)

    @property
    def curve(self) -> CoreCurve | None:
        """What is shown."""
        return self._curve

    def show_curve(self, curve: CoreCurve | None) -> None:
        """Show a curve; without one the axis stands and says what brings a curve."""
        self._curve = curve
        self.setAccessibleName("Core temperature")
        self.setAccessibleDescription(curve_in_words(curve))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(742), self.theme.whole(290))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(320), self.theme.whole(LEAST_HEIGHT))

    def draw(self, painter: QPainter) -> None:
        if self._curve is None or len(self._curve.points) < 2:
            self._draw_empty(painter)
            return
        scale = scale_for(self._curve, self._area())
        self._draw_grid(painter, scale)
        self._draw_days(painter, scale)
        self._draw_band(painter, scale)
        self._draw_threshold(painter, scale)
        self._draw_dew_line(painter, scale)
        self._draw_hold(painter, scale)
        self._draw_core(painter, scale)
        self._draw_readings(painter, scale)
        self._draw_lid_gate(painter, scale)
        self._draw_now_line(painter, scale)
        words = PlotWords(painter, theme=self.theme, ground=self.ground_role, scale=scale)
        tip = "\n".join(words.write(self._curve))
        if tip != self.toolTip():
            self.setToolTip(tip)

    def _area(self) -> QRectF:
        theme = self.theme
        left = theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance("−20 °C") + theme.px(8)
        foot = theme.line(Role.NOTE) + theme.px(10)
        top = theme.px(12)
        return QRectF(left, top, self.width() - left, self.height() - foot - top)

    def _draw_empty(self, painter: QPainter) -> None:
        theme = self.theme
        area = self._area()
        moment = datetime.min
        scale = PlotScale(area, moment, datetime.max, EMPTY_LOW_C, EMPTY_HIGH_C)
        self._draw_grid(painter, scale)
        lines = wrapped(NO_CURVE, theme.metrics(Role.BODY), area.width() * 0.8)
        step = theme.line(Role.BODY)
        top = scale.y(5) - step * len(lines) / 2
        for line in lines:
            width = theme.metrics(Role.BODY).horizontalAdvance(line)
            at = QPointF(area.center().x() - width / 2, top)
            patch = QRectF(at.x(), at.y(), width, step)
            painter.fillRect(patch, theme.color(self.ground_role))
            top = draw_lines(painter, [line], at, step, theme.font(Role.BODY), theme.color("ink"))

    def _draw_grid(self, painter: QPainter, scale: PlotScale) -> None:
        theme = self.theme
        fahrenheit = self._curve is not None and self._curve.fahrenheit
        note, step = theme.font(Role.NOTE, Weight.REGULAR), theme.line(Role.NOTE)
        figures = scale.area.left() - theme.px(10)
        for temp_c, words in axis(scale.low_c, scale.high_c, fahrenheit=fahrenheit):
            y = round(scale.y(temp_c)) + 0.5
            painter.setPen(QPen(theme.color("rule"), 1.2))
            painter.drawLine(QLineF(scale.area.left(), y, scale.area.right(), y))
            draw_right(painter, words, figures, y - step / 2, step, note, theme.color("ink2"))
        painter.setPen(QPen(theme.color("edge"), theme.px(1.5)))
        foot = scale.area.bottom()
        painter.drawLine(QLineF(scale.area.left(), foot, scale.area.right(), foot))

    def _draw_days(self, painter: QPainter, scale: PlotScale) -> None:
        theme, curve = self.theme, self._curve
        note, step = theme.font(Role.NOTE, Weight.REGULAR), theme.line(Role.NOTE)
        metrics = theme.metrics(Role.NOTE, Weight.REGULAR)
        foot, used = scale.area.bottom(), -1e9
        for tick in time_ticks(scale.start, scale.end, curve.utc_offset_min):
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

    def _draw_band(self, painter: QPainter, scale: PlotScale) -> None:
        points = self._curve.points
        upper = [QPointF(scale.x(point.at), scale.y(point.high_c)) for point in points]
        lower = [QPointF(scale.x(point.at), scale.y(point.low_c)) for point in points]
        path = QPainterPath()
        path.addPolygon(QPolygonF(upper + lower[::-1]))
        path.closeSubpath()
        painter.fillPath(path, self.theme.color("coldhaze"))

    def _draw_core(self, painter: QPainter, scale: PlotScale) -> None:
        """The likely line: solid up to now, dotted after."""
        theme = self.theme
        now = scale.x(self._curve.now)
        path = QPainterPath()
        path.addPolygon(QPolygonF(likely_line(self._curve, scale)))
        for left, right, dotted in ((-1.0, now, False), (now, float(self.width()), True)):
            pen = QPen(theme.color("cold"), theme.px(3.0 if dotted else 3.2))
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            if dotted:
                pen.setDashPattern([1.0, 1.0])
            painter.save()
            painter.setClipRect(QRectF(left, 0, max(right - left, 0.0), self.height()))
            painter.strokePath(path, pen)
            painter.restore()

    def _draw_threshold(self, painter: QPainter, scale: PlotScale) -> None:
        theme = self.theme
        if not self._curve.threshold_words:
            return
        pen = QPen(theme.color("cold"), theme.px(2))
        pen.setDashPattern([5.0, 3.0])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        y = scale.y(self._curve.threshold_c)
        painter.drawLine(QLineF(scale.area.left(), y, scale.area.right(), y))

    def _draw_dew_line(self, painter: QPainter, scale: PlotScale) -> None:
        curve, theme = self._curve, self.theme
        if curve.dew_point_c is None:
            return
        left, y = dew_start(curve, scale, theme), scale.y(curve.dew_point_c)
        pen = QPen(theme.color("wheatink"), theme.px(2))
        pen.setDashPattern([7.0, 3.0, 2.0, 3.0])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawLine(QLineF(left, y, scale.area.right(), y))

    def _draw_hold(self, painter: QPainter, scale: PlotScale) -> None:
        """The hold hangs from the threshold: solid so far, outline to come, seam where met."""
        curve, theme = self._curve, self.theme
        if curve.hold is None:
            return
        start, end = (scale.x(at) for at in curve.hold)
        now = min(max(scale.x(curve.now), start), end)
        top, height = scale.y(curve.threshold_c), theme.px(HOLD_BAR)
        indigo = theme.color("indigo")
        painter.fillRect(QRectF(start, top, now - start, height), indigo)
        if now < end:
            painter.setPen(QPen(indigo, theme.px(1.5)))
            painter.setBrush(theme.color(self.ground_role))
            painter.drawRect(QRectF(now, top, end - now, height))
        self._gate(painter, end, top - theme.px(6), top + height + theme.px(6))

    def _gate(self, painter: QPainter, x: float, top: float, bottom: float) -> None:
        theme = self.theme
        width, apart = theme.px(2.2), theme.px(5)
        back = QRectF(x - apart / 2 - width, top, apart + 2 * width, bottom - top)
        painter.fillRect(back, theme.color(self.ground_role))
        for shift in (-apart / 2, apart / 2):
            bar = QRectF(x + shift - width / 2, top, width, bottom - top)
            painter.fillRect(bar, theme.color("indigo"))

    def _draw_readings(self, painter: QPainter, scale: PlotScale) -> None:
        theme = self.theme
        radius = theme.px(4.5)
        for at, temp_c in self._curve.readings:
            painter.setPen(QPen(theme.color("ink"), theme.px(3)))
            painter.setBrush(theme.color(self.ground_role))
            painter.drawEllipse(QPointF(scale.x(at), scale.y(temp_c)), radius, radius)

    def _draw_lid_gate(self, painter: QPainter, scale: PlotScale) -> None:
        point = lid_point(self._curve, scale)
        if point is not None:
            reach = self.theme.px(9)
            self._gate(painter, point.x(), point.y() - reach, point.y() + reach)

    def _draw_now_line(self, painter: QPainter, scale: PlotScale) -> None:
        theme = self.theme
        x, ink = scale.x(self._curve.now), theme.color("ink")
        top = scale.area.top() - theme.px(4)
        width = theme.px(2.4)
        painter.fillRect(QRectF(x - width / 2, top, width, scale.area.bottom() - top), ink)
        wedge = QPointF(x, top + theme.px(1))
        draw_wedge(painter, wedge, theme.px(14), -theme.px(10), ink)


def curve_in_words(curve: CoreCurve | None) -> str:
    """All that the plot says, as sentences for whoever cannot see it."""
    if curve is None or len(curve.points) < 2:
        return NO_CURVE
    readings = len(curve.readings)
    counted = f"{readings} reading{'' if readings == 1 else 's'}" if readings else "no reading yet"
    parts = (
        curve.now_words,
        curve.now_range,
        curve.threshold_words,
        curve.dew_words,
        curve.lid_words,
        counted,
    )
    return ". ".join(part for part in parts if part) + "."
