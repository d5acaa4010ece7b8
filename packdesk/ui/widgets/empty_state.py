"""A dashed box that teaches: what is so, why, and what starts it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline
from packdesk.ui.widgets.themed import Themed


@dataclass(frozen=True, slots=True)
class EmptyFace:
    """What is so (one short line), why and what starts it, and a drawing."""

    title: str
    why: str
    icon: Icon | None = None


class EmptyState(Themed):
    """Stands where something will be once it has begun."""

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, *, ground: str = "cloth"
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._face = EmptyFace("", "")
        # It grows where its words need more lines than they do at its usual width.
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)

    def show_face(self, face: EmptyFace) -> None:
        """Show what is so and what starts it."""
        self._face = face
        self.setAccessibleName(f"{face.title}. {face.why}")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        width = self.theme.whole(272)
        return QSize(width, self.heightForWidth(width))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        theme = self.theme
        titles, words = self._lines(width)
        height = max(len(titles) * theme.line(Role.BODY), theme.px(34) if self._face.icon else 0)
        height += len(words) * theme.px(22) * theme.measure.text_percent / 100
        return round(height + theme.px(20 + 8 + 18))

    def draw(self, painter: QPainter) -> None:
        theme, rect = self.theme, QRectF(self.rect())
        edge = theme.color("edge")
        draw_outline(painter, rect, theme.px(CARD_RADIUS), theme.px(1.5), edge, dashed=True)
        titles, words = self._lines(self.width())
        left, top = theme.px(20), theme.px(20)
        step = theme.line(Role.BODY)
        height = step * len(titles)
        text_left = left
        if self._face.icon is not None:
            side = theme.px(34)
            draw_icon(painter, self._face.icon, QRectF(left, top, side, side), edge)
            text_left += theme.px(48)
            height = max(height, side)
        start = QPointF(text_left, top + (height - step * len(titles)) / 2)
        draw_lines(painter, titles, start, step, theme.font(Role.BODY), theme.color("ink"))
        draw_lines(
            painter,
            words,
            QPointF(left, top + height + theme.px(8)),
            theme.px(22) * theme.measure.text_percent / 100,
            theme.font(Role.NOTE, Weight.REGULAR),
            theme.color("ink2"),
        )

    def _lines(self, width: int) -> tuple[list[str], list[str]]:
        theme = self.theme
        room = max(width - theme.px(40), 1.0)
        title_room = room - (theme.px(48) if self._face.icon is not None else 0)
        titles = wrapped(self._face.title, theme.metrics(Role.BODY), max(title_room, 1.0))
        words = wrapped(self._face.why, theme.metrics(Role.NOTE, Weight.REGULAR), room)
        return titles, words
