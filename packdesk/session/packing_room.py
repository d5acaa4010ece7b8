"""How warm the room is in which food is packed and loads warm up: as read, or as planned."""

from __future__ import annotations

from packdesk.session.state import Plan, SessionState

USUAL_ROOM_C = 21.0
"""The room where nobody has said otherwise (common practice, no source)."""


def planned_room_c(plan: Plan | None) -> float:
    """The room as it is planned to be, or usually is before there is a plan (°C)."""
    return plan.packing_temp_c if plan is not None else USUAL_ROOM_C


def known_room_c(session: SessionState) -> float:
    """The room as it was last read; before any reading, as it is planned to be (°C)."""
    if session.room_readings:
        return max(session.room_readings, key=lambda reading: reading.at).temp_c
    return planned_room_c(session.plan)
