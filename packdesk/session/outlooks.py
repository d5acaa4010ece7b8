"""New forecasts of loads, worked out as if something not yet on record were already.

Importing this loads numpy; the deciding rules import it where they need it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from packdesk.session.figures import ColdForecast, FreezerOutlook, LoadOutlook, ThawForecast
from packdesk.session.forecast import ColdSoFar, cold_forecast, cold_if_out, thaw_forecast
from packdesk.session.load import Load
from packdesk.session.load_story import as_if, room_at, story
from packdesk.session.state import SessionState

HELD_SAME_H, DOSE_SAME = 0.5, 0.02
"""What a load came to is not known more closely than the half hours it is reckoned in."""


def cold_of(session: SessionState, load: Load, at: datetime) -> ColdForecast:
    """When `load` is cold enough, from all that is known at `at`."""
    return cold_forecast(story(session, load), at, load.forecast.treat_c, load.forecast.hold_h)


def thaw_of(session: SessionState, load: Load) -> ThawForecast | None:
    """When the lid of a load taken out may come off, in the room as it was last read."""
    room = room_at(session, load)
    if room is None or load.taken_out is None:
        return None
    return thaw_forecast(
        story(session, load), load.taken_out.utc, room.temp_c, room.relative_humidity
    )


def cold_outlooks(
    session: SessionState, loads: Iterable[Load], at: datetime
) -> tuple[LoadOutlook, ...]:
    """The cold of each of `loads` anew."""
    return tuple(LoadOutlook(load=load.load, cold=cold_of(session, load, at)) for load in loads)


def all_loads(
    session: SessionState, at: datetime, cold_since: datetime | None
) -> tuple[LoadOutlook, ...]:
    """The cold or the thaw of every load anew, as far as it is not over.

    Of a load that came out after `cold_since`, from when on the cold was reckoned otherwise, also
    what its cold came to; None: no cold was.
    """
    found = (_anew(session, load, at, cold_since) for load in session.loads.values())
    return tuple(each for each in found if each != LoadOutlook(load=each.load))


def _anew(
    session: SessionState, load: Load, at: datetime, cold_since: datetime | None
) -> LoadOutlook:
    if load.taken_out is None:
        return LoadOutlook(load=load.load, cold=cold_of(session, load, at))
    thaw = thaw_of(session, load) if load.uncovered is None else None
    found = None
    if cold_since is not None and cold_since <= load.taken_out.utc:
        found = _came_to(session, load, load.taken_out.utc)
    if found is None:
        return LoadOutlook(load=load.load, thaw=thaw)
    return LoadOutlook(
        load=load.load,
        thaw=thaw,
        held_h=found.held_h,
        dose=found.dose,
        dose_stage=found.dose_stage,
    )


def _came_to(session: SessionState, load: Load, out_at: datetime) -> ColdSoFar | None:
    """What the cold came to by what was read before the load came out; None: the same as said."""
    if load.room_at_take_out_c is None:
        return None
    read = tuple(reading for reading in load.readings if reading.at <= out_at)
    inside = replace(load, taken_out=None, readings=read)
    told = story(as_if(session, inside), inside)
    found = cold_if_out(told, out_at, load.room_at_take_out_c, load.forecast.treat_c)
    dose_off = abs((found.dose or 0.0) - (load.dose or 0.0))
    same = abs(found.held_h - load.held_h) <= HELD_SAME_H and dose_off <= DOSE_SAME
    return None if same else found


def all_freezers(session: SessionState, at: datetime) -> tuple[FreezerOutlook, ...]:
    """Every freezer that something is known of, anew."""
    from packdesk.session.freezer_air import freezer_outlook

    known = (freezer_outlook(session, number, at) for number in session.freezers)
    return tuple(each for each in known if each is not None)


def in_freezer(session: SessionState, freezer: int, at: datetime) -> tuple[Load, ...]:
    """The loads that stand in one freezer at `at`."""
    return tuple(
        load
        for load in session.loads.values()
        if load.figures.freezer == freezer and load.taken_out is None and load.frozen.utc <= at
    )


def neighbours(session: SessionState, load: Load, at: datetime) -> tuple[Load, ...]:
    """The loads beside `load` whose air it warms; none where that is not reckoned."""
    if load.figures.spare_power_w is None:
        return ()
    return tuple(
        each
        for each in in_freezer(session, load.figures.freezer, at)
        if each.load != load.load and each.figures.spare_power_w is not None
    )
