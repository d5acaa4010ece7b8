"""The core-temperature plot of one load, as points and words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from packdesk.instants import Reading, day_and_time
from packdesk.present.curves import AirStep, CoreCurve, CurveEvent, CurvePoint
from packdesk.present.measures import Measures
from packdesk.session.clocks import cold_done, governing
from packdesk.session.figures import Span
from packdesk.session.load import Load, ProbeReading
from packdesk.session.load_story import LoadStory, story
from packdesk.session.state import SessionState
from packdesk.session.terms import ColdRule, Probe
from packdesk.units import System

STEP = timedelta(hours=1)
SOON = tuple(timedelta(minutes=minutes) for minutes in (2, 5, 10, 20, 35))
AHEAD = timedelta(hours=96)
AFTER_LID = timedelta(hours=6)
BEFORE_OUT = timedelta(hours=6)
"""So much of the cold is still shown of a load that warms."""


def core_curve(session: SessionState, load: Load, now: Reading, measures: Measures) -> CoreCurve:
    """Work out the plot of `load`, from the freezing to some hours past its last due time."""
    from packdesk.session.forecast import core_band  # loads numpy

    start = load.frozen.utc
    done = cold_done(session, load)
    end = _end(load, done, now.utc)
    told = story(session, load)
    events = _events(session, load, end, measures)
    known = [event.at for event in events] + [step.at for step in told.steps]
    instants = sorted(
        {*_hours(start, end), *_after_moves(load, end), end, min(max(now.utc, start), end)}
        | {at for at in known if start <= at <= end}
    )
    band = core_band(told, instants)
    points = tuple(
        CurvePoint(at, low, likely, high, surface)
        for at, low, likely, high, surface in zip(
            band.instants, band.low_c, band.likely_c, band.high_c, band.surface_c, strict=True
        )
    )
    forecast, thaw = load.forecast, load.thaw
    hold = _held(forecast.cold_from, done, load)
    by_dose = governing(session, load) is ColdRule.DOSE
    lid_off = thaw.lid_off if thaw is not None and load.uncovered is None else None
    air = _air(told, end)
    curve = CoreCurve(
        points=points,
        now=now.utc,
        now_words="",
        now_range="",
        fahrenheit=measures.system == System.US,
        threshold_c=forecast.treat_c,
        threshold_words="",
        offset=now.offset_min_at,
        hold=hold,
        hold_of_h=0.0 if by_dose else forecast.hold_h,
        hold_words=(
            f"{'dose' if by_dose else 'hold'} complete "
            f"{day_and_time(done.likely, now.offset_min_at)}"
            if done is not None and load.taken_out is None
            else ""
        ),
        cold_done=(
            done.likely if done is not None and hold is None and load.taken_out is None else None
        ),
        dew_point_c=thaw.dew_point_c if thaw is not None else None,
        dew_words=(
            f"dew point {measures.temperature(thaw.dew_point_c)}"
            if thaw is not None and thaw.dew_point_c is not None
            else ""
        ),
        lid_off=(lid_off.early, lid_off.late) if lid_off is not None else None,
        lid_words=(
            f"lid off {day_and_time(lid_off.likely, now.offset_min_at)}"
            if lid_off is not None
            else ""
        ),
        opened=load.uncovered.utc if load.uncovered is not None else None,
        opened_words=(
            f"{'opened early' if load.uncover_reason else 'lid off'} "
            f"{day_and_time(load.uncovered.utc, now.offset_min_at)}"
            if load.uncovered is not None
            else ""
        ),
        readings=_readings(load, Probe.CORE),
        wall_readings=_readings(load, Probe.WALL),
        air=air,
        freezer_words=_air_words(air, measures, in_freezer=True),
        room_words=_air_words(air, measures, in_freezer=False),
        events=events,
        shown_from=(
            max(start, load.taken_out.utc - BEFORE_OUT) if load.taken_out is not None else None
        ),
    )
    return curve_at(curve, now, measures)


def curve_at(curve: CoreCurve, now: Reading, measures: Measures) -> CoreCurve:
    """The same curve a little later: what is past, held and said of now moves on.

    Nothing is reckoned anew, so this can be asked at every heartbeat; beyond the last point the
    curve has to be worked out again.
    """
    here = _between(curve, now.utc)
    treat = measures.temperature(curve.threshold_c)
    curve = replace(curve, now=now.utc)
    return replace(
        curve,
        offset=now.offset_min_at,
        now_words=f"Now {measures.temperature(round(here.likely_c))} at the core",
        now_range=_range(here, measures),
        threshold_words=_threshold(curve, treat),
    )


def _threshold(curve: CoreCurve, treat: str) -> str:
    """Name the line of the treatment temperature, and how long the core has been below it."""
    if curve.hold is None:
        return f"cold enough below {treat}" if curve.hold_of_h else f"{treat} of the plain rule"
    begun, end = curve.hold
    hours = int(max(0.0, (min(curve.now, end) - begun) / timedelta(hours=1)) + 1e-6)
    if not curve.hold_of_h:
        return f"below {treat}: {hours} h"
    asked = f"{curve.hold_of_h:.0f} h"
    so_far = f"{hours} h, {asked} asked" if hours > curve.hold_of_h else f"{hours} h of {asked}"
    return f"cold enough below {treat}: {so_far}"


def _between(curve: CoreCurve, at: datetime) -> CurvePoint:
    """The curve at an instant, between its two neighbours; at its ends, the end."""
    for before, after in pairwise(curve.points):
        if before.at <= at < after.at:
            part = (at - before.at) / (after.at - before.at)
            low, likely, high = (
                one + (other - one) * part
                for one, other in (
                    (before.low_c, after.low_c),
                    (before.likely_c, after.likely_c),
                    (before.high_c, after.high_c),
                )
            )
            return CurvePoint(at, low, likely, high)
    return curve.points[0] if at < curve.points[0].at else curve.points[-1]


def _range(point: CurvePoint, measures: Measures) -> str:
    """Say the band at a point: its two ends, or one figure where they read the same."""
    low = measures.temperature(round(point.low_c))
    high = measures.temperature(round(point.high_c))
    return f"about {low}" if low == high else f"between {low} and {high}"


def _readings(load: Load, probe: Probe) -> tuple[tuple[datetime, float], ...]:
    return tuple((each.at, each.temp_c) for each in load.readings if each.probe is probe)


# What happens to it -------------------------------------------------------------------------------


def _events(
    session: SessionState, load: Load, end: datetime, measures: Measures
) -> tuple[CurveEvent, ...]:
    """All that has a time: done, read, or most likely then with its band; in order."""
    treat = measures.temperature(load.forecast.treat_c)
    found = [CurveEvent(load.frozen.utc, "into the freezer, lid shut")]
    found += [
        CurveEvent(each.at, f"{each.probe} read {measures.reading(each.temp_c)}")
        for each in load.readings
    ]
    found += _air_read(session, load, measures)
    if load.forecast.cold_from is not None and (load.taken_out is None or load.held_h > 0.0):
        anew = counted_anew(load)
        found.append(
            _due(load.forecast.cold_from, f"core at {treat}: the hold begins")
            if anew is None
            else CurveEvent(
                load.forecast.cold_from.likely,
                f"the hold begins anew, after the core read {measures.reading(anew.temp_c)}",
            )
        )
    if load.taken_out is None:
        found += [event for event in _complete(session, load) if event.at <= end]
    else:
        why = f": {load.short_reason}" if load.short_reason else ""
        found.append(CurveEvent(load.taken_out.utc, f"out of the freezer, lid on{why}"))
    if load.uncovered is not None:
        why = f"opened early: {load.uncover_reason}" if load.uncover_reason else "lid off"
        found.append(CurveEvent(load.uncovered.utc, why))
    elif load.thaw is not None and load.thaw.lid_off is not None:
        warm = measures.temperature(load.thaw.open_above_c)
        found.append(_due(load.thaw.lid_off, f"all food above {warm}: wipe it dry, lid off"))
    return tuple(sorted(found, key=lambda event: event.at))


def counted_anew(load: Load) -> ProbeReading | None:
    """The reading, warmer than was reckoned, after which the hold has to begin again.

    Its beginning has no band then: it goes by that one reading.
    """
    cold_from = load.forecast.cold_from
    if cold_from is None or cold_from.early != cold_from.late:
        return None
    warm = [
        each
        for each in load.readings
        if each.probe is Probe.CORE
        and each.temp_c > load.forecast.treat_c
        and each.at <= cold_from.likely
    ]
    return warm[-1] if warm else None


def _complete(session: SessionState, load: Load) -> list[CurveEvent]:
    """When either rule is met; where both are reckoned it is said which of them governs."""
    forecast = load.forecast
    hold, dose = f"{forecast.hold_h:.0f} h complete", f"dose complete for {forecast.dose_stage}"
    if forecast.dose_stage and governing(session, load) is ColdRule.DOSE:
        hold, dose = f"{hold} (plain rule, for comparison)", f"{dose} (this governs)"
    elif forecast.dose_stage:
        hold, dose = f"{hold} (this governs)", f"{dose} (for comparison)"
    return [
        _due(span, words)
        for span, words in ((forecast.hold_done, hold), (forecast.dose_done, dose))
        if span is not None
    ]


def _due(span: Span, words: str) -> CurveEvent:
    return CurveEvent(span.likely, words, span.early, span.late)


def _air_read(session: SessionState, load: Load, measures: Measures) -> list[CurveEvent]:
    """The readings of freezer and room while the load lay there."""
    out = load.taken_out.utc if load.taken_out is not None else None
    done = load.uncovered.utc if load.uncovered is not None else None
    found = [
        CurveEvent(each.at, f"freezer read {measures.reading(each.temp_c)}")
        for each in session.freezer_readings
        if each.freezer == load.figures.freezer
        and load.frozen.utc <= each.at
        and (out is None or each.at <= out)
    ]
    for each in session.room_readings:
        if out is None or each.at < out or (done is not None and each.at > done):
            continue
        damp = each.relative_humidity
        with_damp = f", {damp * 100:.0f} % humidity" if damp is not None else ""
        found.append(CurveEvent(each.at, f"room read {measures.reading(each.temp_c)}{with_damp}"))
    return found


# What is round it ---------------------------------------------------------------------------------


def _air(told: LoadStory, end: datetime) -> tuple[AirStep, ...]:
    return tuple(
        AirStep(step.at, step.temp_c, step.in_freezer)
        for step in sorted(told.steps, key=lambda step: step.at)
        if step.at <= end
    )


def _air_words(air: Iterable[AirStep], measures: Measures, *, in_freezer: bool) -> str:
    """The name of the freezer's or the room's air, by its last figure; empty if never in it."""
    temps = [step.temp_c for step in air if step.in_freezer == in_freezer]
    name = "freezer" if in_freezer else "room"
    return f"{name} {measures.temperature(temps[-1])}" if temps else ""


# How far it reaches -------------------------------------------------------------------------------


def _hours(start: datetime, end: datetime) -> list[datetime]:
    steps = int((end - start) / STEP)
    return [start + step * STEP for step in range(steps + 1)]


def _after_moves(load: Load, end: datetime) -> list[datetime]:
    """The first hour after a load came among other air, in which its surface follows fast."""
    moved = [load.frozen.utc, *((load.taken_out.utc,) if load.taken_out is not None else ())]
    return [at for move in moved for step in SOON if (at := move + step) < end]


def _end(load: Load, cold: Span | None, now: datetime) -> datetime:
    if load.uncovered is not None:
        return load.uncovered.utc + AFTER_LID
    if load.thaw is not None and load.thaw.lid_off is not None:
        return max(load.thaw.lid_off.late, now) + AFTER_LID
    if cold is not None:
        return max(cold.late, now) + AFTER_LID
    return now + AHEAD


def _held(
    cold_from: Span | None, done: Span | None, load: Load
) -> tuple[datetime, datetime] | None:
    if cold_from is None:
        return None
    if load.taken_out is not None:
        end = cold_from.likely + timedelta(hours=load.held_h)
        return (cold_from.likely, end) if load.held_h > 0 else None
    if done is None or done.likely <= cold_from.likely:
        return None
    return (cold_from.likely, done.likely)
