"""The title block above the path: which session, which day, and the way to everything else."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, kept, wrapped
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_wedge, rounded

LEAST_HEIGHT, HEIGHT = 57, 104
MOST_LINES = 2


class PathTitle(QAbstractButton):
    """A button with the session's name, the day and a wedge; only the wedge on the rail."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.ground_role = "cloth"
        self._name = ""
        self._day = ""
        self._words = True
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName("Sessions, settings and help")

    def show_words(self, name: str, day: str) -> None:
        """Show the session's name and the day; with neither it says only what the button opens."""
        self._name = name
        self._day = day
        told = ", ".join(part for part in (name, day) if part)
        self.setToolTip(told)
        self.setAccessibleName(f"{told}: sessions, settings and help" if told else "Sessions")
        self.update()

    def set_words(self, words: bool) -> None:
        """Show the words, or only the wedge of the rail."""
        if words != self._words:
            self._words = words
            self.update()

    def sizeHint(self) -> QSize:
        width = self.theme.whole(self.theme.layout.path_width)
        return QSize(width, self.heightForWidth(width))

    def heightForWidth(self, width: int) -> int:
        if self.theme.layout.rail:
            # The rows must not move when the rail widens, so the title keeps its height.
            return self.theme.whole(LEAST_HEIGHT)
        needed = self.theme.px(16) + len(self._name_lines(width)) * self.theme.line(Role.BODY)
        needed += self.theme.line(Role.NOTE) + self.theme.px(12)
        return max(self.theme.whole(HEIGHT), round(needed))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.isDown():
            back = QRectF(self.rect()).adjusted(8, 6, -8, -6)
            painter.fillPath(rounded(back, theme.px(CARD_RADIUS)), theme.color("haze"))
        ink, second = theme.color("ink"), theme.color("ink2")
        note = theme.font(Role.NOTE, Weight.REGULAR)
        if not self._words:
            at = QPointF(theme.px(9), theme.px(18))
            draw_lines(painter, ["Menu"], at, theme.line(Role.NOTE), note, ink)
            width = theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance("Menu")
            beside = theme.px(9) + width + theme.px(10)  # large text must not run into it
            self._draw_wedge(painter, max(theme.px(61), beside), theme.px(29))
            return
        left, top = theme.px(20), theme.px(6 if theme.layout.rail else 14)
        lines = self._name_lines(self.width())
        end = draw_lines(
            painter, lines, QPointF(left, top), theme.line(Role.BODY), theme.font(Role.BODY), ink
        )
        step = theme.line(Role.NOTE)
        draw_lines(painter, [self._day], QPointF(left, end), step, note, second)
        day_width = theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance(self._day)
        self._draw_wedge(painter, left + day_width + theme.px(16), end + step / 2)

    def _draw_wedge(self, painter: QPainter, x: float, y: float) -> None:
        theme = self.theme
        tip = QPointF(x, y + theme.px(4))
        draw_wedge(painter, tip, theme.px(11), -theme.px(7), theme.color("ink"))

    def _name_lines(self, width: int) -> list[str]:
        metrics = self.theme.metrics(Role.BODY)
        room = width - self.theme.px(36)
        most = 1 if self.theme.layout.rail else MOST_LINES
        return kept(wrapped(self._name, metrics, max(room, 1.0)), most, metrics, room)
