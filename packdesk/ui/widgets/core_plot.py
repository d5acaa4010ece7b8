"""The core-temperature plot: past solid, future dotted, its band, and words on the thing itself."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import CoreCurve
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, draw_right, wrapped
from packdesk.ui.widgets.plot_scale import (
    PlotScale,
    figure_words,
    likely_at,
    lines_c,
    scale_for,
    time_ticks,
)
from packdesk.ui.widgets.strokes import draw_wedge
from packdesk.ui.widgets.themed import Themed

LEAST_HEIGHT = 150
NO_CURVE = "Type two core readings and the curve follows them."
EMPTY_LOW_C, EMPTY_HIGH_C = -22, 24
HOLD_BAR = 9.0


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
        self._taken: list[QRectF] = []
        self._line: list[QPointF] = []
        self._unwritten: list[str] = []
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
        self._line = [
            QPointF(scale.x(point.at), scale.y(point.likely_c)) for point in self._curve.points
        ]
        self._taken = [
            QRectF(scale.x(at) - 7, scale.y(temp_c) - 7, 14, 14)
            for at, temp_c in self._curve.readings
        ]
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
        self._write_all(painter, scale)

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
            self._patch(painter, QRectF(at.x(), at.y(), width, step))
            top = draw_lines(painter, [line], at, step, theme.font(Role.BODY), theme.color("ink"))

    def _draw_grid(self, painter: QPainter, scale: PlotScale) -> None:
        theme = self.theme
        lines = lines_c(scale.low_c, scale.high_c)
        note, step = theme.font(Role.NOTE, Weight.REGULAR), theme.line(Role.NOTE)
        figures = scale.area.left() - theme.px(10)
        for temp_c in lines:
            y = round(scale.y(temp_c)) + 0.5
            painter.setPen(QPen(theme.color("rule"), 1.2))
            painter.drawLine(QLineF(scale.area.left(), y, scale.area.right(), y))
            words = figure_words(temp_c, unit=temp_c == lines[-1])
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
        path.addPolygon(QPolygonF(self._line))
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
        left, y = self._dew_start(scale), scale.y(curve.dew_point_c)
        pen = QPen(theme.color("wheatink"), theme.px(2))
        pen.setDashPattern([7.0, 3.0, 2.0, 3.0])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawLine(QLineF(left, y, scale.area.right(), y))

    def _dew_start(self, scale: PlotScale) -> float:
        """The left end of the dew-point line, with room for its name before it."""
        theme, curve = self.theme, self._curve
        width = theme.metrics(Role.NOTE, Weight.SEMIBOLD).horizontalAdvance(curve.dew_words)
        first = scale.area.left() + width + theme.px(18)
        if curve.lid_off is None:
            return first
        return max(first, scale.x(curve.lid_off[0]) - theme.px(100))

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

    def _lid_point(self, scale: PlotScale) -> QPointF | None:
        curve = self._curve
        if curve.lid_off is None:
            return None
        middle = curve.lid_off[0] + (curve.lid_off[1] - curve.lid_off[0]) / 2
        temp_c = likely_at(curve, middle)
        return None if temp_c is None else QPointF(scale.x(middle), scale.y(temp_c))

    def _draw_lid_gate(self, painter: QPainter, scale: PlotScale) -> None:
        point = self._lid_point(scale)
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

    def _write_all(self, painter: QPainter, scale: PlotScale) -> None:
        """Write the words, the most needed first; each keeps clear of those before it."""
        self._unwritten = []
        self._write_now(painter, scale)
        self._write_dew(painter, scale)
        self._write_threshold(painter, scale)
        self._write_lid(painter, scale)
        tip = "\n".join(self._unwritten)
        if tip != self.toolTip():
            self.setToolTip(tip)

    def _write_now(self, painter: QPainter, scale: PlotScale) -> None:
        theme, curve = self.theme, self._curve
        step, note_step = theme.line(Role.BODY), theme.line(Role.NOTE)
        wide = max(
            theme.metrics(Role.BODY).horizontalAdvance(curve.now_words),
            theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance(curve.now_range),
        )
        size = QSize(round(wide) + 1, step + (note_step if curve.now_range else 0))
        x, gap = scale.x(curve.now), theme.px(12)
        right = x + gap
        left = x - gap - wide
        tops = [scale.area.top(), scale.area.center().y() - size.height() / 2]
        tops.append(scale.area.bottom() - size.height() - theme.px(6))
        places = [QPointF(edge, top) for top in tops for edge in (right, left)]
        box = self._place(places, size) or QRectF(places[0], size)
        self._patch(painter, box)
        ink = theme.color("ink")
        end = draw_lines(
            painter, [curve.now_words], box.topLeft(), step, theme.font(Role.BODY), ink
        )
        if curve.now_range:
            note = theme.font(Role.NOTE, Weight.REGULAR)
            at = QPointF(box.left(), end)
            draw_lines(painter, [curve.now_range], at, note_step, note, theme.color("ink2"))

    def _write_threshold(self, painter: QPainter, scale: PlotScale) -> None:
        curve, theme = self._curve, self.theme
        y, step = scale.y(curve.threshold_c), theme.line(Role.NOTE)
        over, under = y - step - theme.px(4), y + theme.px(HOLD_BAR + 8)
        now = scale.x(curve.now) + theme.px(12)
        if not curve.threshold_words:
            return
        size = self._note_size(curve.threshold_words)
        places = [QPointF(now, over), QPointF(now - size.width() - theme.px(24), over)]
        places += [QPointF(scale.area.right() - size.width(), over), QPointF(now, under)]
        places += [QPointF(scale.area.left() + theme.px(8), over)]
        if curve.hold is not None:
            middle = (scale.x(curve.hold[0]) + scale.x(curve.hold[1]) - size.width()) / 2
            places.append(QPointF(middle, over))
        self._write(painter, curve.threshold_words, places, "indigo")

    def _write_dew(self, painter: QPainter, scale: PlotScale) -> None:
        curve, theme = self._curve, self.theme
        if curve.dew_point_c is None or not curve.dew_words:
            return
        size = self._note_size(curve.dew_words)
        left = self._dew_start(scale) - size.width() - theme.px(8)
        y = scale.y(curve.dew_point_c)
        step = theme.line(Role.NOTE)
        right = scale.area.right() - size.width()
        places = [QPointF(left, y - step / 2), QPointF(left, y - step - theme.px(2))]
        places += [QPointF(right, y - step - theme.px(3)), QPointF(right, y + theme.px(3))]
        self._write(painter, curve.dew_words, places, "wheatink")

    def _write_lid(self, painter: QPainter, scale: PlotScale) -> None:
        point = self._lid_point(scale)
        if point is None or not self._curve.lid_words:
            return
        theme = self.theme
        size, step = self._note_size(self._curve.lid_words), theme.line(Role.NOTE)
        left = point.x() - theme.px(16) - size.width()
        places = [
            QPointF(left, point.y() - step - theme.px(16)),
            QPointF(left, point.y() - step / 2),
            QPointF(point.x() - size.width() / 2, point.y() - step - theme.px(30)),
            QPointF(left, point.y() - step - theme.px(44)),
            QPointF(left, point.y() + theme.px(14)),
            QPointF(left - theme.px(60), point.y() + theme.px(14)),
            QPointF(point.x() + theme.px(16), point.y() + theme.px(14)),
            QPointF(point.x() + theme.px(16), point.y() + theme.px(40)),
        ]
        box = self._write(painter, self._curve.lid_words, places, "indigo")
        if box is None or box.left() < point.x() < box.right():
            return
        painter.setPen(QPen(theme.color("indigo"), theme.px(1.5)))
        edge = box.right() if box.right() < point.x() else box.left()
        side = theme.px(4) if edge == box.right() else -theme.px(4)
        start = QPointF(edge + side, box.center().y())
        painter.drawLine(QLineF(start, QPointF(point.x() - side, point.y() - theme.px(5))))

    def _write(
        self, painter: QPainter, words: str, places: list[QPointF], role: str
    ) -> QRectF | None:
        theme = self.theme
        box = self._place(places, self._note_size(words))
        if box is None:
            self._unwritten.append(words)
            return None
        self._patch(painter, box)
        font, step = theme.font(Role.NOTE, Weight.SEMIBOLD), theme.line(Role.NOTE)
        draw_lines(painter, [words], box.topLeft(), step, font, theme.color(role))
        return box

    def _note_size(self, words: str) -> QSize:
        width = self.theme.metrics(Role.NOTE, Weight.SEMIBOLD).horizontalAdvance(words)
        return QSize(round(width) + 1, self.theme.line(Role.NOTE))

    def _place(self, places: list[QPointF], size: QSize) -> QRectF | None:
        """The place where words touch the curve least; None if other words are in all of them."""
        area = self._area()
        best: tuple[float, QRectF] | None = None
        for at in places:
            x = min(max(at.x(), area.left()), area.right() - size.width())
            y = min(max(at.y(), 0.0), area.bottom() - size.height())
            box = QRectF(x, y, size.width(), size.height())
            if any(box.intersects(other) for other in self._taken):
                continue
            cost = 1.0 * sum(box.contains(point) for point in self._line)
            cost += 0.5 * (box.topLeft() != at)
            if best is None or cost < best[0]:
                best = (cost, box)
        if best is None:
            return None
        self._taken.append(best[1])
        return best[1]

    def _patch(self, painter: QPainter, box: QRectF) -> None:
        """A patch of the ground behind words, so that no line runs through them."""
        pad = self.theme.px(3)
        painter.fillRect(box.adjusted(-pad, 0, pad, 0), QColor(self.theme.color(self.ground_role)))


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
