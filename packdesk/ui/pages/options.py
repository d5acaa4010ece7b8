"""A few choices side by side as large buttons, one of them chosen; also the load chooser."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from packdesk.ui.icons import Icon, draw_icon, draw_pail_tag
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import cut, draw_lines
from packdesk.ui.widgets.placed import Placed
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline, rounded

HEIGHT = 57
TAGGED_HEIGHT = 60
GAP = 16
TICK = 20
SMALL_TICK = 15


@dataclass(frozen=True, slots=True)
class Option:
    """One choice: its key for the program, its words, a second line, a pail's letter."""

    key: str
    words: str
    note: str = ""
    tag: str = ""


class OptionButton(QAbstractButton):
    """One of the choices as a button; the chosen one is ticked, on haze and edged in indigo."""

    def __init__(self, theme: Theme, parent: QWidget, *, ground: str) -> None:
        super().__init__(parent)
        self.theme = theme
        self.ground_role = ground
        self._option = Option("", "")
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    @property
    def option(self) -> Option:
        """The choice this button stands for."""
        return self._option

    def show_option(self, option: Option) -> None:
        """Show a choice."""
        if option == self._option:
            return
        self._option = option
        told = (f"Load {option.tag}" if option.tag else "", option.words, option.note)
        self.setAccessibleName(", ".join(part for part in told if part))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, option = self.theme, self._option
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect, radius = QRectF(self.rect()), theme.px(CARD_RADIUS)
        chosen = self.isChecked()
        if chosen or self.isDown():
            painter.fillPath(rounded(rect, radius), theme.color("haze"))
        edge, line = ("indigo", 3) if chosen else ("edge", 1.5)
        draw_outline(painter, rect, radius, theme.px(line), theme.color(edge))
        left = theme.px(16)
        if option.tag:
            tag = QRectF(theme.px(14), 0, theme.px(34), theme.px(36))
            tag.moveCenter(QPointF(tag.center().x(), rect.center().y()))
            draw_pail_tag(
                painter, tag, option.tag, theme.color("ink"), theme.font(Role.NOTE, Weight.BOLD)
            )
            left = theme.px(60)
        room = rect.width() - left - theme.px(12)
        beside = chosen and self._room_beside(rect.width() - left)
        if beside:
            room -= theme.px(TICK + 6)
        narrow = room - theme.px(SMALL_TICK - 5) if chosen and not beside else room
        metrics = theme.metrics(Role.BODY)
        below_words = metrics.horizontalAdvance(option.words) > narrow and bool(option.note)
        body, note = theme.line(Role.BODY) * 0.94, theme.line(Role.NOTE)
        height = body + (note if option.note else 0)
        top = rect.center().y() - height / 2
        words = cut(option.words, metrics, room)
        at = QPointF(left, top)
        below = draw_lines(painter, [words], at, body, theme.font(Role.BODY), theme.color("ink"))
        small = theme.font(Role.NOTE, Weight.REGULAR)
        if option.note:
            text = cut(option.note, theme.metrics(Role.NOTE, Weight.REGULAR), narrow)
            draw_lines(painter, [text], QPointF(left, below), note, small, theme.color("ink2"))
        if chosen:
            size = theme.px(TICK if beside else SMALL_TICK)
            tick = QRectF(0, 0, size, size)
            tick.moveCenter(QPointF(rect.right() - theme.px(12) - size / 2, rect.center().y()))
            if not beside:
                tick.moveTopRight(rect.topRight() + QPointF(-theme.px(5), theme.px(5)))
                if below_words:  # no tick is drawn over a name
                    tick.moveBottom(rect.bottom() - theme.px(7))
            draw_icon(painter, Icon.DONE, tick, theme.color("ink"))
        whole = words == option.words
        self.setToolTip("" if whole else option.words)

    def _room_beside(self, width: float) -> bool:
        """Whether a tick stands beside the words; else it is a small one in the corner."""
        theme, option = self.theme, self._option
        words = theme.metrics(Role.BODY).horizontalAdvance(option.words)
        note = theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance(option.note)
        return max(words, note) <= width - theme.px(TICK + 18)


class Options(Placed):
    """A label and a row of choices; arrow keys walk it, one is always chosen once shown.

    Signals:
        chosen: the person chose; carries the key.
    """

    chosen = Signal(str)

    def __init__(
        self, theme: Theme, label: str, parent: QWidget | None = None, *, ground: str = "sheet"
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._label = label
        self._options: tuple[Option, ...] = ()
        self._buttons: list[OptionButton] = []
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(label)

    @property
    def buttons(self) -> tuple[OptionButton, ...]:
        """The choices from left to right."""
        return tuple(self._buttons)

    @property
    def key(self) -> str:
        """The key of what is chosen, or empty."""
        return next((b.option.key for b in self._buttons if b.isChecked()), "")

    def show_options(self, options: Sequence[Option], key: str) -> None:
        """Show these choices with the one of this key chosen."""
        while len(self._buttons) > len(options):
            button = self._buttons.pop()
            button.hide()
            button.setParent(None)
            button.deleteLater()
        while len(self._buttons) < len(options):
            button = OptionButton(self.theme, self, ground=self.ground_role)
            button.clicked.connect(lambda _=False, b=button: self.chosen.emit(b.option.key))
            button.show()
            self._buttons.append(button)
        for button, option in zip(self._buttons, options, strict=True):
            button.show_option(option)
        self.choose(key)
        if tuple(options) != self._options:
            self._options = tuple(options)
            self._place()

    def choose(self, key: str) -> None:
        """Mark the choice of this key; without telling anybody."""
        for button in self._buttons:
            if button.option.key == key:
                button.setChecked(True)

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(240), self._top() + self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(120), self._top() + self._height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(event.key())
        if step is None or not self._buttons:
            super().keyPressEvent(event)
            return
        keys = [button.option.key for button in self._buttons]
        at = keys.index(self.key) if self.key in keys else 0
        target = self._buttons[min(max(at + step, 0), len(keys) - 1)]
        target.setFocus(Qt.FocusReason.TabFocusReason)
        target.click()

    def draw(self, painter: QPainter) -> None:
        if self._label:
            font = self.theme.font(Role.NOTE, Weight.REGULAR)
            step, color = self.theme.line(Role.NOTE), self.theme.color("ink2")
            draw_lines(painter, [self._label], QPointF(0, 0), step, font, color)

    def _top(self) -> int:
        return self.theme.line(Role.NOTE) + self.theme.whole(4) if self._label else 0

    def _height(self) -> int:
        theme = self.theme
        tagged = any(button.option.tag for button in self._buttons)
        words = theme.line(Role.BODY)
        if any(button.option.note for button in self._buttons):
            words += theme.line(Role.NOTE)
        return max(theme.whole(TAGGED_HEIGHT if tagged else HEIGHT), words + theme.whole(10))

    def _place(self) -> None:
        count = len(self._buttons)
        if not count:
            return
        gap = self.theme.px(GAP if self.width() / count > self.theme.px(150) else GAP / 2)
        wide = (self.width() - gap * (count - 1)) / count
        for place, button in enumerate(self._buttons):
            left = round(place * (wide + gap))
            right = round(place * (wide + gap) + wide)
            button.setGeometry(left, self._top(), right - left, self._height())
        self.updateGeometry()
        self.update()
