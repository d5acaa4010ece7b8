"""Temperatures that cannot be where they were read, and what was likely meant by them.

Each answers an objection in words, in the units of the session, or nothing.
"""

from __future__ import annotations

import math

from packdesk.session.likely_meant import as_read, likely_meant
from packdesk.units import NO_BREAK_SPACE, Dimension, System, say

PROBE_C = (-60.0, 45.0)
FREEZER_C = (-60.0, 45.0)
"""What a freezer's thermometer may show; one that fails is as warm as the room."""

AT_REST_C = (-60.0, 5.0)
COLD_C = (-40.0, 0.0)
"""What a freezer is meant to be."""

FOOD_C = (-10.0, 50.0)
"""Food before the cold: from a shed in winter to a store under a tin roof (our choice)."""

ROOM_C = (0.0, 45.0)
HUMIDITY = (0.01, 1.0)


def no_such_probe(temp_c: float, units: str) -> str:
    """Object to what a probe in or on a load showed."""
    return _objection("A reading", temp_c, PROBE_C, PROBE_C, units)


def no_such_freezer(temp_c: float, units: str) -> str:
    """Object to what a freezer's thermometer showed."""
    return _objection("A freezer's temperature", temp_c, FREEZER_C, COLD_C, units)


def no_such_rest(temp_c: float, units: str) -> str:
    """Object to what is said of a freezer before its loads warm it."""
    return _objection("A freezer at rest", temp_c, AT_REST_C, COLD_C, units)


def no_such_food(temp_c: float, units: str) -> str:
    """Object to what is said of food before it goes into the cold."""
    return _objection("Food before the cold", temp_c, FOOD_C, FOOD_C, units)


def no_such_room(temp_c: float, relative_humidity: float | None, units: str) -> str:
    """Object to what was read of a room: its temperature, its relative humidity (0 to 1)."""
    low, high = HUMIDITY
    if relative_humidity is not None and not low <= relative_humidity <= high:
        return "Relative humidity lies between 1 and 100 %. Enter what the hygrometer shows."
    return _objection("A room temperature", temp_c, ROOM_C, ROOM_C, units)


def _objection(
    what: str,
    temp_c: float,
    within_c: tuple[float, float],
    expected_c: tuple[float, float],
    units: str,
) -> str:
    """Object to a temperature beyond `within_c`; where `expected_c` lies tells what was meant."""
    low_c, high_c = within_c
    if low_c <= temp_c <= high_c:
        return ""
    low, high = (say(each, Dimension.TEMPERATURE, System(units), 0.5) for each in within_c)
    enter = f"Enter {low.partition(NO_BREAK_SPACE)[0]} to {high}."
    if not math.isfinite(temp_c):
        return f"{what} needs a figure. {enter}"
    read, meant = as_read(temp_c, units), likely_meant(temp_c, *expected_c, units)
    return f"{what} of {read} cannot be. {enter} {meant}".rstrip()
