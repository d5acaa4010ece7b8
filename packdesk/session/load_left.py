"""Which open load the next food comes from, reckoned from what went into pouches so far."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from packdesk.session.admit.rule import TYPED_TO
from packdesk.session.figures import AgreedLine
from packdesk.session.load import Load
from packdesk.session.net_mass import net_mass_g
from packdesk.session.once import once
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState

EMPTY_SHARE = 0.05
"""Less than this share of a pouch is not worth a straddle: scoops and scales differ by as much."""


def opened_loads(session: SessionState, lot: str, at: datetime | None = None) -> tuple[Load, ...]:
    """The uncovered loads of a lot, in the order they were opened; until `at`, if given."""
    found = [
        (load.uncovered.utc, load.load, load)
        for load in session.loads.values()
        if load.lot == lot and load.uncovered is not None
    ]
    in_order = sorted(found, key=lambda each: each[:2])
    return tuple(load for opened, _, load in in_order if at is None or opened <= at + TYPED_TO)


@once
def left_g(session: SessionState, lot: str) -> Mapping[str, float]:
    """What each open load of a lot still holds (g), by reckoning; a pouch empties loads in turn.

    Emptied pouches gave their food back. Pouches whose load is not known are left out.
    """
    left = {load.load: load.mass_g for load in opened_loads(session, lot)}
    for pouch in _as_filled(session):
        line = session.plan.line(pouch.line) if session.plan is not None else None
        if line is None or line.lot != lot or pouch.emptied:
            continue
        rest_g = net_mass_g(session, line, pouch)
        for place, letter in enumerate(pouch.loads):
            last = place == len(pouch.loads) - 1
            part_g = rest_g if last else min(rest_g, left.get(letter, 0.0))
            left[letter] = max(0.0, left.get(letter, 0.0) - part_g)
            rest_g -= part_g
    return left


def next_loads(session: SessionState, line: AgreedLine, mass_g: float) -> tuple[str, ...]:
    """The loads that the next `mass_g` of a plan line likely comes from, in that order.

    It goes on with the load named last, then with the next one opened; empty where none is open.
    """
    order = [load.load for load in opened_loads(session, line.lot)]
    if not order:
        return ()
    left, at = left_g(session, line.lot), order.index(load_in_hand(session, line.lot))
    least_g = EMPTY_SHARE * line.fill_mass_g
    found: list[str] = []
    rest_g = mass_g
    for letter in order[at:]:
        if left[letter] > least_g:
            found.append(letter)
            rest_g -= left[letter]
        if rest_g <= least_g:
            break
    return tuple(found) or (order[-1],)


@once
def load_in_hand(session: SessionState, lot: str) -> str:
    """The open load of a lot that was filled from last; before that the one opened first."""
    order = [load.load for load in opened_loads(session, lot)]
    for pouch in reversed(_as_filled(session)):
        if pouch.loads and pouch.loads[-1] in order:
            return pouch.loads[-1]
    return order[0] if order else ""


def _as_filled(session: SessionState) -> list[Pouch]:
    """The pouches in the order they were filled; numbers given beforehand say nothing of it."""
    return sorted(session.pouches.values(), key=lambda pouch: (pouch.filled_at, pouch.number))
