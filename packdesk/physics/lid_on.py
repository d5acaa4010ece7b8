"""How long the lid stays on after a load has come out of the freezer, to keep the food dry."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from packdesk.physics.heat_bands import Band
from packdesk.physics.heat_bodies import Surroundings
from packdesk.physics.heat_ensemble import Ensemble
from packdesk.physics.ranges import Floats, within

DEW_POINT_MARGIN_K = 2.0
ROOM_MARGIN_K = 3.0
DAMP_ROOM_MARGIN_K = 0.5
"""Food never quite reaches the room; this close it is as warm as it will ever be."""

_MARKS_H = (0.0, 6.0, 12.0, 24.0, 48.0, 96.0)
_LEADS_WITHIN_K = 0.001


class LidRule(StrEnum):
    """Which reading the lid waits for."""

    DEW_POINT = "dew point"
    """The room's humidity was read: 2 K above its dew point."""
    DAMP_ROOM = "damp room"
    """The humidity was read, and 2 K above the dew point is warmer than food can become."""
    ROOM = "room"
    """The humidity was not read: within 3 K of the room."""


@dataclass(frozen=True, slots=True)
class LidLimit:
    """How warm the coldest food must be before the lid may come off, and by which rule."""

    rule: LidRule
    open_above_c: float
    dry: bool
    """Whether food that warm stays dry for certain: not without a humidity reading, and not in a
    room so damp that food as warm as the room still sweats. There, dry the room or move the load
    first."""


def lid_limit(room_temp_c: float, dew_point_c: float | None = None) -> LidLimit:
    """How warm the coldest food of a load must be before its lid may come off.

    Symbols: ``room_temp_c`` air where the lid will come off, 0 to 45 °C; ``dew_point_c`` the dew
    point of that air, −40 °C to ``room_temp_c``, or None if humidity was not read.

    Source: air that touches food colder than its own dew point leaves water on it. Museums keep
    frozen bags shut until the contents are at room temperature (Canadian Conservation Institute
    Notes 3/3). The margins of 2 K and 3 K are common practice, no source.

    Example: 25 °C at 60 % has its dew point at 16.70 °C (PsychroLib 2.5.0 and CoolProp 8.0.0);
    the food must be at 18.7 °C:

    >>> round(lid_limit(25.0, 16.70).open_above_c, 2)
    18.7

    Limits: within 3 K of the room is dry only up to about 83 % relative humidity.
    """
    room = within("room_temp_c", room_temp_c, 0.0, 45.0, "°C")
    if dew_point_c is None:
        return LidLimit(LidRule.ROOM, room - ROOM_MARGIN_K, dry=False)
    dew_point = within("dew_point_c", dew_point_c, -40.0, room, "°C")
    warmest = room - DAMP_ROOM_MARGIN_K
    if dew_point + DEW_POINT_MARGIN_K <= warmest:
        return LidLimit(LidRule.DEW_POINT, dew_point + DEW_POINT_MARGIN_K, dry=True)
    return LidLimit(LidRule.DAMP_ROOM, warmest, dry=dew_point < warmest)


def lid_on_h(
    members: Ensemble,
    start_temp_c: float,
    history: Sequence[Surroundings],
    taken_out_h: float,
    limit: LidLimit,
    *,
    look_ahead_h: float = 240.0,
    step_h: float = 0.5,
) -> Band:
    """How many hours after ``taken_out_h`` the lid may come off.

    Symbols: ``members`` the load with its uncertainty; ``start_temp_c`` and ``history`` as in
    ``heat.temperatures_c``, the room included from ``taken_out_h`` on; ``limit`` from
    ``lid_limit``; ``look_ahead_h`` how long after take-out is looked at, ``step_h`` how finely.

    Source: the coldest place of the food, wherever it is, held against the limit; nothing is
    asked of the pail meanwhile, for its lid is shut.

    Example: white rice at −18 °C in a pail of five gallons is 3 K below a room at 21 °C after 35
    hours (science of the trade, computed by a one-term series):

    >>> from packdesk.physics.heat import Cylinder, Filling, Spreads, ensemble
    >>> certain = Spreads(0.0, 0.0, 0.0, 0.0, 0.0)
    >>> rice = Filling(0.11, 1700.0, 800.0)
    >>> one = ensemble(Cylinder(0.14, 0.34), rice, members=1, spreads=certain)
    >>> room = [Surroundings(0.0, 21.0, 9.0)]
    >>> round(lid_on_h(one, -18.0, room, 0.0, lid_limit(21.0)).likely_h)
    35

    Limits: infinite where the limit is not reached within ``look_ahead_h``; the outside of the
    pail and its rim may be wet although the food is warm enough: wipe them dry first.
    """
    within("look_ahead_h", look_ahead_h, 0.0, math.inf, "h")
    within("step_h", step_h, 0.01, 24.0, "h")
    hours = taken_out_h + np.arange(0.0, look_ahead_h + step_h, step_h)
    coldest = _coldest_c(members, start_temp_c, history, hours, limit.open_above_c)
    found = members.first_time_h(hours, coldest, at_or_above=limit.open_above_c)
    return Band(*(each - taken_out_h for each in (found.early_h, found.likely_h, found.late_h)))


def _coldest_c(
    members: Ensemble,
    start_temp_c: float,
    history: Sequence[Surroundings],
    hours: Floats,
    limit_c: float,
) -> Floats:
    """The coldest food, shape (members, hours), told exactly where it may reach the limit.

    Not all places are reckoned at all hours, for two reasons. The coldest is never warmer than the
    core: until the core of some member is at the limit, the core is told for it. And while the air
    is above the limit, food colder than that warms from all sides inward: where the core was the
    coldest once it is the last to reach the limit. So the other places are looked at now and then,
    also whenever colder air has come, and hour by hour only where they lead.
    """
    last = len(hours) - 1
    colder = [step.start_h for step in history[1:] if step.temp_c < limit_c]
    marks = np.concatenate([hours[0] + np.array(_MARKS_H), colder])
    marks = np.clip(np.searchsorted(hours, marks, side="right") - 1, 0, last)
    marks = np.unique(np.append(marks, last))
    found, at_marks = members.core_and_coldest_c(start_temp_c, history, hours, hours[marks])
    elsewhere = (found[:, marks] - at_marks).max(axis=0) > _LEADS_WITHIN_K
    reached = np.flatnonzero((found >= limit_c).any(axis=0))
    begin = max(int(reached[0]) - 1, 0) if len(reached) else last
    follow = np.flatnonzero((elsewhere[:-1] | elsewhere[1:]) & (marks[1:] > begin))
    if len(follow):
        part = slice(max(begin, int(marks[follow[0]])), int(marks[follow[-1] + 1]) + 1)
        found[:, part] = members.coldest_c(start_temp_c, history, hours[part])
    return found
