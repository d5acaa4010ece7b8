"""A control beside the main one: an icon, a word, and its key at the right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
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
    """A button of 17 mm with a resting edge.

    Word and key stand on one line; where they do not fit, the key goes under the word, or to the
    right of a word of two lines. Neither it nor what is missing is ever dropped.
    """

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        ground: str = "sheet",
        clock: Callable[[], float] | None = None,
    ) -> None:
        super().__init__(theme, parent, ground=ground, clock=clock)
        self._face = SecondFace("")
        self._tone = ""
        self._height_px = 0

    @property
    def face(self) -> SecondFace:
        """What is shown."""
        return self._face

    def show_face(self, face: SecondFace) -> None:
        """Show a word, its key and whether it may be used; the same again costs nothing."""
        if face == self._face:
            return
        height = self.heightForWidth(self.width())
        self._face = face
        self._missing = face.missing
        self.setAccessibleName(face.word)
        self.setAccessibleDescription(face.missing or face.key)
        self.setToolTip(face.key)
        fixed = self.minimumWidth() == self.maximumWidth()
        if not fixed or self.heightForWidth(self.width()) != height:
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
        lines = self._word_lines(width)
        needed = len(lines) * self._step() + self.theme.px(5)
        if self._side_below(width):
            needed += self.theme.line(Role.NOTE)
        return max(self._height(), round(needed))

    def draw(self, painter: QPainter) -> None:
        theme, rect = self.theme, QRectF(self.rect())
        color, small = self._ground(painter, rect)
        if self._face.icon is not None:
            side = theme.px(26)
            left = theme.px(12 if theme.layout.rail else 16)
            box = QRectF(left, rect.center().y() - side / 2, side, side)
            draw_icon(painter, self._face.icon, box, color)
        lines = self._word_lines(self.width())
        step, note_step = self._step(), theme.line(Role.NOTE)
        below = self._side_below(self.width())
        height = step * len(lines) + (note_step if below else 0)
        at = QPointF(self._left(), rect.center().y() - height / 2)
        end = draw_lines(painter, lines, at, step, theme.font(Role.BODY), color)
        note = theme.font(Role.NOTE, Weight.REGULAR)
        if below:
            draw_lines(painter, [self._side], QPointF(at.x(), end), note_step, note, small)
        elif self._side:
            y = rect.center().y() - note_step / 2
            draw_right(painter, self._side, rect.right() - theme.px(15), y, note_step, note, small)
        if self.tick_shown:
            tick = QRectF(0, 0, theme.px(4), theme.px(22))
            tick.moveCenter(QPointF(rect.right() - theme.px(7), rect.center().y()))
            painter.fillRect(tick, color)

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
        if self._face.icon is None:
            return self.theme.px(18)
        return self.theme.px(46 if self.theme.layout.rail else 54)

    def _step(self) -> float:
        """Two lines of a word stand a little closer than text, to stay within 15 mm."""
        return self.theme.line(Role.BODY) * 0.94

    def _side_fits(self, width: int) -> bool:
        """Whether word and key stand on one line."""
        word = self.theme.metrics(Role.BODY).horizontalAdvance(self._face.word)
        side = self.theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance(self._side)
        return self._left() + word + side + self.theme.px(12 + 15) <= width

    def _side_below(self, width: int) -> bool:
        """Whether the key, or what is missing, goes under the word."""
        return bool(self._side) and not self._side_fits(width) and not self._beside_key(width)

    def _word_lines(self, width: int) -> list[str]:
        return self._beside_key(width) or self._whole_lines(width)

    def _whole_lines(self, width: int) -> list[str]:
        room = max(width - self._left() - self.theme.px(8), 1.0)
        return wrapped(self._face.word, self.theme.metrics(Role.BODY), room)

    def _beside_key(self, width: int) -> list[str]:
        """The lines of a word that needs two, set so that its key stands at their right.

        None where it needs but one, or would need more for the key's sake.
        """
        whole = self._whole_lines(width)
        if len(whole) < 2 or not self._side:
            return []
        small = self.theme.metrics(Role.NOTE, Weight.REGULAR)
        room = width - self._left() - small.horizontalAdvance(self._side) - self.theme.px(12 + 15)
        metrics = self.theme.metrics(Role.BODY)
        if max(map(metrics.horizontalAdvance, self._face.word.split(" "))) > room:
            return []
        lines = wrapped(self._face.word, metrics, room)
        return lines if len(lines) == len(whole) else []
