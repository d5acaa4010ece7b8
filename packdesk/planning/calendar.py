"""When a load must go into the freezer so that its food is ready on packing day.

Importing this loads numpy and scipy.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from packdesk.physics import air, heat
from packdesk.physics.lid_on import lid_limit, lid_on_h
from packdesk.physics.ranges import within
from packdesk.planning.loads import PailLoad

FIRST_CHECK_H = 24.0
"""How long a sealed pouch rests before its first seal check: 24 to 48 hours (common practice)."""

LONGEST_COOLING_H = 400.0
LONGEST_THAW_H = 240.0
LEAST_DIFFERENCE_K = 0.5
"""A core comes no closer than this to the air around it within a week or two."""

_STEP_H = 0.5


class NeverCold(ValueError):
    """A core that does not get as cold as asked; the message says why and what helps."""


@dataclass(frozen=True, slots=True)
class Calendar:
    """The instants (UTC) of one load, each the late one of ten: nine in ten are there sooner.

    ``load_by`` the latest to shut the freezer on it; ``cold_from`` the core is cold enough and the
    hold begins; ``hold_done`` it comes out, lid on; ``lid_off`` the lid may come off;
    ``first_check`` of the seals.
    """

    load_by: datetime
    cold_from: datetime
    hold_done: datetime
    lid_off: datetime
    pack_at: datetime
    first_check: datetime


def start_by(
    pack_at: datetime,
    figures: PailLoad,
    hold_h: float,
    treat_c: float,
    *,
    room_temp_c: float = 21.0,
    relative_humidity: float | None = None,
) -> Calendar:
    """When to load one pail so that its food can be packed at ``pack_at`` (UTC, aware).

    Symbols: ``hold_h`` hours, 0 to 1000, that the core is held at or below ``treat_c`` (°C, −40 to
    0); the room of the thaw, with its humidity (0.01 to 1) if it was read: without it the lid
    waits until the food is within 3 K of the room.

    Reckoned from the late side: of loads that differ in what nobody measured, nine in ten are cold
    sooner, and of those taken out then nine in ten are warm sooner. The hours the closed pail
    stays cold after it came out are not counted towards the hold. Raises ``NeverCold``.
    """
    hold = within("hold_h", hold_h, 0.0, 1000.0, "h")
    treat = within("treat_c", treat_c, -40.0, 0.0, "°C")
    members = heat.ensemble(
        heat.Cylinder(figures.radius_mm / 1000.0, figures.fill_height_mm / 1000.0),
        heat.Filling(
            figures.conductivity_w_m_k, figures.heat_capacity_j_kg_k, figures.bulk_density_kg_m3
        ),
    )
    freezer = heat.Surroundings(0.0, figures.freezer_temp_c, figures.freezer_coefficient_w_m2_k)
    hours = np.arange(0.0, LONGEST_COOLING_H + _STEP_H, _STEP_H)
    core_c = members.temperatures_c(figures.start_temp_c, [freezer], hours).core_c
    cold_h = _rounded_up(members.first_time_h(hours, core_c, at_or_below=treat).late_h)
    if treat < figures.freezer_temp_c + LEAST_DIFFERENCE_K or not math.isfinite(cold_h):
        raise NeverCold(
            f"A core of {treat:.0f} °C is not reached in a freezer at "
            f"{figures.freezer_temp_c:.0f} °C. Set the freezer at least 3 K colder than the core "
            "is to be."
        )
    out_h = cold_h + hold
    room = heat.Surroundings(out_h, room_temp_c, figures.room_coefficient_w_m2_k)
    dew_point_c = (
        None if relative_humidity is None else air.dew_point_c(room_temp_c, relative_humidity)
    )
    thaw = lid_on_h(
        members,
        figures.start_temp_c,
        [freezer, room],
        out_h,
        lid_limit(room_temp_c, dew_point_c),
        look_ahead_h=LONGEST_THAW_H,
    )
    thaw_h = _rounded_up(thaw.late_h)
    load_by = pack_at - timedelta(hours=out_h + thaw_h)
    return Calendar(
        load_by=load_by,
        cold_from=load_by + timedelta(hours=cold_h),
        hold_done=load_by + timedelta(hours=out_h),
        lid_off=pack_at,
        pack_at=pack_at,
        first_check=pack_at + timedelta(hours=FIRST_CHECK_H),
    )


def _rounded_up(hours: float) -> float:
    """To the next quarter of an hour: a calendar is not known to the second."""
    return math.ceil(hours * 4.0) / 4.0 if math.isfinite(hours) else hours
