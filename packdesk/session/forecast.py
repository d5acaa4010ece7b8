"""When a load is cold enough, when its hold is complete, when its lid may come off.

Turns what is known of a load into figures that facts carry. Importing this loads numpy, so
`decide` imports it where it is needed. Forecasts are kept for the stories they were made of: an
order that is asked about and then confirmed, or a view that asks again, costs the heat once.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache

import numpy as np

from packdesk.physics import air, heat, lid_on
from packdesk.physics.cold_kill import StageDose, longest_hold_h, stage_doses
from packdesk.physics.ranges import Floats
from packdesk.session.figures import ColdForecast, Span, ThawForecast
from packdesk.session.load_heat import LoadHeat, OffReading, load_heat
from packdesk.session.load_story import LoadStory
from packdesk.session.terms import LidRule

LOOK_AHEAD_H = 240.0
STEP_H = 0.5
SOON_H = 72.0
LATER_STEP_H = 2.0
"""Three days from now on nothing changes any more but slowly: the core creeps up to the air, and
between hours further apart it still runs straight to some thousandths of a kelvin."""

_KEPT = 128
"""Forecasts of each sort: a few for every load of a session."""


@dataclass(frozen=True, slots=True)
class CoreBand:
    """Core temperature (°C) at some instants: one in ten below `low`, one in ten above `high`.

    `surface_c` is the food at the wall half way up, the middle of the ensemble.
    """

    instants: tuple[datetime, ...]
    low_c: tuple[float, ...]
    likely_c: tuple[float, ...]
    high_c: tuple[float, ...]
    surface_c: tuple[float, ...]


@lru_cache(maxsize=_KEPT)
def cold_forecast(story: LoadStory, at: datetime, treat_c: float, hold_h: float) -> ColdForecast:
    """When the core reaches `treat_c` and has been held there `hold_h` hours, freezer as it is."""
    load = load_heat(story)
    members = load.members
    now_h = max(0.0, story.hour(at))
    until_h = now_h + LOOK_AHEAD_H + hold_h
    soon = _hours(now_h + SOON_H)
    hours = np.concatenate([soon, np.arange(soon[-1], until_h, LATER_STEP_H) + LATER_STEP_H])
    # Now is asked for with the others, so that the field is followed through the history once.
    every = load.temperatures_c(np.append(hours, now_h))
    core_now_c = members.quantiles(every.core_c[:, [-1]], (0.5,))[0, 0]
    temps = heat.Temperatures(
        *(each[:, :-1] for each in (every.core_c, every.surface_c, every.mean_c))
    )
    worst = _worst(load, hours, temps, treat_c)
    core = np.where(hours < _too_warm_until_h(load, treat_c) + STEP_H, treat_c + 1.0, temps.core_c)
    return ColdForecast(
        treat_c=treat_c,
        hold_h=hold_h,
        cold_from=_span(story, members.first_time_h(hours, core, at_or_below=treat_c), until_h),
        hold_done=_span(
            story,
            members.first_time_h(hours, core, at_or_below=treat_c, held_h=hold_h),
            until_h,
        ),
        core_now_c=_tenth(core_now_c),
        effective_members=_tenth(members.effective_members),
        dose_done=_span(story, worst.killed_h, until_h) if worst is not None else None,
        dose_stage=worst.row.name if worst is not None else "",
        widened=_tenth(members.widened),
    )


@dataclass(frozen=True, slots=True)
class ColdSoFar:
    """What the cold comes to if the closed pail comes out now, the lag in it included.

    `held_h` hours of the hold; `dose` of the kill of `dose_stage`, the toughest life stage (1 is
    all of it); None where no dose is reckoned. Middles of the ensemble.
    """

    held_h: float
    dose: float | None = None
    dose_stage: str = ""


@lru_cache(maxsize=_KEPT)
def cold_if_out(story: LoadStory, at: datetime, room_c: float, treat_c: float) -> ColdSoFar:
    """What hold and dose come to if the closed pail comes out at `at` into a room at `room_c`.

    The hours it stays cold in the room, lid on, are counted. Of two cold spells with a warm gap
    between them the longer one counts, not their sum.
    """
    load = load_heat(story.taken_out(at, room_c))
    at_h = story.hour(at)
    begin_h = min(max(0.0, _too_warm_until_h(load, treat_c)), at_h + 72.0)
    hours = begin_h + _hours(max(0.0, at_h - begin_h) + 72.0)
    temps = load.temperatures_c(hours)
    held = longest_hold_h(hours, temps.core_c, treat_c)[:, -1]
    held_h = _tenth(load.members.quantiles(held, (0.5,))[0])
    worst = _worst(load, hours, temps, treat_c)
    if worst is None:
        return ColdSoFar(held_h)
    return ColdSoFar(held_h, math.floor(worst.likely * 100.0 + 0.5) / 100.0, worst.row.name)


def _worst(
    load: LoadHeat, hours: Floats, temps: heat.Temperatures, treat_c: float
) -> StageDose | None:
    """The life stage that has had least of its dose by the last of `hours`, later kills first."""
    rows = load.story.figures.life_stages
    if not rows:
        return None
    late = hours < _too_warm_until_h(load, treat_c) + STEP_H
    if late.any():
        every = (temps.core_c, temps.surface_c, temps.mean_c)
        temps = heat.Temperatures(*(np.where(late, 0.0, each) for each in every))
    doses, _ = stage_doses(rows, load.members, hours, temps)
    return max(doses, key=lambda each: (each.killed_h.likely_h, -each.likely), default=None)


@lru_cache(maxsize=_KEPT)
def _too_warm_until_h(load: LoadHeat, treat_c: float) -> float:
    """Until when the core is too warm for the rule after a probe read it warmer than is reckoned.

    Whatever the reason, the cold began later than reckoned: food as warm as it was read needs
    from there as long to `treat_c` as the load was reckoned to need from that temperature.
    """
    warm = [off for off in load.off_readings if off.in_freezer and off.off_k > 0.0]
    if not warm:
        return -math.inf
    hours = _hours(max(off.hour for off in warm) + LOOK_AHEAD_H)
    likely_c = load.members.quantiles(load.temperatures_c(hours).core_c, (0.5,))[0]

    def reached_h(temp_c: float) -> float:
        cold = np.flatnonzero(likely_c <= temp_c)
        return float(hours[cold[0]]) if cold.size else math.inf

    cold_h = reached_h(treat_c)
    return max(
        off.hour + (max(0.0, cold_h - reached_h(off.temp_c)) if off.temp_c > treat_c else 0.0)
        for off in warm
    )


@lru_cache(maxsize=_KEPT)
def thaw_forecast(
    story: LoadStory, taken_out_at: datetime, room_c: float, relative_humidity: float | None
) -> ThawForecast:
    """When the coldest food of a load taken out at `taken_out_at` is warm enough to uncover.

    Above the room's dew point by 2 K where humidity was read, else within 3 K of the room.
    """
    dew_c = None
    if relative_humidity is not None:
        dew_c = min(room_c, float(air.dew_point_c(room_c, relative_humidity)))
    limit = lid_on.lid_limit(room_c, dew_c)
    load = load_heat(story)
    out_h = max(0.0, story.hour(taken_out_at))
    band = lid_on.lid_on_h(
        load.members,
        story.figures.start_temp_c,
        load.surroundings,
        out_h,
        limit,
        look_ahead_h=LOOK_AHEAD_H,
        step_h=STEP_H,
    )
    not_before_h = max((off.hour for off in _read_too_cold(load)), default=0.0)
    lid_off = heat.Band(
        *(max(out_h + h, not_before_h) for h in (band.early_h, band.likely_h, band.late_h))
    )
    return ThawForecast(
        rule=_RULES[limit.rule],
        room_c=room_c,
        room_relative_humidity=relative_humidity,
        dew_point_c=None if dew_c is None else _tenth(dew_c),
        open_above_c=_tenth(limit.open_above_c),
        lid_off=_span(story, lid_off, out_h + LOOK_AHEAD_H),
        dry=limit.dry,
    )


_RULES = {
    lid_on.LidRule.DEW_POINT: LidRule.DEW_POINT,
    lid_on.LidRule.DAMP_ROOM: LidRule.DAMP_ROOM,
    lid_on.LidRule.ROOM: LidRule.ROOM,
}


@lru_cache(maxsize=_KEPT)
def coldest_c(story: LoadStory, at: datetime) -> float:
    """The coldest food of the load at `at`, wherever it lies; the middle of the ensemble.

    Colder by as much as a probe in the room last read the core to be colder than is reckoned.
    """
    load = load_heat(story)
    found = load.coldest_c(np.array([max(0.0, story.hour(at))]))
    off_k = [off.off_k for off in _read_too_cold(load) if off.hour <= story.hour(at)]
    return _tenth(load.members.quantiles(found, (0.5,))[0, 0] + (off_k[-1] if off_k else 0.0))


def _read_too_cold(load: LoadHeat) -> list[OffReading]:
    return [off for off in load.off_readings if not off.in_freezer and off.off_k < 0.0]


def core_band(story: LoadStory, instants: Sequence[datetime]) -> CoreBand:
    """The core at each of `instants` (none before the freezing), low, likely and high."""
    load = load_heat(story)
    hours = np.array([max(0.0, story.hour(instant)) for instant in instants])
    found = load.temperatures_c(hours)
    low, likely, high = load.members.quantiles(found.core_c)
    (surface,) = load.members.quantiles(found.surface_c, (0.5,))
    rows = (low, likely, high, surface)
    return CoreBand(tuple(instants), *(tuple(map(float, row)) for row in rows))


def _hours(until_h: float) -> Floats:
    return np.arange(0.0, until_h + STEP_H, STEP_H)


def _span(story: LoadStory, band: heat.Band, until_h: float) -> Span | None:
    """The band as instants; an end beyond what was looked at is put there, not left out."""
    if not math.isfinite(band.likely_h):
        return None
    return Span(
        early=_minute(story, band.early_h),
        likely=_minute(story, band.likely_h),
        late=_minute(story, min(band.late_h, until_h)),
    )


def _minute(story: LoadStory, hour: float) -> datetime:
    """To the minute: more is not known, and other machines then come to the same record."""
    at = story.instant(hour) + timedelta(seconds=30)
    return at.replace(second=0, microsecond=0)


def _tenth(value: float) -> float:
    """One figure after the point is more than any of these is known to."""
    return round(float(value), 1)
