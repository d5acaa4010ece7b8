"""The words on the core plot: beside what they name, clear of each other and of the curve."""

from __future__ import annotations

from datetime import datetime
from itertools import product

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPen

from packdesk.present.curves import CoreCurve
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines
from packdesk.ui.widgets.plot_room import PlotRoom
from packdesk.ui.widgets.plot_scale import PlotScale, cold_point, lid_point, likely_line

HOLD_BAR = 9.0
"""Height of the bar of the hold, which words under the threshold keep clear of."""

GATE_REACH = 9.0
"""How far a gate on the core line reaches above and below it."""

READING_REACH = 7.0
SURFACE = "surface"

ROOMY_PX, WIDE_PX = 210.0, 900.0
"""From this height of the plot its main words are larger, from this width larger still."""


LOW_PX = 100.0
"""In a plot lower than that two lines would lie on the curve wherever they stand."""


class PlotWords:
    """Writes the words of one picture, the most needed first."""

    def __init__(self, painter: QPainter, *, theme: Theme, ground: str, scale: PlotScale) -> None:
        self._painter = painter
        self._theme = theme
        self._ground = ground
        self._scale = scale
        self._room = PlotRoom(scale.area, ())
        self._unwritten: list[str] = []
        roomy = scale.area.height() >= theme.px(ROOMY_PX)
        wide = roomy and scale.area.width() >= theme.px(WIDE_PX)
        self._now_role = Role.SAY if wide else Role.HEAD if roomy else Role.BODY
        self._due_role = Role.HEAD if wide else Role.BODY if roomy else Role.NOTE
        self._range_role = Role.BODY if roomy else Role.NOTE

    @property
    def boxes(self) -> list[QRectF]:
        """The places of the words written so far."""
        return self._room.boxes

    def write(self, curve: CoreCurve) -> list[str]:
        """Write all words of a curve; answers those that found no free place."""
        scale, reach = self._scale, self._theme.px(READING_REACH)
        self._room = PlotRoom(scale.area, likely_line(curve, scale))
        for at, temp_c in (*curve.readings, *curve.wall_readings):
            self._keep_off_point(QPointF(scale.x(at), scale.y(temp_c)))
        if curve.hold is not None:
            begun, end = (scale.x(at) for at in curve.hold)
            bar = QRectF(begun, scale.y(curve.threshold_c), end - begun, self._theme.px(HOLD_BAR))
            self._room.keep_off(bar.adjusted(0, 0, reach, 0))
        for gate in (lid_point(curve, scale), cold_point(curve, scale)):
            if gate is not None:
                self._keep_off_point(gate)
        self._keep_off_line(curve.now)
        if curve.opened is not None:
            self._keep_off_line(curve.opened)
        cold_later = curve.hold is not None and curve.hold[1] > curve.now
        if cold_later:  # a time still to come is looked for first
            self._write_hold_end(curve)
        self._write_now(curve)
        self._write_lid(curve)
        self._write_opened(curve)
        if not cold_later:
            self._write_hold_end(curve)
        self._write_dew(curve)
        self._write_threshold(curve)
        self._write_air(curve)
        self._write_surface(curve)
        return self._unwritten

    def _keep_off_point(self, point: QPointF) -> None:
        reach = self._theme.px(READING_REACH)
        self._room.keep_off(QRectF(point.x() - reach, point.y() - reach, 2 * reach, 2 * reach))

    def _keep_off_line(self, at: datetime) -> None:
        """Words keep clear of the line that stands at an instant."""
        x, area = self._scale.x(at), self._scale.area
        self._room.keep_off(QRectF(x - 2, area.top(), 4, area.height()))

    def _write_now(self, curve: CoreCurve) -> None:
        """What the core is now, beside its line; what it may be gives way in a low plot."""
        theme, scale, range_role = self._theme, self._scale, self._range_role
        x, gap = scale.x(curve.now), theme.px(12)
        low = scale.area.height() < theme.px(LOW_PX)
        roles = (self._now_role, Role.BODY, Role.NOTE)
        ranges = ("",) if low else (curve.now_range, "")
        for role, range_words in product(dict.fromkeys(roles), ranges):
            step = theme.line(role)
            wide = max(
                theme.metrics(role).horizontalAdvance(curve.now_words),
                theme.metrics(range_role, Weight.REGULAR).horizontalAdvance(range_words),
            )
            size = QSize(round(wide) + 1, step + (theme.line(range_role) if range_words else 0))
            top, height = scale.area.top(), size.height()
            tops = [top, scale.area.center().y() - height / 2]
            tops.append(scale.area.bottom() - height - theme.px(6))
            tops += [top + height * part for part in (0.5, 1.0, 1.5)]
            lefts = [x + gap, x - gap - wide, x + gap + wide / 2, x + gap + wide]
            if curve.opened is not None:
                lefts.append(scale.x(curve.opened) - gap - wide)
            box = self._room.take([QPointF(left, y) for y in tops for left in lefts], size)
            if box is not None:
                break
        else:
            self._unwritten.append(curve.now_words)
            return
        self._patch(box)
        ink = theme.color("ink")
        end = draw_lines(
            self._painter, [curve.now_words], box.topLeft(), step, theme.font(role), ink
        )
        note = theme.font(range_role, Weight.REGULAR)
        at = QPointF(box.left(), end)
        if range_words:
            ink = theme.color("ink2")
            draw_lines(self._painter, [range_words], at, theme.line(range_role), note, ink)

    def _write_opened(self, curve: CoreCurve) -> None:
        """When the lid came off, beside its line."""
        theme, scale = self._theme, self._scale
        if curve.opened is None or curve.opened < scale.start:
            return
        size = self._size(curve.opened_words, self._due_role)
        x, gap = scale.x(curve.opened), theme.px(10)
        bottom = scale.area.bottom() - size.height() - theme.px(6)
        tops = (
            scale.area.top(),
            bottom,
            scale.area.center().y(),
            scale.area.top() + size.height() * 2,
        )
        places = [QPointF(left, top) for top in tops for left in (x - gap - size.width(), x + gap)]
        self._write(curve.opened_words, places, "indigo", self._due_role)

    def _write_hold_end(self, curve: CoreCurve) -> None:
        """The end of the cold, at its twin seam: elsewhere its time would be told of another."""
        theme, scale = self._theme, self._scale
        gate = cold_point(curve, scale)
        if curve.hold is not None:
            end, y = scale.x(curve.hold[1]), scale.y(curve.threshold_c)
        elif gate is not None:
            end, y = gate.x(), gate.y() - theme.px(GATE_REACH)
        else:
            return
        if not curve.hold_words:
            return
        gap = theme.px(12)
        for role in dict.fromkeys((self._due_role, Role.BODY, Role.NOTE)):
            size = self._size(curve.hold_words, role)
            wide = size.width()
            over, under = y - size.height() - theme.px(8), y + theme.px(HOLD_BAR + 8)
            if gate is not None:
                under += theme.px(GATE_REACH)
            higher = over - size.height() * 1.2
            places = [QPointF(end - wide, over), QPointF(end - wide / 2, over)]
            places += [QPointF(end - wide, higher), QPointF(end - wide, under)]
            places += [QPointF(end - wide / 2, higher), QPointF(end + gap, over)]
            places += [QPointF(end - wide / 2, under)]
            if self._room.best(places, size) is not None or role is Role.NOTE:
                self._write(curve.hold_words, places, "indigo", role)
                return

    def _write_dew(self, curve: CoreCurve) -> None:
        theme, scale = self._theme, self._scale
        if curve.dew_point_c is None or not curve.dew_words:
            return
        size = self._size(curve.dew_words)
        y, height = scale.y(curve.dew_point_c), size.height()
        begin = scale.x(scale.room_from) if scale.room_from is not None else scale.area.left()
        left, right = begin - size.width() - theme.px(8), scale.area.right() - size.width()
        over, under = y - height - theme.px(3), y + theme.px(3)
        places = [QPointF(left, y - height / 2), QPointF(begin + theme.px(8), over)]
        places += [QPointF(right, over), QPointF(right, under), QPointF(left, over)]
        self._write(curve.dew_words, places, "wheatink")

    def _write_air(self, curve: CoreCurve) -> None:
        """The air's names on its line: the freezer's under it, the room's over it."""
        theme, scale = self._theme, self._scale
        room_x = scale.x(scale.room_from) if scale.room_from is not None else scale.area.right()
        for words, steps, left, right in (
            (curve.room_words, [s for s in curve.air if not s.in_freezer], room_x, None),
            (curve.freezer_words, [s for s in curve.air if s.in_freezer], None, room_x),
        ):
            if not words or not steps:
                continue
            size = self._size(words)
            y = scale.y(steps[-1].temp_c)
            first = scale.area.left() if left is None else left
            if first > scale.area.right() - size.width():
                continue
            last = (scale.area.right() if right is None else right) - size.width()
            over, under = y - size.height() - theme.px(3), y + theme.px(3)
            xs = (first + theme.px(8), last - theme.px(8), (first + last) / 2)
            places = [QPointF(x, top) for top in (under, over) for x in xs]
            places += [QPointF(first - size.width() - theme.px(8), y - size.height() / 2)]
            self._write(words, places, "ink2")

    def _write_surface(self, curve: CoreCurve) -> None:
        """The surface's name, where it lies furthest from the core."""
        theme, scale = self._theme, self._scale
        known = [
            (point.at, point.surface_c, point.likely_c)
            for point in curve.points
            if point.surface_c is not None and point.at >= scale.start
        ]
        if not known:
            return
        size = self._size(SURFACE)
        apart = sorted(known, key=lambda each: -abs(each[1] - each[2]))[: len(known) // 4 or 1]
        places = []
        for at, surface_c, likely_c in apart[:: max(1, len(apart) // 12)]:
            x, y = scale.x(at), scale.y(surface_c)
            colder = surface_c < likely_c
            left = x - size.width() - theme.px(8)
            places.append(QPointF(left, y - (0 if colder else size.height())))
            places.append(QPointF(left, y - size.height() / 2))
        self._write(SURFACE, places, "ink2", touching=0)

    def _write_threshold(self, curve: CoreCurve) -> None:
        theme, scale = self._theme, self._scale
        if not curve.threshold_words:
            return
        size = self._size(curve.threshold_words)
        y, now = scale.y(curve.threshold_c), scale.x(curve.now) + theme.px(12)
        over, under = y - size.height() - theme.px(4), y + theme.px(HOLD_BAR + 8)
        higher = over - size.height() * 1.4
        lefts = [now, now - size.width() - theme.px(24), scale.area.right() - size.width()]
        lefts.append(scale.area.left() + theme.px(8))
        if curve.hold is not None:
            lefts.append((scale.x(curve.hold[0]) + scale.x(curve.hold[1]) - size.width()) / 2)
            lefts.append(scale.x(curve.hold[0]))
        # Out of the freezer the core is above it: then its words belong to the time before.
        until = scale.area.right() if scale.room_from is None else scale.x(scale.room_from)
        lefts = [x for x in lefts if scale.area.left() <= x <= until - size.width()]
        tops = (over, under) if curve.hold is None else (over, higher, under)
        places = [QPointF(left, top) for top in tops for left in lefts]
        self._write(curve.threshold_words, places, "indigo", touching=0)

    def _write_lid(self, curve: CoreCurve) -> None:
        theme = self._theme
        point = lid_point(curve, self._scale)
        if point is None or not curve.lid_words:
            return
        size, step = self._size(curve.lid_words, self._due_role), theme.line(self._due_role)
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
        box = self._write(curve.lid_words, places, "indigo", self._due_role)
        if box is None or box.left() < point.x() < box.right():
            return
        self._painter.setPen(QPen(theme.color("indigo"), theme.px(1.5)))
        edge = box.right() if box.right() < point.x() else box.left()
        side = theme.px(4) if edge == box.right() else -theme.px(4)
        start = QPointF(edge + side, box.center().y())
        self._painter.drawLine(QLineF(start, QPointF(point.x() - side, point.y() - theme.px(5))))

    def _write(
        self,
        words: str,
        places: list[QPointF],
        role: str,
        text: Role = Role.NOTE,
        touching: int | None = None,
    ) -> QRectF | None:
        """Write at the best of `places`; with `touching` only where no more points are under it."""
        theme = self._theme
        box = self._room.take(places, self._size(words, text), touching)
        if box is None:
            self._unwritten.append(words)
            return None
        self._patch(box)
        font, step = theme.font(text, Weight.SEMIBOLD), theme.line(text)
        draw_lines(self._painter, [words], box.topLeft(), step, font, theme.color(role))
        return box

    def _size(self, words: str, text: Role = Role.NOTE) -> QSize:
        width = self._theme.metrics(text, Weight.SEMIBOLD).horizontalAdvance(words)
        return QSize(round(width) + 1, self._theme.line(text))

    def _patch(self, box: QRectF) -> None:
        """A patch of the ground behind words, so that no line runs through them."""
        pad = self._theme.px(3)
        ground = self._theme.color(self._ground)
        self._painter.fillRect(box.adjusted(-pad, 0, pad, 0), ground)
