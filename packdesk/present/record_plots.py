"""Plots of the session record with their axes in words, and what they show as sentences."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import count
from math import ceil, floor

from packdesk.instants import Reading, date_and_time, instant, local
from packdesk.present.core_curve import core_curve
from packdesk.present.curves import CoreCurve
from packdesk.present.measures import Measures
from packdesk.present.outlines import AxisMark, CorePlot, MassHistogram
from packdesk.sentences import capital
from packdesk.session.load import Load
from packdesk.session.state import SessionState
from packdesk.units import Dimension, System, say

_OUNCE_G = 28.349523125
_MOST_LINES = 5
_MOST_BARS, _MOST_FIGURES = 12, 7
_HOUR = timedelta(hours=1)
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


# The core of a load -------------------------------------------------------------------------------


def core_plot(session: SessionState, load: Load, now: Reading, measures: Measures) -> CorePlot:
    """The plot of `load` as it went through the cold, reckoned with all that was read."""
    curve = core_curve(session, load, now, measures)
    return CorePlot(
        curve=curve,
        events=_events(curve, load),
        temperatures=_temperature_marks(curve, System(measures.system)),
        days=_day_marks(curve),
        said=_curve_said(curve, measures),
    )


def _events(curve: CoreCurve, load: Load) -> tuple[AxisMark, ...]:
    """What was done to the load, in hours since it was frozen."""
    done = ((load.taken_out, "out of the freezer"), (load.uncovered, "lid off"))
    start = curve.points[0].at
    return tuple(
        AxisMark((reading.utc - start) / _HOUR, words)
        for reading, words in done
        if reading is not None
    )


def _temperature_marks(curve: CoreCurve, system: System) -> tuple[AxisMark, ...]:
    """At most five round temperatures, in the units the session speaks."""
    temps = [temp for point in curve.points for temp in (point.low_c, point.high_c)]
    temps += [curve.threshold_c, *(temp for _, temp in curve.readings)]
    temps += [curve.dew_point_c] if curve.dew_point_c is not None else []
    temps += [step.temp_c for step in curve.air]
    size, zero = (1.0, 0.0) if system is System.METRIC else (5.0 / 9.0, 32.0)
    low, high = min(temps) / size + zero, max(temps) / size + zero
    step = next(
        step for step in _round_steps() if floor(high / step) - ceil(low / step) < _MOST_LINES
    )
    shown = [index * step for index in range(ceil(low / step), floor(high / step) + 1)]
    return tuple(
        AxisMark(at_c, say(at_c, Dimension.TEMPERATURE, system, 0.5))
        for at_c in ((degrees - zero) * size for degrees in shown)
    )


def _round_steps(start: float = 1.0) -> list[float]:
    return [start * size * 10.0**power for power in range(6) for size in (1, 2, 5)]


def _day_marks(curve: CoreCurve) -> tuple[AxisMark, ...]:
    """The first point, then every midnight, each with the day that begins there."""
    first, last = curve.points[0].at, curve.points[-1].at
    start = local(first, curve.offset)
    midnights = (
        start.replace(hour=0, minute=0, second=0, microsecond=0) + timedelta(days=day)
        for day in count()
    )
    marks: list[AxisMark] = []
    for midnight in midnights:
        hours = (instant(midnight, curve.offset) - first) / _HOUR
        if hours > (last - first) / _HOUR:
            return tuple(marks)
        marks.append(AxisMark(max(hours, 0.0), f"{_WEEKDAYS[midnight.weekday()]} {midnight.day}"))
    raise AssertionError("midnights have no end")


def _curve_said(curve: CoreCurve, measures: Measures) -> tuple[str, ...]:
    """What the plot shows, for whoever cannot see it."""
    coldest = min(curve.points, key=lambda point: point.likely_c)

    def at(instant: datetime) -> str:
        return date_and_time(instant, curve.offset)

    said = [
        (
            f"Reckoned core temperature from {at(curve.points[0].at)} to "
            f"{at(curve.points[-1].at)}; it lies in the shaded band with a chance of eight in ten. "
            "The dotted line is the food at the wall, the thin one the air around it. "
            f"The core was coldest, about {measures.temperature(round(coldest.likely_c))}, at "
            f"{at(coldest.at)}."
        )
    ]
    if curve.hold is not None:
        said.append(
            f"Most likely below {measures.temperature(curve.threshold_c)} from "
            f"{at(curve.hold[0])} to {at(curve.hold[1])}."
        )
    return tuple(said)


# Masses -------------------------------------------------------------------------------------------


def mass_histograms(session: SessionState, measures: Measures) -> tuple[MassHistogram, ...]:
    """A histogram of each plan line with at least three pouches weighed, each on its own."""
    lines = session.plan.lines if session.plan is not None else ()
    found = []
    for line in lines:
        weighed = [
            pouch.net_mass_g
            for pouch in session.working_pouches(line.line)
            if pouch.net_mass_g is not None and pouch.told_apart
        ]
        if len(weighed) > 2:
            found.append(_histogram(line.food_name, weighed, line.fill_mass_g, measures))
    return tuple(found)


def _histogram(
    food: str, masses_g: Sequence[float], planned_g: float, measures: Measures
) -> MassHistogram:
    system = System(measures.system)
    unit_g, unit, places = (1.0, "g", 0) if system is System.METRIC else (_OUNCE_G, "oz", 1)
    least, most = min(*masses_g, planned_g), max(*masses_g, planned_g)
    step = next(
        step
        for step in _round_steps(10.0**-places * unit_g)
        if round(most / step) - round(least / step) < _MOST_BARS
    )
    first = round(least / step)
    bars = round(most / step) - first + 1
    found = [round(mass / step) - first for mass in masses_g]
    middles = [(first + bar) * step for bar in range(bars)]
    mean = statistics.fmean(masses_g)
    return MassHistogram(
        title=f"{capital(food)}, net mass in {unit}",
        edges_g=tuple((first + edge - 0.5) * step for edge in range(bars + 1)),
        counts=tuple(found.count(bar) for bar in range(bars)),
        marks=tuple(
            AxisMark(middle, f"{middle / unit_g:.{places}f}")
            for middle in middles[:: ceil(bars / _MOST_FIGURES)]
        ),
        planned_g=planned_g,
        planned_words=f"planned {planned_g / unit_g:.{places}f}",
        said=(
            f"{len(masses_g)} pouches weighed: mean {measures.weighed(mean)}, from "
            f"{measures.weighed(min(masses_g))} to {measures.weighed(max(masses_g))}; planned "
            f"{measures.mass(planned_g)}. Standard deviation "
            f"{_deviation(masses_g, unit_g, unit)}."
        ),
    )


def _deviation(masses_g: Sequence[float], unit_g: float, unit: str) -> str:
    return f"{statistics.stdev(masses_g) / unit_g:.1f}\u00a0{unit}"
