"""Twice a second: what the clocks say now, what fell due, and whether the computer slept."""

from __future__ import annotations

import logging

from PySide6.QtCore import QObject, Qt, QTimer, Signal

from packdesk.desk.desk import Desk
from packdesk.desk.ports import Trouble
from packdesk.instants import Reading, span, wall_set_s
from packdesk.present.early_warning import warnings_due

BEAT_MS = 500
ASLEEP_FROM_S = 20.0
"""A gap between two beats as long as this is not a busy moment: the computer slept."""

_log = logging.getLogger(__name__)


class Heartbeat(QObject):
    """Reads the clocks anew at every beat; nothing is counted, so a late beat loses nothing.

    Signals:
        beat: the reading of this beat, after what fell due was put on record.
        slept: how long (s) the computer slept between two beats.
        clock_set: how far (s) its wall clock was set forward between them (negative: back).
        troubled: what fell due could not be put on record (a `Trouble`).
    """

    beat = Signal(object)
    slept = Signal(float)
    clock_set = Signal(float)
    troubled = Signal(object)

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._last: Reading | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(BEAT_MS)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self.tick)

    def start(self) -> None:
        """Beat from now on."""
        self._timer.start()

    def stop(self) -> None:
        """Beat no more."""
        self._timer.stop()

    def tick(self) -> None:
        """One beat."""
        now = self._desk.now()
        gap_s = self._gap_s(now)
        set_s = wall_set_s(self._last, now) if self._last is not None else 0.0
        self._last = now
        try:
            self._desk.ring_due()
            self._warn(now)
            self._desk.ring_elsewhere()
        except Trouble as trouble:
            self.troubled.emit(trouble)
        if gap_s >= ASLEEP_FROM_S:
            _log.info("no beat for %.0f s", gap_s)
            self.slept.emit(gap_s)
        if set_s:
            _log.info("the wall clock was set by %.0f s", set_s)
            self.clock_set.emit(set_s)
        self.beat.emit(now)

    def _warn(self, now: Reading) -> None:
        """Put the warnings of clocks that are soon due on record."""
        session = self._desk.state.session
        if session is None or self._desk.state.newer_kinds:
            return
        for warning in warnings_due(session, now):
            self._desk.submit(warning)

    def _gap_s(self, now: Reading) -> float:
        """How long since the last beat, by the clock that counts through sleep."""
        last = self._last
        if last is None or last.boot != now.boot:
            return 0.0
        return max(0.0, now.steady_s - last.steady_s)


def slept_words(gap_s: float, fell_due: str) -> str:
    """Say that the computer slept, and what fell due meanwhile if anything did."""
    meanwhile = f" {fell_due}." if fell_due else ""
    return f"This computer slept {span(gap_s)}. No clock was lost.{meanwhile}"
