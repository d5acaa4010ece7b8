"""What takes a while, made beside the window, which tells how far it is and may stop it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, QRunnable, QThreadPool, Signal
from shiboken6 import isValid

from packdesk.desk.ports import Progress, Stopped, Trouble
from packdesk.units import NotUnderstood

STEPS = 50
"""How often a job tells how far it is, at most."""


@cache
def paper_thread() -> QThreadPool:
    """The one thread on which papers are made and drawn: one at a time, in the order asked."""
    pool = QThreadPool()
    pool.setMaxThreadCount(1)
    return pool


def printing_threads() -> QThreadPool:
    """The threads that ask the system's printing, which may keep them waiting for long."""
    return QThreadPool.globalInstance()


def settle() -> None:
    """Wait until nothing is made or printed any more and the window knows of it."""
    pools = (paper_thread(), printing_threads())
    while True:
        ended = LongJob.ended
        for pool in pools:
            pool.waitForDone()
        QCoreApplication.processEvents()
        # What the window was told may have set the next job going, perhaps to its end.
        if ended == LongJob.ended and not any(pool.activeThreadCount() for pool in pools):
            return


class _Relay(QObject):
    """Carries what a job tells from its thread to the window's.

    It outlives every job: an object that tells something itself may be deleted, over there, while
    it is still telling it over here.
    """

    told = Signal(object, str, object)

    def __init__(self) -> None:
        super().__init__()
        self.told.connect(self._pass_on)

    def _pass_on(self, job: LongJob, signal: str, what: tuple[object, ...]) -> None:
        if isValid(job):
            getattr(job, signal).emit(*what)


@cache
def _relay() -> _Relay:
    return _Relay()


class LongJob(QObject):
    """Runs `make` on another thread; all its signals arrive on the thread of the window.

    Signals:
        progressed: how much of how much is done.
        done: what `make` answered.
        failed: the `Trouble`, or the `NotUnderstood` in words, that ended it.
        stopped: it was stopped, and no file is left.
    """

    progressed = Signal(int, int)
    done = Signal(object)
    failed = Signal(object)
    stopped = Signal()
    ended = 0
    """How many jobs came to an end so far."""

    def __init__(
        self,
        make: Callable[[Progress], Any],
        parent: QObject | None = None,
        *,
        threads: Callable[[], QThreadPool] = paper_thread,
    ) -> None:
        super().__init__(parent)
        self._make = make
        self._threads = threads
        self._relay = _relay()
        self._stop = False
        self.so_far = (0, 0)
        self.progressed.connect(self._note)

    def start(self) -> None:
        """Begin; returns at once."""
        self._threads().start(QRunnable.create(self._run))

    def stop(self) -> None:
        """Ask it to stop at the next step."""
        self._stop = True

    def _note(self, done: int, of: int) -> None:
        self.so_far = (done, of)

    def _tell(self, done: int, of: int) -> None:
        """Called on the other thread; a window closed meanwhile stops the job."""
        if self._stop or not isValid(self):
            raise Stopped
        if done == of or done % max(of // STEPS, 1) == 0:
            self._hand_over("progressed", done, of)

    def _run(self) -> None:
        """Called on the other thread; whatever goes wrong is handed to the window's."""
        try:
            if self._stop or not isValid(self):
                raise Stopped
            made = self._make(self._tell)
        except Stopped:
            self._hand_over("stopped")
        except (Trouble, NotUnderstood) as known:
            self._hand_over("failed", known)
        except Exception as error:
            wrong = f"It was not done: {error}."
            self._hand_over("failed", Trouble(wrong, "Try again; nothing was recorded."))
        else:
            self._hand_over("done", made)
        finally:
            LongJob.ended += 1

    def _hand_over(self, signal: str, *what: object) -> None:
        self._relay.told.emit(self, signal, what)
