"""Waits until a pressed pointer is let go, so that nothing moves under a finger."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QGuiApplication


class LetGo(QObject):
    """Does one thing as the pointer is let go, before whatever was pressed hears of it.

    What that moves is laid out only afterwards: the press still meets what it was meant for.
    """

    def __init__(self, owner: QObject, act: Callable[[], None]) -> None:
        super().__init__(owner)
        self._act = act
        QGuiApplication.instance().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Watch for the release only."""
        if event.type() == QEvent.Type.MouseButtonRelease:
            QGuiApplication.instance().removeEventFilter(self)
            self.deleteLater()
            self._act()
        return False


def once_let_go(owner: QObject, act: Callable[[], None]) -> None:
    """Do `act` at once, or with the pointer down as soon as it is let go."""
    if QGuiApplication.mouseButtons():
        LetGo(owner, act)
    else:
        act()
