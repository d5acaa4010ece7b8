"""A clock that says what it was told last: for rehearsing a session of days in seconds."""

from __future__ import annotations

from datetime import datetime

from packdesk.instants import Reading


class DrivenClock:
    """Answers the reading it was set to."""

    def __init__(self, start: Reading) -> None:
        self._reading = start

    def reading(self) -> Reading:
        """What the clock was set to last."""
        return self._reading

    def set(self, reading: Reading) -> None:
        """Let it be `reading` from now on."""
        self._reading = reading

    def offset_min(self, utc: datetime) -> int:
        """The local offset: that of the reading in force."""
        return self._reading.utc_offset_min
