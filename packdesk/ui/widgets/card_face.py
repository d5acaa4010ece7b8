"""What a clock's card has at either size: its ground and edges, the ink on it, the pail's tag."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from packdesk.present.cards import ClockRow, Urgency
from packdesk.ui.icons import draw_pail_tag
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_hatch, draw_outline, rounded

SOON_BLOCK = 10
LATE_HATCH = 16
TAG, TAG_ROOM = 26, 36
"""How wide the pail is drawn, and how far to its right the name begins, in design px."""


@dataclass(frozen=True, slots=True)
class CardInk:
    """The colours of a card's words, which a late clock turns over."""

    first: QColor
    second: QColor


@dataclass(frozen=True, slots=True)
class CardFace:
    """A clock and the theme it is drawn with."""

    theme: Theme
    row: ClockRow

    def draw_ground(self, painter: QPainter, rect: QRectF) -> CardInk:
        """Draw the card without its words; answers the ink for them. Late, it is solid brick."""
        theme, row = self.theme, self.row
        radius = theme.px(CARD_RADIUS)
        shape = rounded(rect, radius)
        if row.urgency is Urgency.LATE:
            painter.fillPath(shape, theme.color("brick"))
            painter.save()
            painter.setClipPath(shape)
            strip = QRectF(rect.left(), rect.top(), theme.px(LATE_HATCH), rect.height())
            painter.fillRect(strip, theme.color("onbrick"))
            draw_hatch(painter, strip, theme.color("brick"), theme.px(4.5), theme.px(10))
            painter.restore()
            return CardInk(theme.color("onbrick"), theme.color("onbrick"))
        painter.fillPath(shape, theme.color("sheet"))
        if row.urgency is Urgency.SOON:
            painter.save()
            painter.setClipPath(shape)
            painter.fillRect(
                QRectF(rect.left(), rect.top(), theme.px(SOON_BLOCK), rect.height()),
                theme.color("wheat"),
            )
            painter.restore()
            draw_outline(painter, rect, radius, theme.px(2), theme.color("wheatink"))
        elif theme.tokens.outlined:
            draw_outline(painter, rect, radius, theme.px(1.5), theme.color("edge"))
        return CardInk(theme.color("ink"), theme.color("ink2"))

    def edges(self, rect: QRectF) -> tuple[float, float]:
        """Where words begin and end on a card that fills `rect`."""
        theme = self.theme
        padding = theme.px(14 if theme.layout.rail else 20)
        left = rect.left() + padding
        if self.row.urgency is Urgency.LATE:
            left = rect.left() + theme.px(LATE_HATCH) + theme.px(8 if theme.layout.rail else 14)
        elif self.row.urgency is Urgency.SOON:
            left += theme.px(6)
        return left, rect.right() - theme.px(14 if theme.layout.rail else 18)

    def room(self, width: int) -> float:
        """The room for words on a card of this width."""
        left, right = self.edges(QRectF(0, 0, width, 1))
        return right - left

    def name_room(self, width: int) -> float:
        """The room for the clock's name, beside the tag if there is one."""
        return self.room(width) - (self.theme.px(TAG_ROOM) if self.row.tag else 0)

    def fitting(self, role: Role, text: str, room: float) -> QFont:
        """The font of a role, smaller only where a long day or large type needs it."""
        font = self.theme.font(role)
        width = QFontMetricsF(font).horizontalAdvance(text)
        if width > room:
            font.setPixelSize(max(int(font.pixelSize() * room / width), 1))
        return font

    def draw_tag(
        self, painter: QPainter, left: float, top: float, step: float, ink: CardInk
    ) -> float:
        """Draw the load's pail; answers where the name begins."""
        theme = self.theme
        box = QRectF(left, top + (step - theme.px(TAG)) / 2, theme.px(TAG), theme.px(TAG))
        draw_pail_tag(painter, box, self.row.tag, ink.first, theme.font(Role.BODY), theme.px(2))
        return left + theme.px(TAG_ROOM)
