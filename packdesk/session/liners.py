"""Which pouches of a session are liners."""

from __future__ import annotations

from packdesk.session.once import once
from packdesk.session.state import SessionState


@once
def liner_numbers(session: SessionState) -> frozenset[int]:
    """The numbers of the pouches that are liners, by their plan line."""
    planned = session.plan.lines if session.plan is not None else ()
    lines = frozenset(line.line for line in planned if line.liner)
    if not lines:
        return frozenset()
    return frozenset(n for n, pouch in session.pouches.items() if pouch.line in lines)
