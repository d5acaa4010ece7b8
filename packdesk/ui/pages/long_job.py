"""A paper that takes a while: made beside the window, which tells how far it is and may stop it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal
from shiboken6 import isValid

from packdesk.desk.ports import Progress, Stopped, Trouble

STEPS = 50
"""How often a job tells how far it is, at most."""


class LongJob(QObject):
    """Runs `make` on another thread; all its signals arrive on the thread of the window.

    Signals:
        progressed: how much of how much is done.
        done: what `make` answered.
        failed: the `Trouble` or other error that ended it.
        stopped: it was stopped, and no file is left.
    """

    progressed = Signal(int, int)
    done = Signal(object)
    failed = Signal(object)
    stopped = Signal()

    def __init__(self, make: Callable[[Progress], Any], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._make = make
        self._stop = False
        self.so_far = (0, 0)
        self.progressed.connect(self._note)

    def start(self) -> None:
        """Begin; returns at once."""
        QThreadPool.globalInstance().start(QRunnable.create(self._run))

    def stop(self) -> None:
        """Ask it to stop at the next label."""
        self._stop = True

    def _note(self, done: int, of: int) -> None:
        self.so_far = (done, of)

    def _tell(self, done: int, of: int) -> None:
        """Called on the other thread; a window closed meanwhile stops the job."""
        if self._stop or not isValid(self):
            raise Stopped
        if done == of or done % max(of // STEPS, 1) == 0:
            self.progressed.emit(done, of)

    def _run(self) -> None:
        """Called on the other thread; whatever goes wrong is handed to the window's."""
        try:
            made = self._make(self._tell)
        except Stopped:
            self._hand_over("stopped")
        except Trouble as trouble:
            self._hand_over("failed", trouble)
        except Exception as error:
            wrong = f"The paper was not made: {error}."
            self._hand_over("failed", Trouble(wrong, "Try again; nothing was recorded."))
        else:
            self._hand_over("done", made)

    def _hand_over(self, signal: str, *what: object) -> None:
        if isValid(self):
            getattr(self, signal).emit(*what)
