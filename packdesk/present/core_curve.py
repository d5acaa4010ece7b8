"""The core-temperature plot of one load, as points and words; also as a table for reading out."""

from __future__ import annotations

from datetime import datetime, timedelta

from packdesk.instants import Reading, day_and_time
from packdesk.present.cards import CoreCurve, CurvePoint
from packdesk.present.measures import Measures
from packdesk.session.figures import Span
from packdesk.session.load_story import story
from packdesk.session.state import Load, SessionState
from packdesk.session.terms import Probe
from packdesk.units import System

STEP = timedelta(hours=1)
AHEAD = timedelta(hours=96)
AFTER_LID = timedelta(hours=6)


def core_curve(session: SessionState, load: Load, now: Reading, measures: Measures) -> CoreCurve:
    """Work out the plot of `load`, from the freezing to some hours past its last due time."""
    from packdesk.session.forecast import core_band  # loads numpy

    start = load.frozen.utc
    end = _end(load, now.utc)
    instants = sorted({*_hours(start, end), min(max(now.utc, start), end)})
    told = story(session, load)
    band = core_band(told, instants)
    points = tuple(
        CurvePoint(at, low, likely, high)
        for at, low, likely, high in zip(
            band.instants, band.low_c, band.likely_c, band.high_c, strict=True
        )
    )
    here = min(points, key=lambda point: abs(point.at - now.utc))
    forecast = load.forecast
    thaw = load.thaw
    hold = _held(forecast.cold_from, forecast.hold_done, load)
    return CoreCurve(
        points=points,
        now=now.utc,
        now_words=f"Now {measures.temperature(round(here.likely_c))} at the core",
        now_range=_range(here, measures),
        fahrenheit=measures.system == System.US,
        threshold_c=forecast.treat_c,
        threshold_words=(
            f"cold enough below {measures.temperature(forecast.treat_c)}, "
            f"hold {forecast.hold_h:.0f} h"
        ),
        utc_offset_min=now.utc_offset_min,
        hold=hold,
        dew_point_c=thaw.dew_point_c if thaw is not None else None,
        dew_words=(
            f"dew point {measures.temperature(thaw.dew_point_c)}"
            if thaw is not None and thaw.dew_point_c is not None
            else ""
        ),
        lid_off=(thaw.lid_off.early, thaw.lid_off.late)
        if thaw is not None and thaw.lid_off is not None
        else None,
        lid_words=(
            f"lid off {day_and_time(thaw.lid_off.likely, now.utc_offset_min)}"
            if thaw is not None and thaw.lid_off is not None
            else ""
        ),
        readings=tuple(
            (reading.at, reading.temp_c) for reading in load.readings if reading.probe is Probe.CORE
        ),
    )


def curve_table(curve: CoreCurve, measures: Measures) -> tuple[tuple[str, str, str, str], ...]:
    """The plot as rows for reading out and for paper: when, likely, low, high; every six hours."""
    rows = curve.points[::6]
    return tuple(
        (
            day_and_time(point.at, curve.utc_offset_min),
            measures.temperature(round(point.likely_c)),
            measures.temperature(round(point.low_c)),
            measures.temperature(round(point.high_c)),
        )
        for point in rows
    )


def _range(point: CurvePoint, measures: Measures) -> str:
    """Say the band at a point: its two ends, or one figure where they read the same."""
    low = measures.temperature(round(point.low_c))
    high = measures.temperature(round(point.high_c))
    return f"about {low}" if low == high else f"between {low} and {high}"


def _hours(start: datetime, end: datetime) -> list[datetime]:
    steps = int((end - start) / STEP)
    return [start + step * STEP for step in range(steps + 1)]


def _end(load: Load, now: datetime) -> datetime:
    if load.uncovered is not None:
        return load.uncovered.utc + AFTER_LID
    if load.thaw is not None and load.thaw.lid_off is not None:
        return max(load.thaw.lid_off.late, now) + AFTER_LID
    if load.forecast.hold_done is not None:
        return max(load.forecast.hold_done.late, now) + AFTER_LID
    return now + AHEAD


def _held(
    cold_from: Span | None, hold_done: Span | None, load: Load
) -> tuple[datetime, datetime] | None:
    if cold_from is None:
        return None
    if load.taken_out is not None:
        end = cold_from.likely + timedelta(hours=load.held_h)
        return (cold_from.likely, end) if load.held_h > 0 else None
    return (cold_from.likely, hold_done.likely) if hold_done is not None else None
