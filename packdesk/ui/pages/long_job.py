"""What takes a while, made beside the window, which tells how far it is and may stop it."""

from __future__ import annotations

import gc
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait
from functools import cache
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, Signal
from shiboken6 import isValid

from packdesk.desk.ports import Progress, Stopped, Trouble
from packdesk.units import NotUnderstood

STEPS = 50
"""How often a job tells how far it is, at most."""


class Threads:
    """Threads that errands are done on, in the order asked, at most `count` at a time.

    Python's own threads: with runnables of Qt (PySide6 6.11) a widget's Python half was now and
    then gone before the widget, and closing the window ended in a crash.
    """

    def __init__(self, count: int, name: str) -> None:
        self._pool = ThreadPoolExecutor(count, thread_name_prefix=name)
        self._asked: set[Future[None]] = set()

    def start(self, run: Callable[[], None]) -> None:
        """Do this when its turn comes; returns at once."""
        self._asked = {each for each in self._asked if not each.done()}
        self._asked.add(self._pool.submit(run))

    @property
    def busy(self) -> bool:
        """Whether anything is being done, or waits for its turn."""
        return not all(each.done() for each in self._asked)

    def wait(self) -> None:
        """Wait until nothing is done any more."""
        wait(self._asked)


@cache
def paper_thread() -> Threads:
    """The one thread on which papers are made and drawn: one at a time, in the order asked."""
    return Threads(1, "papers")


@cache
def reckoning_thread() -> Threads:
    """The one thread for reckonings that nobody waits for: they must not wait behind papers."""
    return Threads(1, "reckoning")


@cache
def printing_threads() -> Threads:
    """The threads that ask the system's printing, which may keep them waiting for long."""
    return Threads(4, "printing")


def settle() -> None:
    """Wait until nothing is made or printed any more and the window knows of it."""
    pools = (paper_thread(), reckoning_thread(), printing_threads())
    while True:
        ended = _Errand.ended
        for pool in pools:
            pool.wait()
        QCoreApplication.processEvents()
        # What the window was told may have set the next job going, perhaps to its end.
        if ended == _Errand.ended and not any(pool.busy for pool in pools):
            return


class _Errand:
    """What another thread works on: plain Python alone.

    No widget and no `LongJob` is held over there. Whoever lets go of the last hold on such an
    object deletes it, and on a thread that is not its own this brings the program down.
    """

    ended = 0
    """How many errands came to an end so far."""

    def __init__(self, make: Callable[[Progress], Any]) -> None:
        self._make = make
        self._relay = _relay()
        self._stop = False

    def stop(self) -> None:
        """Nobody waits for it any more: it ends at its next step."""
        self._stop = True

    def run(self) -> None:
        """Called on the other thread; whatever goes wrong is handed to the window's."""
        try:
            if self._stop:
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
            _Errand.ended += 1

    def _tell(self, done: int, of: int) -> None:
        if self._stop:
            raise Stopped
        if done == of or done % max(of // STEPS, 1) == 0:
            self._hand_over("progressed", done, of)

    def _hand_over(self, signal: str, *what: object) -> None:
        self._relay.told.emit(self, signal, what)


class _Relay(QObject):
    """Carries what an errand tells to the window's thread, and knows there whose errand it is."""

    told = Signal(object, str, object)

    def __init__(self) -> None:
        super().__init__()
        self.told.connect(self._pass_on)
        self._jobs: dict[_Errand, LongJob] = {}

    def expect(self, errand: _Errand, job: LongJob) -> None:
        """From now on what is told of this errand is the job's.

        Meanwhile nothing is swept up: the sweep runs on whichever thread happens to ask for
        memory, and a widget that is swept up on a thread not its own brings the program down.
        """
        gc.disable()
        self._jobs[errand] = job

    def _pass_on(self, errand: _Errand, signal: str, what: tuple[object, ...]) -> None:
        job = self._jobs[errand] if signal == "progressed" else self._jobs.pop(errand)
        if not self._jobs:
            gc.enable()
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

    def __init__(
        self,
        make: Callable[[Progress], Any],
        parent: QObject | None = None,
        *,
        threads: Callable[[], Threads] = paper_thread,
    ) -> None:
        super().__init__(parent)
        self._errand = _Errand(make)
        self.destroyed.connect(self._errand.stop)
        self._threads = threads
        self.so_far = (0, 0)
        self.progressed.connect(self._note)

    def start(self) -> None:
        """Begin; returns at once."""
        _relay().expect(self._errand, self)
        self._threads().start(self._errand.run)

    def stop(self) -> None:
        """Ask it to stop at the next step."""
        self._errand.stop()

    def _note(self, done: int, of: int) -> None:
        self.so_far = (done, of)
