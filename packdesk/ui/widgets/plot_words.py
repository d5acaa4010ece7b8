"""The words on the core plot: beside what they name, clear of each other and of the curve."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPen

from packdesk.present.cards import CoreCurve
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines
from packdesk.ui.widgets.plot_scale import PlotScale, lid_point, likely_line

HOLD_BAR = 9.0
"""Height of the bar of the hold, which words under the threshold keep clear of."""

READING_REACH = 7.0


def dew_start(curve: CoreCurve, scale: PlotScale, theme: Theme) -> float:
    """The left end of the dew-point line, with room for its name before it."""
    width = theme.metrics(Role.NOTE, Weight.SEMIBOLD).horizontalAdvance(curve.dew_words)
    first = scale.area.left() + width + theme.px(18)
    if curve.lid_off is None:
        return first
    return max(first, scale.x(curve.lid_off[0]) - theme.px(100))


class PlotWords:
    """Writes the words of one picture, the most needed first.

    `boxes` are the places of the words written so far.
    """

    def __init__(self, painter: QPainter, *, theme: Theme, ground: str, scale: PlotScale) -> None:
        self._painter = painter
        self._theme = theme
        self._ground = ground
        self._scale = scale
        self._line: list[QPointF] = []
        self._obstacles: list[QRectF] = []
        self._unwritten: list[str] = []
        self.boxes: list[QRectF] = []

    def write(self, curve: CoreCurve) -> list[str]:
        """Write all words of a curve; answers those that found no free place."""
        scale, reach = self._scale, self._theme.px(READING_REACH)
        self._line = likely_line(curve, scale)
        self._obstacles = [
            QRectF(scale.x(at) - reach, scale.y(temp_c) - reach, 2 * reach, 2 * reach)
            for at, temp_c in curve.readings
        ]
        now = scale.x(curve.now)
        self._obstacles.append(QRectF(now - 2, scale.area.top(), 4, scale.area.height()))
        self._write_now(curve)
        self._write_dew(curve)
        self._write_threshold(curve)
        self._write_lid(curve)
        return self._unwritten

    def _write_now(self, curve: CoreCurve) -> None:
        theme, scale = self._theme, self._scale
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
        self._patch(box)
        ink = theme.color("ink")
        end = draw_lines(
            self._painter, [curve.now_words], box.topLeft(), step, theme.font(Role.BODY), ink
        )
        if curve.now_range:
            note = theme.font(Role.NOTE, Weight.REGULAR)
            at = QPointF(box.left(), end)
            draw_lines(self._painter, [curve.now_range], at, note_step, note, theme.color("ink2"))

    def _write_threshold(self, curve: CoreCurve) -> None:
        theme, scale = self._theme, self._scale
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
        self._write(curve.threshold_words, places, "indigo")

    def _write_dew(self, curve: CoreCurve) -> None:
        theme, scale = self._theme, self._scale
        if curve.dew_point_c is None or not curve.dew_words:
            return
        size = self._note_size(curve.dew_words)
        left = dew_start(curve, scale, theme) - size.width() - theme.px(8)
        y = scale.y(curve.dew_point_c)
        step = theme.line(Role.NOTE)
        right = scale.area.right() - size.width()
        places = [QPointF(left, y - step / 2), QPointF(left, y - step - theme.px(2))]
        places += [QPointF(right, y - step - theme.px(3)), QPointF(right, y + theme.px(3))]
        self._write(curve.dew_words, places, "wheatink")

    def _write_lid(self, curve: CoreCurve) -> None:
        theme = self._theme
        point = lid_point(curve, self._scale)
        if point is None or not curve.lid_words:
            return
        size, step = self._note_size(curve.lid_words), theme.line(Role.NOTE)
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
        box = self._write(curve.lid_words, places, "indigo")
        if box is None or box.left() < point.x() < box.right():
            return
        self._painter.setPen(QPen(theme.color("indigo"), theme.px(1.5)))
        edge = box.right() if box.right() < point.x() else box.left()
        side = theme.px(4) if edge == box.right() else -theme.px(4)
        start = QPointF(edge + side, box.center().y())
        self._painter.drawLine(QLineF(start, QPointF(point.x() - side, point.y() - theme.px(5))))

    def _write(self, words: str, places: list[QPointF], role: str) -> QRectF | None:
        theme = self._theme
        box = self._place(places, self._note_size(words))
        if box is None:
            self._unwritten.append(words)
            return None
        self._patch(box)
        font, step = theme.font(Role.NOTE, Weight.SEMIBOLD), theme.line(Role.NOTE)
        draw_lines(self._painter, [words], box.topLeft(), step, font, theme.color(role))
        return box

    def _note_size(self, words: str) -> QSize:
        width = self._theme.metrics(Role.NOTE, Weight.SEMIBOLD).horizontalAdvance(words)
        return QSize(round(width) + 1, self._theme.line(Role.NOTE))

    def _place(self, places: list[QPointF], size: QSize) -> QRectF | None:
        """The place where words touch the curve least; None if other words are in all of them."""
        area = self._scale.area
        best: tuple[float, QRectF] | None = None
        for at in places:
            x = min(max(at.x(), area.left()), area.right() - size.width())
            y = min(max(at.y(), 0.0), area.bottom() - size.height())
            box = QRectF(x, y, size.width(), size.height())
            if any(box.intersects(other) for other in (*self.boxes, *self._obstacles)):
                continue
            cost = 1.0 * sum(box.contains(point) for point in self._line)
            cost += 0.5 * (box.topLeft() != at)
            if best is None or cost < best[0]:
                best = (cost, box)
        if best is None:
            return None
        self.boxes.append(best[1])
        return best[1]

    def _patch(self, box: QRectF) -> None:
        """A patch of the ground behind words, so that no line runs through them."""
        pad = self._theme.px(3)
        ground = self._theme.color(self._ground)
        self._painter.fillRect(box.adjusted(-pad, 0, pad, 0), ground)
