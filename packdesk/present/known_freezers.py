"""What is on record of the freezers of a session: said with a load, or read since."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.state import SessionState
from packdesk.session.terms import Stands


@dataclass(frozen=True, slots=True)
class KnownFreezer:
    """A freezer that loads went into, and where in it the last one stands.

    `height_mm`, `spare_power_w` and `capacity_g`, its freezing capacity in 24 hours, are None where
    they are not known.
    """

    number: int
    rest_temp_c: float
    spare_power_w: float | None
    frozen_food_kg: float
    height_mm: float | None
    capacity_g: float | None = None
    stands: Stands = Stands.FREE_AIR


def known_freezer(session: SessionState, number: int) -> KnownFreezer | None:
    """What is known of this freezer; None before a load went into it."""
    said = [load.figures for load in session.loads.values() if load.figures.freezer == number]
    if not said:
        return None
    last = said[-1]
    heights = [each.freezer_height_mm for each in said if each.freezer_height_mm is not None]
    capacities = [each.capacity_g for each in said if each.capacity_g is not None]
    return KnownFreezer(
        number,
        _rest_temp_c(session, number, last.freezer_temp_c),
        last.spare_power_w,
        last.frozen_food_kg,
        heights[-1] if heights else None,
        capacities[-1] if capacities else None,
        last.stands,
    )


def known_freezers(session: SessionState) -> tuple[KnownFreezer, ...]:
    """Every freezer that is known, by number."""
    numbers = sorted({load.figures.freezer for load in session.loads.values()})
    found = (known_freezer(session, number) for number in numbers)
    return tuple(each for each in found if each is not None)


def rest_temp_c(session: SessionState, number: int, otherwise_c: float) -> float:
    """A freezer's air at rest: as last known, as read before a load went in, or as given."""
    known = known_freezer(session, number)
    return known.rest_temp_c if known is not None else _rest_temp_c(session, number, otherwise_c)


def _rest_temp_c(session: SessionState, number: int, said_c: float) -> float:
    reckoned = session.freezers.get(number)
    if reckoned is not None:
        return reckoned.settled_c
    read = [each.temp_c for each in session.freezer_readings if each.freezer == number]
    return read[-1] if read else said_c
