"""What do the clocks of this machine say?"""

from __future__ import annotations

import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

from packdesk.instants import OWN_RUN, Reading

_LINUX_BOOT = Path("/proc/sys/kernel/random/boot_id")


class SystemClock:
    """Reads the real clocks; the only place in PackDesk that does."""

    def __init__(self) -> None:
        self._boot = boot_identity() or f"{OWN_RUN}{uuid4()}"

    def reading(self) -> Reading:
        """What all clocks say at this instant."""
        steady_s = steady_clock_s()
        utc = datetime.now(UTC)
        return Reading(utc, self.offset_min(utc), steady_s, self._boot, place=self.offset_min)

    @staticmethod
    def offset_min(utc: datetime) -> int:
        """How many minutes the local wall clock is ahead of UTC at `utc`, summer time included."""
        offset = utc.astimezone().utcoffset()
        return round(offset.total_seconds() / 60) if offset is not None else 0


def steady_clock_s() -> float:
    """Seconds on the clock that counts through sleep and that nobody can set.

    Python's own monotonic clock stops during sleep on Linux (PEP 418), hence the boot-time
    clock there; on macOS the system's monotonic clock counts sleep; on Windows the tick count
    does. Only Linux was tried.
    """
    if sys.platform == "linux":
        return time.clock_gettime(time.CLOCK_BOOTTIME)
    if sys.platform == "win32":
        import ctypes

        ticks = ctypes.windll.kernel32.GetTickCount64
        ticks.restype = ctypes.c_uint64
        return float(ticks()) / 1000
    return time.clock_gettime(time.CLOCK_MONOTONIC)


def boot_identity() -> str:
    """Which run of the machine this is; empty where the system does not tell (Windows)."""
    if sys.platform == "linux":
        return _first_line(_LINUX_BOOT)
    if sys.platform == "darwin":
        return _answer("sysctl", "-n", "kern.bootsessionuuid")
    return ""


def _first_line(file: Path) -> str:
    try:
        return file.read_text("ascii").strip()
    except (OSError, ValueError):
        return ""


def _answer(*command: str) -> str:
    try:
        told = subprocess.run(command, capture_output=True, text=True, timeout=5, check=True)
    except (OSError, subprocess.SubprocessError):
        return ""
    return told.stdout.strip()
