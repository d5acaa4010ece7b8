"""What is still under way in a session, so that nothing that waits is closed away unseen."""

from __future__ import annotations

from packdesk.sentences import joined
from packdesk.session.numbers import listed
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import still_to_come


def under_way(session: SessionState) -> tuple[str, ...]:
    """Say each thing that still waits for a hand: loads by where they are, pouches, pails."""
    cold = [load.load for load in session.loads.values() if load.taken_out is None]
    warming = [
        load.load
        for load in session.loads.values()
        if load.taken_out is not None and load.uncovered is None
    ]
    unsealed = [pouch.number for pouch in session.working_pouches() if not pouch.gas_tight]
    lidless = [pail.pail for pail in session.pails.values() if pail.pouches and not pail.lidded]
    return (
        *unfilled(session),
        *([f"{_named('Load', cold)} in the freezer."] if cold else []),
        *([f"{_named('Load', warming)} taken out and not opened yet."] if warming else []),
        *([f"{listed(unsealed)} without a seam all along."] if unsealed else []),
        *([f"{_named('Pail', lidless)} without a lid."] if lidless else []),
    )


def unfilled(session: SessionState) -> tuple[str, ...]:
    """Say of each food how many pouches were never filled, though there is food for them."""
    found: dict[str, tuple[int, int, int]] = {}
    for line in session.plan.lines if session.plan is not None else ():
        coming = still_to_come(session, line)
        more = coming.more if coming.differs else min(coming.to_fill, coming.more)
        if session.closed_at is not None and _emptied(session, line.line):
            more = 0  # eaten since, as a rule: whether that food still waited is not known
        food = line.food_name.partition(",")[0]
        filled, planned, before = found.get(food, (0, 0, 0))
        found[food] = filled + coming.filled, planned + line.count, before + more
    return tuple(
        f"{filled} of {planned} pouches of {food} filled; food for {more} more is left."
        for food, (filled, planned, more) in found.items()
        if more
    )


def _emptied(session: SessionState, line: int) -> bool:
    return any(pouch.emptied for pouch in session.pouches.values() if pouch.line == line)


def _named(what: str, names: list[str]) -> str:
    """Start a sentence about several of a kind: `Load A is`, `Loads A, B and C are`."""
    one = len(names) == 1
    return f"{what}{'' if one else 's'} {joined(names)} {'is' if one else 'are'}"
