"""What the desktop shows beside the window: a notification, or words on why there is none."""

from __future__ import annotations

import queue
import sys
import threading
from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QStyle, QSystemTrayIcon

from packdesk.ui.ring.desktop_bus import CRITICAL, NORMAL, DesktopBus

ASKED = "A desktop notification was asked for."
ASKING = "A desktop notification is being asked for."
NO_TRAY = "No desktop notification: this desktop has no place for one."
NONE_WANTED = ""

_Jobs = queue.SimpleQueue[Callable[[], None] | None]


class Notices(Protocol):
    """A place on the desktop for one notice at a time; answers at once, whatever it takes."""

    @property
    def words(self) -> str:
        """What came of the last notice."""

    def show(self, title: str, body: str, *, critical: bool) -> None:
        """Show a notice instead of the last; a critical one stays until it is taken away."""

    def withdraw(self) -> None:
        """Take the notice away."""

    def close(self) -> None:
        """Show no more."""


def default_notices(parent: QObject, system: str = sys.platform) -> Notices:
    """The desktop's own: the message bus where there is one, else the notification area."""
    if system in ("win32", "darwin"):
        return TrayNotices(parent)
    return BusNotices()


class NoNotices:
    """Shows nothing."""

    words = NONE_WANTED

    def show(self, title: str, body: str, *, critical: bool) -> None:
        """Do nothing."""

    def withdraw(self) -> None:
        """Do nothing."""

    def close(self) -> None:
        """Do nothing."""


class BusNotices:
    """Notices by the message bus, from a thread of their own: a bus may take seconds to answer."""

    def __init__(self, bus: DesktopBus | None = None) -> None:
        self._bus = bus or DesktopBus()
        self._jobs: _Jobs = queue.SimpleQueue()
        self._thread: threading.Thread | None = None
        self.words = NONE_WANTED

    def show(self, title: str, body: str, *, critical: bool) -> None:
        """Have it shown; `words` tells what came of it."""
        self.words = ASKING
        urgency = CRITICAL if critical else NORMAL
        self._do(lambda: self._show(title, body, urgency))

    def withdraw(self) -> None:
        """Have it taken away."""
        if self._thread is not None:
            self._do(self._bus.withdraw)

    def close(self, wait_s: float = 0.05) -> None:
        """Take the notice away and end the thread; a bus that does not answer is not waited for."""
        thread, self._thread = self._thread, None
        if thread is not None:
            self._jobs.put(self._bus.withdraw)
            self._jobs.put(None)
            thread.join(wait_s)

    def _show(self, title: str, body: str, urgency: int) -> None:
        self.words = self._bus.show(title, body, urgency)

    def _do(self, job: Callable[[], None]) -> None:
        if self._thread is None:
            self._jobs = queue.SimpleQueue()
            self._thread = threading.Thread(
                target=_work, args=(self._jobs,), name="notices", daemon=True
            )
            self._thread.start()
        self._jobs.put(job)


def _work(jobs: _Jobs) -> None:
    while (job := jobs.get()) is not None:
        job()


class TrayNotices:
    """Notices by an icon in the notification area, which is there only while one is shown."""

    def __init__(self, parent: QObject) -> None:
        self._parent = parent
        self._icon: QSystemTrayIcon | None = None
        self.words = NONE_WANTED

    def show(self, title: str, body: str, *, critical: bool) -> None:
        """Ask for it; whether it was shown no desktop tells."""
        if not (QSystemTrayIcon.isSystemTrayAvailable() and QSystemTrayIcon.supportsMessages()):
            self.words = NO_TRAY
            return
        if self._icon is None:
            self._icon = QSystemTrayIcon(self._parent)
            style = QApplication.style()
            own = QApplication.windowIcon()
            warning = style.standardIcon(QStyle.StandardPixmap.SP_MessageBoxWarning)
            self._icon.setIcon(warning if own.isNull() else own)
            self._icon.setToolTip("PackDesk")
        self._icon.show()
        kind = QSystemTrayIcon.MessageIcon
        self._icon.showMessage(title, body, kind.Critical if critical else kind.Information)
        self.words = ASKED

    def withdraw(self) -> None:
        """Take the icon away; the message goes with it where the desktop allows."""
        if self._icon is not None:
            self._icon.hide()

    def close(self) -> None:
        """Show no more."""
        icon, self._icon = self._icon, None
        if icon is not None:
            icon.hide()
            icon.deleteLater()
