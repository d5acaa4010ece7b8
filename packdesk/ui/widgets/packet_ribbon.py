"""The time of an open packet as a strip: opened, pouches done, now, pouches to come, due."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import PacketTimes
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines
from packdesk.ui.widgets.strokes import draw_gate, draw_hatch, draw_outline, draw_wedge
from packdesk.ui.widgets.themed import Themed

STRIP_HEIGHT, STRIP_HEIGHT_NARROW = 40, 18
BEYOND_DUE = 0.1
"""How much of the strip lies past the due time while nothing is late."""

PAST_TINT = 0.24


class PacketRibbon(Themed):
    """A strip from the opening of a packet to past its due time, hatched beyond.

    On a small screen, or where room is scarce, the words below it are left out.
    """

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, *, ground: str = "sheet"
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._face: PacketTimes | None = None
        self._brief = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_face(self, face: PacketTimes) -> None:
        """Show the times of a packet."""
        self._face = face
        told = (face.opened_words, f"{len(face.done)} pouches shut", face.due_words)
        self.setAccessibleName(", ".join(told))
        self.updateGeometry()
        self.update()

    @property
    def gives_way(self) -> bool:
        """Whether room is made for what stands below."""
        return self._brief

    def give_way(self, brief: bool) -> None:
        """Leave the words below the strip out, or say them as is usual."""
        if brief != self._brief:
            self._brief = brief
            self.updateGeometry()
            self.update()

    def room_given(self) -> int:
        """How many px lower it is, or would be, where it gives way."""
        return 0 if self.isHidden() or self.theme.layout.rail else self.theme.line(Role.NOTE)

    @property
    def _says(self) -> bool:
        return not (self._brief or self.theme.layout.rail)

    def sizeHint(self) -> QSize:
        theme = self.theme
        height = theme.px(16) + self._strip_height() + theme.px(6)
        if self._says:
            height += theme.line(Role.NOTE)
        return QSize(theme.whole(742), round(height))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(260), self.sizeHint().height())

    def draw(self, painter: QPainter) -> None:
        if self._face is None:
            return
        theme, face = self.theme, self._face
        strip = QRectF(0, theme.px(14), self.width(), self._strip_height())
        x = self._scale(strip)
        painter.fillRect(strip, theme.color("haze"))
        self._draw_past(painter, strip, x(face.now))
        due = x(face.due)
        beyond = QRectF(due, strip.top(), strip.right() - due, strip.height())
        self._draw_beyond(painter, beyond, x(face.now))
        self._draw_ticks(painter, strip, [x(at) for at in face.done], solid=True)
        self._draw_ticks(painter, strip, [x(at) for at in face.forecast], solid=False)
        line = QRectF(0, strip.bottom() - theme.px(2), strip.width(), theme.px(2))
        painter.fillRect(line, theme.color("ink"))
        reach = theme.px(8)
        brick = theme.color("brick")
        draw_gate(
            painter, due - theme.px(3), strip.top() - reach, strip.bottom(), brick, theme.px(1)
        )
        self._draw_now(painter, strip, x(face.now))
        if self._says:
            self._draw_words(painter, strip, x(face.now), due)

    def _scale(self, strip: QRectF) -> Callable[[datetime], float]:
        """The map from an instant to its x on the strip."""
        face = self._face
        span = (face.due - face.opened) / (1 - BEYOND_DUE)
        late = face.now - face.opened + (face.due - face.opened) * 0.05
        span = max(span, late, timedelta(seconds=1))
        return lambda at: (
            strip.left() + strip.width() * min(max((at - face.opened) / span, 0.0), 1.0)
        )

    def _draw_past(self, painter: QPainter, strip: QRectF, now: float) -> None:
        tint = self.theme.color("indigo")
        tint.setAlphaF(PAST_TINT)
        painter.fillRect(
            QRectF(strip.left(), strip.top(), now - strip.left(), strip.height()), tint
        )

    def _draw_beyond(self, painter: QPainter, beyond: QRectF, now: float) -> None:
        theme = self.theme
        if now < beyond.right():
            ahead = QRectF(beyond)
            ahead.setLeft(max(now, beyond.left()))
            painter.fillRect(ahead, theme.color("brickhaze"))
        draw_hatch(painter, beyond, theme.color("brick"), theme.px(2), theme.px(8))

    def _draw_ticks(
        self, painter: QPainter, strip: QRectF, places: Sequence[float], *, solid: bool
    ) -> None:
        theme = self.theme
        width, height = theme.px(9), strip.height() * 0.64
        color = theme.color("indigo")
        for x in places:
            tick = QRectF(0, 0, width, height)
            tick.moveCenter(QPointF(x, strip.center().y()))
            if solid:
                painter.fillRect(tick, color)
            else:
                painter.fillRect(tick, theme.color("sheet"))
                draw_outline(painter, tick, 1, theme.px(2), color)

    def _draw_now(self, painter: QPainter, strip: QRectF, x: float) -> None:
        theme = self.theme
        ink = theme.color("ink")
        line = QRectF(x - theme.px(1.5), theme.px(4), theme.px(3), strip.bottom() - theme.px(4))
        painter.fillRect(line, ink)
        draw_wedge(painter, QPointF(x, theme.px(10)), theme.px(14), -theme.px(10), ink)

    def _draw_words(self, painter: QPainter, strip: QRectF, now: float, due: float) -> None:
        """Words under their places; "now" gives way where it would touch another."""
        theme, face = self.theme, self._face
        step, top = theme.line(Role.NOTE), strip.bottom() + theme.px(6)
        plain, bold = theme.font(Role.NOTE, Weight.REGULAR), theme.font(Role.NOTE, Weight.SEMIBOLD)
        width = theme.metrics(Role.NOTE, Weight.SEMIBOLD).horizontalAdvance
        second, ink, brick = theme.color("ink2"), theme.color("ink"), theme.color("brick")
        draw_lines(painter, [face.opened_words], QPointF(0, top), step, plain, second)
        late = face.now > face.due
        right = min(due + (width(face.due_words) / 2 if late else theme.px(2)), strip.right())
        gap = theme.px(12)
        past_opened = theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance(face.opened_words)
        due_left = max(right - width(face.due_words), past_opened + gap)
        right = due_left + width(face.due_words)
        draw_lines(painter, [face.due_words], QPointF(due_left, top), step, bold, brick)
        left = min(now - width(face.now_words) / 2, strip.right() - width(face.now_words))
        clear_left = left >= past_opened + gap
        clear_due = left + width(face.now_words) + gap <= due_left or left >= right + gap
        if clear_left and clear_due:
            draw_lines(painter, [face.now_words], QPointF(left, top), step, bold, ink)

    def _strip_height(self) -> float:
        narrow = self.theme.layout.rail
        return self.theme.px(STRIP_HEIGHT_NARROW if narrow else STRIP_HEIGHT)
