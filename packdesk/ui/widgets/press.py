"""A control made for knuckles: acts on release, forgives a slip, and counts a double tap once."""

from __future__ import annotations

import time
from collections.abc import Callable
from enum import Enum

from PySide6.QtCore import QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from packdesk.ui.theme.theme import Theme

FORGIVEN_SLIP_PX = 12
SECOND_TAP_S = 0.300
SHOWN_PRESSED_MS = 90
TICK_MS = 300


class Tap(Enum):
    """What became of a press."""

    COUNTED = "counted"
    IGNORED = "ignored"
    NOT_YET = "not_yet"


class Press(QAbstractButton):
    """The base of every control that does something.

    It acts on release inside itself enlarged by 12 design px, so that a wet finger may slip.
    A second tap within 0.3 s of the last counted one is shown as a tick and not counted.
    A held key acts once. With a `missing` text the control is "not yet": it stays readable and
    focusable, and a press only asks for what is missing. `clock` tells the seconds between taps;
    without it the machine's own does.

    Signals:
        acted: a press counts.
        ignored: a second tap came too soon.
        missing_asked: pressed while "not yet"; the window moves the focus to what is missing.
    """

    acted = Signal()
    ignored = Signal()
    missing_asked = Signal()

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        ground: str = "sheet",
        clock: Callable[[], float] | None = None,
    ) -> None:
        super().__init__(parent)
        self.theme = theme
        self.ground_role = ground
        self._clock = clock or time.monotonic
        self._missing = ""
        self._last_counted_s = float("-inf")
        self._flash = self._one_shot(SHOWN_PRESSED_MS)
        self._tick = self._one_shot(TICK_MS)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(self.act)
        theme.changed.connect(self.restyle)

    @property
    def not_yet(self) -> bool:
        """Whether something is missing before this can be done."""
        return bool(self._missing)

    @property
    def shown_pressed(self) -> bool:
        """Whether the pressed look is on: while held, and at least 90 ms after a counted press."""
        return self.isDown() or self._flash.isActive()

    @property
    def tick_shown(self) -> bool:
        """Whether the tick of an ignored second tap is on."""
        return self._tick.isActive()

    def act(self) -> Tap:
        """Press the control, from a finger, its own key or the window's Space bar."""
        if self.not_yet:
            self.missing_asked.emit()
            return Tap.NOT_YET
        now = self._clock()
        if now - self._last_counted_s < SECOND_TAP_S:
            self._tick.start()
            self.update()
            self.ignored.emit()
            return Tap.IGNORED
        self._last_counted_s = now
        self._flash.start()
        self.update()
        self.acted.emit()
        return Tap.COUNTED

    def forget_tap(self) -> None:
        """The last press was none: the next one is not its second tap."""
        self._last_counted_s = float("-inf")

    def restyle(self) -> None:
        """Take up a changed theme."""
        self.updateGeometry()
        self.update()

    def hitButton(self, pos: QPoint) -> bool:
        slip = self.theme.whole(FORGIVEN_SLIP_PX)
        return self.rect().adjusted(-slip, -slip, slip, slip).contains(pos)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.isAutoRepeat():
            event.accept()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.act()
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.isAutoRepeat():
            event.accept()
        else:
            super().keyReleaseEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        """A control that is gone from the screen has nothing left to show."""
        self._flash.stop()
        self._tick.stop()
        super().hideEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.draw(painter)

    def draw(self, painter: QPainter) -> None:
        """Draw the control; every subclass has its own face."""
        raise RuntimeError(f"{type(self).__name__} has no face to draw")

    def _one_shot(self, milliseconds: int) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(milliseconds)
        timer.timeout.connect(self.update)
        return timer
