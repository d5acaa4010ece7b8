"""A control beside the main one: an icon, a word, and its key at the right."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter

from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.widgets.lettering import draw_lines, draw_right, wrapped
from packdesk.ui.widgets.press import Press
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline, rounded


@dataclass(frozen=True, slots=True)
class SecondFace:
    """What a second control shows.

    `key` stands at the right in small; with `missing` the control is "not yet" and that text,
    usually the time from which it will be, stands there instead.
    """

    word: str
    key: str = ""
    icon: Icon | None = None
    missing: str = ""


class SecondControl(Press):
    """A button of 17 mm with a resting edge; `tone` names the colour of a refusal's cure.

    `width_px` fixes its width in design px; 0 lets the layout decide.
    """

    _face = SecondFace("")
    _tone = ""
    _height_px = 0

    def show_face(self, face: SecondFace) -> None:
        """Show a word, its key and whether it may be used."""
        self._face = face
        self._missing = face.missing
        self.setAccessibleName(face.word)
        self.setAccessibleDescription(face.missing or face.key)
        self.updateGeometry()
        self.update()

    def set_tone(self, role: str) -> None:
        """Draw word and edge in a colour of its own, as a refusal's cure in brick."""
        self._tone = role
        self.update()

    def set_height(self, design_px: int) -> None:
        """Fix the height (57 px at least); otherwise the layout step gives it."""
        self._height_px = design_px
        self.restyle()

    def sizeHint(self) -> QSize:
        wanted = self._left() + self.theme.metrics(Role.BODY).horizontalAdvance(self._face.word)
        wanted += self.theme.px(20)
        if self._side:
            small = self.theme.metrics(Role.NOTE, Weight.REGULAR)
            wanted += self.theme.px(12) + small.horizontalAdvance(self._side)
        return QSize(round(wanted), self._height())

    def minimumSizeHint(self) -> QSize:
        longest = max(self._face.word.split(" "), key=len, default="")
        wanted = self._left() + self.theme.metrics(Role.BODY).horizontalAdvance(longest)
        return QSize(round(wanted + self.theme.px(20)), self._height())

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        lines = len(self._word_lines(width))
        if self._side and not self._side_fits(width):
            lines += 1
        return max(self._height(), round(lines * self.theme.line(Role.BODY) + self.theme.px(14)))

    def draw(self, painter: QPainter) -> None:
        theme, rect = self.theme, QRectF(self.rect())
        color, small = self._ground(painter, rect)
        if self._face.icon is not None:
            side = theme.px(26)
            draw_icon(
                painter,
                self._face.icon,
                QRectF(theme.px(16), rect.center().y() - side / 2, side, side),
                color,
            )
        lines = self._word_lines(self.width())
        step = theme.line(Role.BODY)
        note_step = theme.line(Role.NOTE)
        below = bool(self._side) and not self._side_fits(self.width())
        height = step * len(lines) + (note_step if below else 0)
        top = rect.center().y() - height / 2
        note = theme.font(Role.NOTE, Weight.REGULAR)
        end = draw_lines(
            painter, lines, QPointF(self._left(), top), step, theme.font(Role.BODY), color
        )
        if below:
            draw_lines(painter, [self._side], QPointF(self._left(), end), note_step, note, small)
        elif self._side:
            y = rect.center().y() - note_step / 2
            draw_right(painter, self._side, rect.right() - theme.px(15), y, note_step, note, small)
        if self.tick_shown:
            painter.fillRect(
                QRectF(rect.right() - theme.px(8), rect.center().y() - 11, theme.px(4), 22), color
            )

    @property
    def _side(self) -> str:
        return self._face.missing or self._face.key

    def _ground(self, painter: QPainter, rect: QRectF) -> tuple[QColor, QColor]:
        """Paint edge and body; answers the colours of the word and of the small print."""
        theme = self.theme
        radius = theme.px(CARD_RADIUS)
        if self.not_yet:
            draw_outline(painter, rect, radius, theme.px(1.5), theme.color("edge"), dashed=True)
            return theme.color("ink2"), theme.color("ink2")
        if self.shown_pressed:
            painter.fillPath(rounded(rect, radius), theme.color(self._tone or "ink"))
            return theme.color("sheet"), theme.color("sheet")
        tone = theme.color(self._tone) if self._tone else None
        draw_outline(painter, rect, radius, theme.px(2), tone or theme.color("edge"))
        return tone or theme.color("ink"), theme.color("ink2")

    def _height(self) -> int:
        return self.theme.whole(max(self._height_px or self.theme.layout.second_height, 57))

    def _left(self) -> float:
        return self.theme.px(54 if self._face.icon is not None else 18)

    def _side_fits(self, width: int) -> bool:
        """Whether word and key stand on one line; otherwise the key goes under the word."""
        word = self.theme.metrics(Role.BODY).horizontalAdvance(self._face.word)
        side = self.theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance(self._side)
        return self._left() + word + side + self.theme.px(12 + 15) <= width

    def _word_lines(self, width: int) -> list[str]:
        room = max(width - self._left() - self.theme.px(14), 1.0)
        return wrapped(self._face.word, self.theme.metrics(Role.BODY), room)
