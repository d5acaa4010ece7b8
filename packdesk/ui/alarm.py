"""The sound of an alarm: rings and pauses in a rhythm until it is silenced."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication

RHYTHM_MS = (450, 450, 2100)
"""The waits after each stroke: three strokes, then a pause; told from others by rhythm."""


class Alarm(QObject):
    """Rings while it is asked to; the system's own beep where nothing better is at hand."""

    def __init__(self, parent: QObject, stroke: Callable[[], None] = QApplication.beep) -> None:
        super().__init__(parent)
        self._stroke = stroke
        self._place = 0
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._ring)

    @property
    def ringing(self) -> bool:
        """Whether it sounds, pauses of the rhythm included."""
        return self._timer.isActive()

    def ring(self) -> None:
        """Begin to ring, if it does not yet."""
        if not self.ringing:
            self._place = 0
            self._ring()

    def silence(self) -> None:
        """Stop at once."""
        self._timer.stop()

    def _ring(self) -> None:
        self._stroke()
        self._timer.start(RHYTHM_MS[self._place])
        self._place = (self._place + 1) % len(RHYTHM_MS)
