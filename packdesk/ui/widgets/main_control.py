"""The one large control: says what will be true once it is pressed, and carries the twin seam."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from packdesk.present.cards import PouchCell
from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.pouch_drawing import HEIGHT_PER_WIDTH, draw_pouch
from packdesk.ui.widgets.pouch_ink import PouchInk
from packdesk.ui.widgets.press import Press
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline, draw_seam, rounded

SEAM_AT = (10.0, 17.0)
SEAM_ROOM = 18
ABOVE_WORDS, BELOW_WORDS = 22, 8
SEAM_THICK = 2.0
_SMALLER = {
    Role.ACT_WIDE: Role.ACT,
    Role.ACT: Role.SAY,
    Role.SAY: Role.HEAD,
    Role.HEAD: Role.BODY,
    Role.FIGURE: Role.ACT_WIDE,
}


@dataclass(frozen=True, slots=True)
class MainFace:
    """What the main control shows.

    `label` is what will then be true, `hint` the key in words. The drawing is the pouch in the
    state the press brings about or, without one, an icon. With `missing` the control is "not
    yet" and says that instead of the hint.
    """

    label: str
    hint: str
    pouch: PouchCell | None = None
    icon: Icon = Icon.DONE
    missing: str = ""


@dataclass(frozen=True, slots=True)
class MainSetting:
    """The words as they are set: the label's voice and lines, the hint's lines, the height."""

    role: Role
    label: list[str]
    hint: list[str]
    height: float


class MainControl(Press):
    """The main control of a page (40 mm high), or of the far view over the full width."""

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        ground: str = "sheet",
        clock: Callable[[], float] | None = None,
    ) -> None:
        super().__init__(theme, parent, ground=ground, clock=clock)
        self._face = MainFace("", "")
        self._far = False
        self._settings: dict[tuple[int, int], MainSetting] = {}
        """The words as set at each width a layout asked for, until words or theme change."""

    @property
    def face(self) -> MainFace:
        """What is shown."""
        return self._face

    def show_face(self, face: MainFace) -> None:
        """Show what this press would bring about; the same face again costs nothing."""
        if face == self._face:
            return
        before = self.heightForWidth(self.width())
        self._face = face
        self._settings.clear()
        self._missing = face.missing
        self.setAccessibleName(face.label)
        self.setAccessibleDescription(face.missing or face.hint)
        if self.heightForWidth(self.width()) != before:
            self.updateGeometry()
        self.update()

    def set_far(self, far: bool) -> None:
        """Take the measures of the far view (228 px high, label 69) or those of a page."""
        self._far = far
        self.restyle()

    def restyle(self) -> None:
        self._settings.clear()
        super().restyle()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(482), self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(280), self._height())

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        words = self.theme.px(ABOVE_WORDS + BELOW_WORDS) + self._setting(width).height
        return max(self._height(), round(words))

    def draw(self, painter: QPainter) -> None:
        theme, rect = self.theme, QRectF(self.rect())
        line, body = self._ground(painter, rect)
        drawing = self._drawing_box(rect)
        if self._face.pouch is not None:
            painter.setFont(theme.font(Role.BODY))
            draw_pouch(
                painter, drawing, self._face.pouch, theme.tokens, PouchInk.on_body(line, body)
            )
        else:
            side = min(drawing.width(), theme.px(66 if not self._far else 100))
            box = QRectF(0, 0, side, side)
            box.moveCenter(drawing.center())
            draw_icon(painter, self._face.icon, box, line)
        self._words(painter, rect, line)

    def _ground(self, painter: QPainter, rect: QRectF) -> tuple[QColor, QColor]:
        """Paint the body; answers the colour of what stands on it and its own."""
        theme = self.theme
        radius = theme.px(CARD_RADIUS)
        if self.not_yet:
            draw_outline(painter, rect, radius, theme.px(2), theme.color("edge"), dashed=True)
            return theme.color("ink2"), theme.color(self.ground_role)
        pressed = self.shown_pressed
        body = theme.color("ink" if pressed else "indigo")
        line = theme.color("sheet" if pressed else "onindigo")
        painter.fillPath(rounded(rect, radius), body)
        seam = tuple(theme.px(offset) for offset in SEAM_AT)
        draw_seam(painter, rect, theme.color(self.ground_role), seam, theme.px(SEAM_THICK))
        return line, body

    def _words(self, painter: QPainter, rect: QRectF, color: QColor) -> None:
        theme = self.theme
        words = self._setting(self.width())
        label_line, hint_line = theme.line(words.role), theme.line(Role.BODY)
        head = 0.0 if self.not_yet else theme.px(SEAM_ROOM)
        middle = head + (rect.height() - head - words.height) / 2
        at = QPointF(self._text_left(), max(middle, theme.px(ABOVE_WORDS)))
        font, small = theme.font(words.role), theme.font(Role.BODY, Weight.REGULAR)
        end = draw_lines(painter, words.label, at, label_line, font, color)
        draw_lines(painter, words.hint, QPointF(at.x(), end), hint_line, small, color)
        if self.tick_shown:
            self._draw_tick(painter, rect, end - label_line / 2, color)

    def _draw_tick(self, painter: QPainter, rect: QRectF, y: float, color: QColor) -> None:
        """A short upright tick in the label line: seen, and not counted."""
        height, width = self.theme.px(22), self.theme.px(4)
        right = rect.right() - self.theme.px(20)
        painter.fillRect(QRectF(right - width, y - height / 2, width, height), color)

    def _height(self) -> int:
        if self._far:
            return self.theme.whole(228)
        return self.theme.whole(self.theme.layout.main_height)

    def _drawing_box(self, rect: QRectF) -> QRectF:
        """The place of the drawing: centred on its own column, below the seam."""
        theme = self.theme
        height = theme.px(theme.layout.main_height - 63)
        if self._far:
            height = min(theme.px(132), max(rect.height() - theme.px(63), 1.0))
        width = height / HEIGHT_PER_WIDTH
        head = 0.0 if self.not_yet and self._face.pouch is None else theme.px(SEAM_ROOM)
        centre_x = self._text_left() * 0.53
        top = rect.top() + head + (rect.height() - head - height) / 2
        return QRectF(centre_x - width / 2, top, width, height)

    def _text_left(self) -> float:
        if self._far:
            return self.theme.px(160)
        return self.theme.px(118 if self.theme.layout.rail else 125)

    def _text_width(self, width: int) -> float:
        return max(width - self._text_left() - self.theme.px(20), 1.0)

    def _setting(self, width: int) -> MainSetting:
        height = self.height() if self._far else self._height()
        if (width, height) not in self._settings:
            self._settings[width, height] = self._set_words(width, height)
        return self._settings[width, height]

    def _set_words(self, width: int, height: int) -> MainSetting:
        """The words in the largest voice that needs no third line and no more than `height`.

        Where even the smallest does not fit, the control grows.
        """
        theme, room = self.theme, self._text_width(width)
        small = theme.metrics(Role.BODY, Weight.REGULAR)
        hint = wrapped(self._face.missing or self._face.hint, small, room)
        spare = height - theme.px(ABOVE_WORDS + BELOW_WORDS)
        role = Role.FIGURE if self._far else theme.layout.main_label
        while True:
            metrics = theme.metrics(role)
            label = wrapped(self._face.label, metrics, room)
            needed = len(label) * theme.line(role) + len(hint) * theme.line(Role.BODY)
            longest = max(map(metrics.horizontalAdvance, self._face.label.split(" ")))
            fits = len(label) <= 2 and longest <= room and needed <= spare
            if fits or role not in _SMALLER:
                return MainSetting(role, label, hint, needed)
            role = _SMALLER[role]
