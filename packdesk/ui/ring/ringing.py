"""When an alarm sounds and when it rests: a ring, a pause, again each minute until acted on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.tones import length_s

EVERY_S = 60.0
"""From the start of one ring to the start of the next. An endless tone gets the program muted."""

VOLUMES = (0.5, 0.75, 1.0)
"""Part of full amplitude at the first, second and every later ring."""

Occasions = frozenset[tuple[str, datetime]]


@dataclass(frozen=True, slots=True)
class Start:
    """Begin a ring, instead of whatever sounds."""

    rhythm: Rhythm
    volume: float


@dataclass(frozen=True, slots=True)
class Stop:
    """Let nothing sound."""


Move = Start | Stop | None
"""What is to be done to the sound."""


class Ringing:
    """Ring, pause and repeat, moved on by `tick`; it makes no sound and owns no timer.

    `occasions` (see `present.alarm_words.AlarmCall`) tell whether something new fell due: that
    rings at once, also after the sound was stopped. A warning rings one single time.
    """

    def __init__(self) -> None:
        self._now: float | None = None
        self._forget()

    def _forget(self) -> None:
        self.rhythm: Rhythm | None = None
        self.sounding = False
        self.stopped = False
        self._rings = 0
        self._known: Occasions = frozenset()
        self._since: float | None = None

    @property
    def active(self) -> bool:
        """Whether it sounds, or will again by itself."""
        repeats = self.rhythm not in (None, Rhythm.WARNING)
        return self.sounding or (repeats and not self.stopped)

    @property
    def ring_age_s(self) -> float:
        """How long ago the ring in progress, or the last one, began (s)."""
        if self._since is None or self._now is None:
            return 0.0
        return max(0.0, self._now - self._since)

    @property
    def next_ring_s(self) -> float:
        """In how many seconds the next ring begins (s), if nobody acts."""
        return max(0.0, EVERY_S - self.ring_age_s)

    def begin(self, rhythm: Rhythm, occasions: Occasions = frozenset()) -> Move:
        """Ask for a rhythm; asking again for the same changes nothing.

        Without `occasions` asking again after the sound was stopped rings again.
        """
        before, self.rhythm = self.rhythm, rhythm
        fresh = not occasions <= self._known or (self.stopped and not occasions)
        self._known |= occasions
        if before is None or fresh:
            self.stopped = False
            return self._start(rhythm)
        if self.stopped or rhythm is before:
            return None
        if self.sounding or rhythm.urgency > before.urgency:
            return self._start(rhythm)
        return None

    def tick(self, now_s: float) -> Move:
        """What is to be done at `now_s` on a clock that counts through sleep."""
        self._now = now_s
        if self.rhythm is None or self.stopped:
            return None
        if self._since is None:
            self._since = now_s
        if self.rhythm is not Rhythm.WARNING and self.ring_age_s >= EVERY_S:
            start = self._start(self.rhythm)
            self._since = now_s
            return start
        if self.sounding and self.ring_age_s >= length_s(self.rhythm):
            self.sounding = False
            return Stop()
        return None

    def silence(self) -> Move:
        """Stop the sound until something new falls due."""
        if self.rhythm is None or self.stopped:
            return None
        self.stopped, self.sounding = True, False
        return Stop()

    def end(self) -> Move:
        """What rang was acted on: forget it."""
        was_sounding = self.sounding
        self._forget()
        return Stop() if was_sounding else None

    def _start(self, rhythm: Rhythm) -> Start:
        """Begin a ring; the next tick tells when that was."""
        volume = VOLUMES[min(self._rings, len(VOLUMES) - 1)]
        self._rings += 1
        self.sounding, self._since = True, None
        return Start(rhythm, volume)
