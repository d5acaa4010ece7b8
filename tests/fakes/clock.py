"""A clock that a test drives: time goes by, the machine sleeps, restarts, its clock is set."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from packdesk.instants import OffsetAt, Reading

START = datetime(2026, 11, 20, 18, 0, tzinfo=UTC)


class DrivenClock:
    """Stands still until it is told; lengths of time are given as to `timedelta`.

    With an empty `boot` it is a machine that does not name its runs. A `place` knows the local
    offset of every instant, so that the clocks change with the season.
    """

    def __init__(
        self,
        start: datetime = START,
        utc_offset_min: int = 60,
        boot: str = "boot 1",
        place: OffsetAt | None = None,
    ) -> None:
        if place is not None:
            utc_offset_min = place(start)
        self._now = Reading(start, utc_offset_min, 1000.0, boot, place=place)
        self._runs = 1

    def reading(self) -> Reading:
        """What all clocks say now."""
        return self._now

    def set(self, reading: Reading) -> None:
        """Let all clocks say `reading`."""
        self._now = reading

    def go(self, **length: float) -> None:
        """Let time go by; the machine is awake."""
        passed = timedelta(**length)
        self._set(self._now.utc + passed, steady_s=self._now.steady_s + passed.total_seconds())

    def sleep(self, **length: float) -> None:
        """Let the machine sleep: its steady clock counts on, nobody looks at it."""
        self.go(**length)

    def step_wall(self, **length: float) -> None:
        """Set the wall clock, forward or back; no time goes by."""
        self._set(self._now.utc + timedelta(**length))

    def reboot(self, **off: float) -> None:
        """Switch the machine off and on again after a while: the steady clock starts anew."""
        self._runs += 1
        boot = f"boot {self._runs}" if self._now.boot else ""
        self._set(self._now.utc + timedelta(**off), steady_s=5.0, boot=boot)

    def change_season(self, by_min: int) -> None:
        """Let the local time be set forward or back, as twice a year; no time goes by."""
        self._set(self._now.utc, utc_offset_min=self._now.utc_offset_min + by_min)

    def _set(
        self,
        utc: datetime,
        *,
        utc_offset_min: int | None = None,
        steady_s: float | None = None,
        boot: str | None = None,
    ) -> None:
        now = self._now
        if utc_offset_min is None:
            utc_offset_min = now.place(utc) if now.place is not None else now.utc_offset_min
        self._now = Reading(
            utc,
            utc_offset_min,
            now.steady_s if steady_s is None else steady_s,
            now.boot if boot is None else boot,
            place=now.place,
        )
