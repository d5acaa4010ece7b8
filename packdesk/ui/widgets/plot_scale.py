"""Where a temperature and an instant lie on the core plot, and which lines and ticks it has."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from math import ceil, floor

from PySide6.QtCore import QPointF, QRectF

from packdesk.instants import Offset, instant, local
from packdesk.present.curves import CoreCurve

STEPS_C = (1, 2, 5, 10, 20, 50)
MOST_LINES = 5
PADDING_C = 1.5
HOURS_UNTIL = timedelta(hours=40)
"""A plot shorter than this is told in hours, a longer one in days."""

HOUR_STEPS = (1, 2, 3, 6, 12)
MOST_HOUR_TICKS = 8
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MINUS = "\N{MINUS SIGN}"
NARROW_SPACE = "\N{NARROW NO-BREAK SPACE}"


@dataclass(frozen=True, slots=True)
class PlotScale:
    """Maps instants and °C into a rectangle of pixels."""

    area: QRectF
    start: datetime
    end: datetime
    low_c: float
    high_c: float
    room_from: datetime | None = None
    """When the load came out of the freezer, if it did."""

    def x(self, at: datetime) -> float:
        """The x of an instant."""
        part = (at - self.start) / (self.end - self.start)
        return self.area.left() + self.area.width() * part

    def y(self, temp_c: float) -> float:
        """The y of a temperature in °C."""
        part = (temp_c - self.low_c) / (self.high_c - self.low_c)
        return self.area.bottom() - self.area.height() * part


def scale_for(curve: CoreCurve, area: QRectF, foot_px: float = 0.0) -> PlotScale:
    """A scale that holds every point, reading and line of a curve.

    At least `foot_px` are left under the coldest of them, for the name of what is there.
    """
    since = curve.shown_from or min((point.at for point in curve.points), default=curve.now)
    points = [point for point in curve.points if point.at >= since]
    temps = [temp for point in points for temp in (point.low_c, point.high_c)]
    temps += [curve.threshold_c, *(temp for at, temp in curve.readings if at >= since)]
    temps += [temp for at, temp in curve.wall_readings if at >= since]
    temps += [step.temp_c for step in curve.air if step.at >= since or step is curve.air[-1]]
    if curve.dew_point_c is not None:
        temps.append(curve.dew_point_c)
    instants = [point.at for point in points] or [curve.now]
    start, end = min(instants), max(*instants, curve.now)
    if end <= start:
        end = start + timedelta(hours=1)
    room_from = next((step.at for step in curve.air if not step.in_freezer), None)
    low_c, high_c = min(temps), max(temps) + PADDING_C
    rest_px = max(area.height() - foot_px, 1.0)
    foot_c = max(PADDING_C, (high_c - low_c) * foot_px / rest_px)
    return PlotScale(area, start, end, low_c - foot_c, high_c, room_from)


def lines_c(low_c: float, high_c: float) -> list[int]:
    """The temperatures that get a hairline: at most five, at round steps; °F go as well."""
    for step in STEPS_C:
        lines = list(range(ceil(low_c / step) * step, floor(high_c / step) * step + 1, step))
        if len(lines) <= MOST_LINES:
            return lines
    return []


def axis(low_c: float, high_c: float, *, fahrenheit: bool) -> list[tuple[float, str]]:
    """Where the hairlines lie (°C) and what is written at each; the top one carries the unit."""
    if not fahrenheit:
        lines = lines_c(low_c, high_c)
        return [(line, figure_words(line, unit=line == lines[-1])) for line in lines]
    lines = lines_c(low_c * 1.8 + 32.0, high_c * 1.8 + 32.0)
    return [
        ((line - 32.0) / 1.8, figure_words(line, unit=line == lines[-1], degree="°F"))
        for line in lines
    ]


def figure_words(temperature: int, *, unit: bool, degree: str = "°C") -> str:
    """An axis figure with a real minus sign, and its unit where `unit` says so."""
    figure = f"{MINUS if temperature < 0 else ''}{abs(temperature)}"
    return f"{figure}{NARROW_SPACE}{degree}" if unit else figure


@dataclass(frozen=True, slots=True)
class TimeTick:
    """A tick of the time axis; its words stand centred between `words_from` and `words_to`."""

    at: datetime
    words: str
    words_from: datetime
    words_to: datetime


def time_ticks(start: datetime, end: datetime, offset: Offset) -> list[TimeTick]:
    """Midnights with the days between them, or round hours on a short plot."""
    if end - start <= HOURS_UNTIL:
        return _hour_ticks(start, end, offset)
    there = local(start, offset).replace(hour=0, minute=0, second=0, microsecond=0)
    midnight = instant(there, offset)
    ticks = []
    while midnight < end:
        words = WEEKDAYS[there.weekday()]
        there += timedelta(days=1)
        following = instant(there, offset)
        ticks.append(TimeTick(midnight, words, max(midnight, start), min(following, end)))
        midnight = following
    return ticks


def _hour_ticks(start: datetime, end: datetime, offset: Offset) -> list[TimeTick]:
    span_h = (end - start) / timedelta(hours=1)
    step = next((step for step in HOUR_STEPS if span_h / step <= MOST_HOUR_TICKS), HOUR_STEPS[-1])
    there = local(start, offset)
    there = there.replace(hour=there.hour - there.hour % step, minute=0, second=0, microsecond=0)
    ticks = []
    while (at := instant(there, offset)) <= end:
        if at >= start:
            ticks.append(TimeTick(at, f"{there:%H:%M}", at, at))
        there += timedelta(hours=step)
    return ticks


def likely_at(curve: CoreCurve, at: datetime) -> float | None:
    """The likely temperature at an instant, between the two points around it; None outside."""
    for before, after in pairwise(curve.points):
        if before.at <= at <= after.at and after.at > before.at:
            part = (at - before.at) / (after.at - before.at)
            return before.likely_c + (after.likely_c - before.likely_c) * part
    return None


def likely_line(curve: CoreCurve, scale: PlotScale) -> list[QPointF]:
    """The likely values that are shown, as points of the plot."""
    return [
        QPointF(scale.x(point.at), scale.y(point.likely_c))
        for point in curve.points
        if point.at >= scale.start
    ]


def lid_point(curve: CoreCurve, scale: PlotScale) -> QPointF | None:
    """The middle of the time in which the lid may come off, on the likely line."""
    if curve.lid_off is None:
        return None
    return _on_line(curve, scale, curve.lid_off[0] + (curve.lid_off[1] - curve.lid_off[0]) / 2)


def cold_point(curve: CoreCurve, scale: PlotScale) -> QPointF | None:
    """Where the cold is complete on the likely line, if no hold leads up to it."""
    return None if curve.cold_done is None else _on_line(curve, scale, curve.cold_done)


def _on_line(curve: CoreCurve, scale: PlotScale, at: datetime) -> QPointF | None:
    temp_c = likely_at(curve, at)
    return None if temp_c is None else QPointF(scale.x(at), scale.y(temp_c))
