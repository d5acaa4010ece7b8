"""New forecasts of loads, worked out as if something not yet on record were already.

Importing this loads numpy; the deciding rules import it where they need it.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from packdesk.session.figures import ColdForecast, FreezerOutlook, LoadOutlook, ThawForecast
from packdesk.session.forecast import cold_forecast, thaw_forecast
from packdesk.session.load import Load
from packdesk.session.load_story import room_at, story
from packdesk.session.state import SessionState


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


def all_loads(session: SessionState, at: datetime) -> tuple[LoadOutlook, ...]:
    """The cold or the thaw of every load that is not open yet, anew."""
    return tuple(
        LoadOutlook(load=load.load, cold=cold_of(session, load, at))
        if load.taken_out is None
        else LoadOutlook(load=load.load, thaw=thaw_of(session, load))
        for load in session.loads.values()
        if load.uncovered is None
    )


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
