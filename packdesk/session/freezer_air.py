"""How warm the air of one freezer is that several loads of a session overlap in.

Importing this loads numpy, so that the window can open first: it is imported where it is needed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import lru_cache

from packdesk.physics import freezer as cabinet
from packdesk.physics.heat_bodies import Cylinder, Filling
from packdesk.session.figures import FreezerOutlook, LoadFigures
from packdesk.session.load import FreezerReading, Load
from packdesk.session.state import SessionState

LABOURS_ABOVE_K = 1.0
"""Its air so much warmer than at rest, a freezer has more to do than it can."""

EXCHANGE_W_K_KG = 0.2
"""Between the air and food frozen already (a guess, no source; see ``physics.FrozenFood``)."""

MOST_SHARE = 3.0
"""No freezer warms by more than so many times what is reckoned (our choice, no source)."""

AT_WORK_H = 12.0
"""So long after a load warm air is the load's work, if it can be (our choice, no source)."""

WEAKEST_SHARE = 0.1
"""No freezer has less to spare than this much of what it is taken to have (our choice)."""

_RECOVERS_WITHIN_H = 120.0
_LONGEST_RUN_H = 800.0
_APART_H = 336.0
_JOINED_WITHIN_K = 0.25
_STEP_H = 0.5


@dataclass(frozen=True, slots=True)
class Air:
    """The air of a freezer and the food frozen in it, from `at` until the next (°C)."""

    at: datetime
    temp_c: float
    settled_c: float
    frozen_c: float


def freezer_air(session: SessionState, freezer: int) -> tuple[Air, ...]:
    """The air of one freezer, from its first load on; empty when it is not reckoned.

    Its loads warm it by what `physics.freezer` says. A reading taken while it labours says how
    much it labours, then and from then on; one taken at rest is its air at rest. One so warm soon
    after a load that a weaker freezer alone explains it says how much the freezer has to spare.
    """
    loads = sorted(
        (
            load
            for load in session.loads.values()
            if load.figures.freezer == freezer and load.figures.spare_power_w is not None
        ),
        key=lambda load: load.frozen.utc,
    )
    readings = [read for read in session.freezer_readings if read.freezer == freezer]
    return tuple(air for run in _runs(loads) for air in _air_of(run, readings))


def freezer_outlook(session: SessionState, freezer: int, at: datetime) -> FreezerOutlook | None:
    """What the loads do to a freezer from `at` on; None when it is not reckoned."""
    air = freezer_air(session, freezer)
    if not air:
        return None
    from_now = [
        step
        for step, after in zip(air, (*air[1:], None), strict=True)
        if after is None or after.at > at
    ]
    labours = [place for place, step in enumerate(from_now) if _labours(step)]
    until = None
    if labours and labours[-1] + 1 < len(from_now):
        until = from_now[labours[-1] + 1].at.replace(second=0, microsecond=0)
    elif labours:
        until = from_now[-1].at + timedelta(hours=_RECOVERS_WITHIN_H)
    return FreezerOutlook(
        freezer=freezer,
        settled_c=round(from_now[-1].settled_c, 1),
        warmest_air_c=round(max(step.temp_c for step in from_now), 1),
        warmest_frozen_c=round(max(step.frozen_c for step in from_now), 1),
        labours_until=until,
    )


def _labours(step: Air) -> bool:
    return step.temp_c > step.settled_c + LABOURS_ABOVE_K


def _runs(loads: Sequence[Load]) -> list[list[Load]]:
    """Loads that can still have to do with one another, run by run."""
    runs: list[list[Load]] = []
    for load in loads:
        at = load.frozen.utc
        near = runs and _hours(runs[-1][-1].frozen.utc, at) < _APART_H
        if near and _hours(runs[-1][0].frozen.utc, at) < _LONGEST_RUN_H:
            runs[-1].append(load)
        else:
            runs.append([load])
    return runs


def _air_of(loads: list[Load], readings: Sequence[FreezerReading]) -> list[Air]:
    begun = loads[0].frozen.utc
    arrivals = tuple(_arrival(load, begun) for load in loads)
    spare_w = _spare_power_w(loads, arrivals, readings)
    story = _cabinet(_said_last(loads), loads[0].figures.freezer_temp_c, arrivals, spare_w)
    begins_h = [0.0, *story.ends_h[:-1].tolist()]
    warmer_k = (story.air_temp_c - story.freezer.set_temp_c).tolist()
    frozen_k = (story.frozen_temp_c - story.freezer.set_temp_c).tolist()
    told = sorted(
        [(_hours(begun, load.frozen.utc), True, load.figures.freezer_temp_c) for load in loads]
        + [(_hours(begun, read.at), False, read.temp_c) for read in readings if read.at >= begun],
        key=lambda each: (each[0], not each[1]),
    )
    marks = sorted({*begins_h, *(hour for hour, _, _ in told)})
    settled, share, found = loads[0].figures.freezer_temp_c, 1.0, list[tuple[float, Air]]()
    place, before_k = 0, 0.0
    for hour in marks:
        heard = [(at_rest, temp_c) for at, at_rest, temp_c in told if at == hour]
        while place + 1 < len(begins_h) and begins_h[place + 1] <= hour + 1e-9:
            place += 1
        loading = any(at_rest for at_rest, _ in heard)
        for at_rest, temp_c in heard:
            warmed = loading and temp_c > settled + share * before_k + LABOURS_ABOVE_K
            of_k = warmer_k[place] if warmed else before_k
            settled, share = _heard(temp_c, at_rest, settled, share, of_k)
        before_k = warmer_k[place]
        air = Air(
            begun + timedelta(hours=hour),
            settled + share * warmer_k[place],
            settled,
            settled + share * frozen_k[place],
        )
        rests = bool(found) and air.temp_c == settled != found[-1][0]
        apart = not found or abs(air.temp_c - found[-1][0]) > _JOINED_WITHIN_K
        if heard or apart or rests:
            found.append((air.temp_c, air))
        else:
            found[-1] = (found[-1][0], _warmer(found[-1][1], air))
    return [air for _, air in found]


def _said_last(loads: Sequence[Load]) -> LoadFigures:
    """The figures of the load with which the freezer's capacity was last said, else of the last.

    A usual capacity, taken where none is said, does not undo what its rating plate says.
    """
    said = [load.figures for load in loads if load.figures.capacity_g is not None]
    return said[-1] if said else loads[-1].figures


def _spare_power_w(
    loads: Sequence[Load], arrivals: Sequence[cabinet.Arrival], readings: Sequence[FreezerReading]
) -> float:
    """What the freezer has to spare, by its plate or as usual, or by the warm air read last."""
    figures, begun = _said_last(loads), loads[0].frozen.utc
    assert figures.spare_power_w is not None, "only loads of a freezer that is reckoned come here"
    spare_w, set_c = figures.spare_power_w, loads[0].figures.freezer_temp_c
    for read in sorted(readings, key=lambda each: each.at):
        hour = _hours(begun, read.at)
        inside = [
            replace(each, leaves_h=each.leaves_h if each.leaves_h < hour else math.inf)
            for each in arrivals
            if each.hour <= hour
        ]
        if inside and 0.0 < hour - inside[-1].hour <= AT_WORK_H and read.temp_c > set_c:
            spare_w = _fitted_w(figures, set_c, tuple(inside), hour, read.temp_c, spare_w)
    return spare_w


def _fitted_w(
    figures: LoadFigures,
    set_c: float,
    arrivals: tuple[cabinet.Arrival, ...],
    hour: float,
    read_c: float,
    taken_w: float,
) -> float:
    """The power that leaves the air as warm as was read; `taken_w` where that does as well."""

    def warmer_k(spare_w: float) -> float:
        story = _cabinet(figures, set_c, arrivals, spare_w, until_h=hour)
        return float(story.air_temp_c[-1]) - set_c

    read_k, taken_k = read_c - set_c, warmer_k(taken_w)
    weak_w = WEAKEST_SHARE * taken_w
    labours = taken_k > LABOURS_ABOVE_K
    if read_k <= (MOST_SHARE * taken_k if labours else LABOURS_ABOVE_K):
        return taken_w
    if weak_w < 1.0 or warmer_k(weak_w) < read_k:
        return taken_w
    strong_w = taken_w
    for _ in range(8):
        half_w = (weak_w + strong_w) / 2.0
        weak_w, strong_w = (half_w, strong_w) if warmer_k(half_w) > read_k else (weak_w, half_w)
    return (weak_w + strong_w) / 2.0


def _warmer(step: Air, later: Air) -> Air:
    """Two steps as one: air a quarter of a kelvin apart is one, and the food's warmest counts.

    Air at rest is not joined to what came before: it stays for days, and days of a quarter of a
    kelvin are hours of a hold.
    """
    return replace(step, frozen_c=max(step.frozen_c, later.frozen_c))


def _heard(
    temp_c: float, at_rest: bool, settled: float, share: float, warmer_k: float
) -> tuple[float, float]:
    """What a thermometer says of the air at rest, and of how much of the warming is real.

    Read in the minute of a loading it shows the air before it, or, where that is warmer, after it.
    """
    if at_rest or warmer_k <= LABOURS_ABOVE_K:
        return temp_c, share
    if temp_c <= settled:
        return temp_c, 0.0
    return settled, min(MOST_SHARE, (temp_c - settled) / warmer_k)


def _arrival(load: Load, begun: datetime) -> cabinet.Arrival:
    figures, hour = load.figures, _hours(begun, load.frozen.utc)
    out_h = math.inf if load.taken_out is None else _hours(begun, load.taken_out.utc)
    return cabinet.Arrival(
        hour,
        1,
        Cylinder(figures.radius_mm / 1000.0, figures.fill_height_mm / 1000.0),
        Filling(
            figures.conductivity_w_m_k, figures.heat_capacity_j_kg_k, figures.bulk_density_kg_m3
        ),
        figures.start_temp_c,
        figures.freezer_coefficient_w_m2_k,
        max(hour, out_h),
    )


def _cabinet(
    figures: LoadFigures,
    settled: float,
    arrivals: tuple[cabinet.Arrival, ...],
    spare_w: float,
    until_h: float | None = None,
) -> cabinet.CabinetStory:
    frozen_kg = max(figures.frozen_food_kg, 0.01)
    return _cabinet_story(
        cabinet.Freezer(min(settled, 0.0), spare_w),
        arrivals,
        cabinet.FrozenFood(frozen_kg, frozen_kg * EXCHANGE_W_K_KG),
        arrivals[-1].hour + _RECOVERS_WITHIN_H if until_h is None else until_h,
    )


@lru_cache(maxsize=128)
def _cabinet_story(
    freezer: cabinet.Freezer,
    arrivals: tuple[cabinet.Arrival, ...],
    frozen: cabinet.FrozenFood,
    until_h: float,
) -> cabinet.CabinetStory:
    """One story for all loads of a freezer, however often each of them asks."""
    return cabinet.cabinet_story(freezer, arrivals, frozen, until_h, step_h=_STEP_H)


def _hours(since: datetime, at: datetime) -> float:
    return (at - since).total_seconds() / 3600.0
