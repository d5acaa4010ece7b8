"""The core-temperature plot as a table: every time that matters, for reading out and for paper."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from packdesk.instants import Offset, date_and_time, day_and_time, local, time_of_day
from packdesk.present.curves import CoreCurve, CoreRow, CurveEvent, CurvePoint
from packdesk.present.measures import Measures

CORE_HEADER = ("When", "What", "Core", "Core, low to high", "Surface", "Around it")


def core_rows(
    curve: CoreCurve, measures: Measures, *, dated: bool = False, with_now: bool = True
) -> tuple[CoreRow, ...]:
    """A row for each event of `curve` and for now, in order; `dated`: with date, for a record."""
    say = date_and_time if dated else day_and_time
    points = {point.at: point for point in curve.points}
    rows = [
        _row(curve, points.get(event.at), event.at, _what(event, curve, say), measures, say)
        for event in curve.events
    ]
    if with_now and curve.points[0].at <= curve.now <= curve.points[-1].at:
        here = min(curve.points, key=lambda point: abs(point.at - curve.now))
        rows.append(_row(curve, here, curve.now, "now", measures, say, now=True))
    return tuple(sorted(rows, key=lambda row: row.at))


def _row(
    curve: CoreCurve,
    point: CurvePoint | None,
    at: datetime,
    what: str,
    measures: Measures,
    say: Callable[[datetime, Offset], str],
    *,
    now: bool = False,
) -> CoreRow:
    steps = [step for step in curve.air if step.at <= at]
    air = steps[-1] if steps else None
    around = (
        f"{'freezer' if air.in_freezer else 'room'} {measures.temperature(air.temp_c)}"
        if air is not None
        else "–"
    )
    if point is None:  # beyond the ends of the plot
        return CoreRow(at, say(at, curve.offset), what, "–", "–", "–", around, now)

    def degrees(temp_c: float) -> str:
        return measures.temperature(round(temp_c))

    low, high = degrees(point.low_c), degrees(point.high_c)
    return CoreRow(
        at=at,
        when=say(at, curve.offset),
        what=what,
        core=degrees(point.likely_c),
        band=low if low == high else f"{low} to {high}",
        surface=degrees(point.surface_c) if point.surface_c is not None else "–",
        air=around,
        now=now,
    )


def _what(event: CurveEvent, curve: CoreCurve, say: Callable[[datetime, Offset], str]) -> str:
    """What happens, with the band of its time where it is only reckoned."""
    if event.early is None or event.late is None:
        return event.words
    early, late = say(event.early, curve.offset), say(event.late, curve.offset)
    if early == late:
        return f"{event.words}, about {early}"
    same_day = local(event.early, curve.offset).date() == local(event.late, curve.offset).date()
    late = time_of_day(event.late, curve.offset) if same_day else late
    return f"{event.words}, between {early} and {late}"
