"""Which plan lines pouches were filled by, and what of them a change of the plan leaves alone."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from packdesk.session.figures import AgreedLine
from packdesk.session.net_mass import held_pouches
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import still_to_come

_IN_THE_POUCH = ("lot", "pouch", "fill_mass_g", "absorbers_cc", "oxygen_need_cc")
"""What tells of the pouches that are filled, not of those to come."""


def taken_g(session: SessionState, line: AgreedLine) -> float:
    """How much of a line's food (g) is in pouches or lost."""
    return max(0.0, line.mass_g - still_to_come(session, line).left_g)


def settled(session: SessionState, line: AgreedLine) -> AgreedLine:
    """The line with the pouches that are filled and no more, its food what they took."""
    filled = len(session.working_pouches(line.line))
    if filled == line.count:
        return replace(line, mass_g=round(taken_g(session, line), 1))
    return replace(
        line,
        mass_g=round(taken_g(session, line), 1),
        count=max(1, filled),
        last_fill_mass_g=None,
    )


def against_filled(session: SessionState, lines: Iterable[AgreedLine]) -> str:
    """What stands against agreeing `lines`: figures of filled pouches told otherwise; or empty.

    Asked where a plan is ordered, not in the rule book: a plan on record stays as it is.
    """
    for line in lines:
        then = session.plan.line(line.line) if session.plan is not None else None
        if then is None or not held_pouches(session, then):
            continue
        if any(getattr(line, name) != getattr(then, name) for name in _IN_THE_POUCH):
            return (
                f"Pouches of {then.food_name} are filled already. Keep the pouch, mass and "
                "absorbers they were planned with; the rest of the food is a line of its own."
            )
    return ""
