"""What all clocks would have said when something happened that was noted later."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from packdesk.instants import Reading


def reading_at(happened_at: datetime, recorded: Reading) -> Reading:
    """Carry a reading back to `happened_at`: the steady clock by as much as the wall clock.

    What is dated beyond the reading, its wall clock being behind, happened by the steady clock
    when it was recorded.
    """
    earlier_s = max(0.0, (recorded.utc - happened_at).total_seconds())
    return replace(recorded, utc=happened_at, steady_s=recorded.steady_s - earlier_s)
