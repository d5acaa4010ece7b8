"""Which insects a load's temperature has killed: the cold dose, and the plain rule beside it.

Insects in dry food are a matter of quality, not of safety: this advises and never refuses.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from packdesk.physics.heat_bands import Band, rising
from packdesk.physics.heat_ensemble import Ensemble
from packdesk.physics.heat_history import Temperatures
from packdesk.physics.plain_rule import RULE_AT_C
from packdesk.physics.ranges import Floats

WARMEST_COUNTED_C = -12.0
"""Slow cooling above this acclimates insects rather than kills them (Gilberg & Brokerhof 1991,
J. Am. Inst. Conserv. 30:197; the figure is our proposal)."""


class KillTimes(Protocol):
    """What is known of one life stage of one insect: the hours until all are dead, by temperature.

    ``temps_c`` rises, coldest first, and ``kill_hours`` does not fall along it.
    """

    @property
    def dosed(self) -> bool:
        """Whether the figures measure a kill; the others are for comparison only."""

    @property
    def grade(self) -> str:
        """How the figures are known, in a word: published, or from memory."""

    @property
    def source(self) -> str:
        """The key of the work they were taken from."""

    @property
    def name(self) -> str:
        """The insect and its life stage."""

    @property
    def temps_c(self) -> tuple[float, ...]:
        """The temperatures of the figures, °C."""

    @property
    def kill_hours(self) -> tuple[float, ...]:
        """The hours each of them takes."""


def _warmest_counted_c(row: KillTimes) -> float:
    """The warmest temperature (°C) that ``row`` gives any credit for."""
    return min(WARMEST_COUNTED_C, row.temps_c[-1])


def kill_time_h(row: KillTimes, temp_c: Floats) -> Floats:
    """How many hours at ``temp_c`` kill all of one life stage; infinite where it is not known.

    Symbols: ``row`` the figures of one life stage; ``temp_c`` °C, any.

    Source: the figures of the row, between two of them straight on a scale of ratios. Colder than
    the coldest figure counts as that figure.

    Example: Collins, Conyers and Cardwell give the diapausing larva of the warehouse moth one day
    at −20 °C and three at −15 °C:

    >>> from types import SimpleNamespace
    >>> larva = SimpleNamespace(temps_c=(-20.0, -15.0), kill_hours=(24.0, 72.0))
    >>> kill_time_h(larva, np.array([-20.0, -15.0, -11.9])).round(6).tolist()
    [24.0, 72.0, inf]

    Limits: infinite above −12 °C and above the warmest figure of the row.
    """
    hours = np.exp(np.interp(temp_c, row.temps_c, np.log(row.kill_hours)))
    return np.where(np.asarray(temp_c) <= _warmest_counted_c(row), hours, np.inf)


def cold_dose(row: KillTimes, hours: Floats, temp_c: Floats) -> Floats:
    """How much of a whole kill a place has had by each hour; 1 is a kill.

    Symbols: ``row`` the figures of one life stage; ``hours`` rising; ``temp_c`` the place's
    temperature at them along the last axis, taken to run straight between two hours.

    Source: the integral of dt / kill time over one unbroken cold spell, and of all spells so far
    the best. A warm gap takes all credit away: what survived recovers.

    Example: three days at −15 °C are the larva's whole kill (Collins, Conyers and Cardwell):

    >>> from types import SimpleNamespace
    >>> larva = SimpleNamespace(temps_c=(-20.0, -15.0), kill_hours=(24.0, 72.0))
    >>> cold_dose(larva, np.array([0.0, 36.0, 72.0]), np.full(3, -15.0)).round(6).tolist()
    [0.0, 0.5, 1.0]

    Limits: each interval counts at the rate of its warmer end, so that coarse hours give too
    little and never too much; a warm gap shorter than an interval is not seen. A temperature that
    is not a number ends the spell.
    """
    return _best_spell(
        hours, temp_c, _warmest_counted_c(row), lambda warmer: 1.0 / kill_time_h(row, warmer)
    )


def load_dose(row: KillTimes, hours: Floats, temperatures: Temperatures) -> Floats:
    """The dose of a whole load by each hour: that of core or surface, whichever has had less.

    Symbols: ``row`` and ``hours`` as in ``cold_dose``; ``temperatures`` of the load at them.

    Source: definition; every place of the load must have had its dose.

    Example: where the core was cold on the last of three days only, the load has had a third of
    the larva's kill, however cold the surface was:

    >>> from types import SimpleNamespace
    >>> larva = SimpleNamespace(temps_c=(-20.0, -15.0), kill_hours=(24.0, 72.0))
    >>> cold, late = np.full(4, -15.0), np.array([0.0, 0.0, -15.0, -15.0])
    >>> found = load_dose(larva, np.array([0.0, 47.9, 48.0, 72.0]), Temperatures(late, cold, cold))
    >>> round(float(found[-1]), 2)
    0.33

    Limits: in a load taken out early the rim of a pail may have had less than either.
    """
    return np.minimum(
        cold_dose(row, hours, temperatures.core_c), cold_dose(row, hours, temperatures.surface_c)
    )


def longest_hold_h(hours: Floats, temp_c: Floats, at_or_below_c: float = RULE_AT_C) -> Floats:
    """The longest unbroken time (h) a place has been at or below a temperature, by each hour.

    Symbols: ``hours`` rising; ``temp_c`` the place's temperature at them along the last axis, taken
    to run straight between two hours; ``at_or_below_c`` °C.

    Source: definition. Where ``hours`` go on into the thaw the lag after take-out counts by
    itself: a closed pail stays cold inside long after it has left the freezer.

    Example: from −14 °C at 0 h to −16 °C at 2 h a place is below −15 °C for one hour:

    >>> longest_hold_h(np.array([0.0, 2.0]), np.array([-14.0, -16.0])).tolist()
    [0.0, 1.0]

    Limits: a warm gap shorter than an interval is not seen.
    """
    return _best_spell(hours, temp_c, at_or_below_c, np.ones_like)


def _best_spell(
    hours: Floats, temp_c: Floats, limit_c: float, rate_per_h: Callable[[Floats], Floats]
) -> Floats:
    """The most that one unbroken spell at or below the limit has gained, by each hour."""
    hours, temps = rising(hours), np.asarray(temp_c, dtype=np.float64)
    before, after = temps[..., :-1], temps[..., 1:]
    colder, warmer = np.minimum(before, after), np.maximum(before, after)
    crosses = (colder <= limit_c) & (warmer > limit_c)
    part = (limit_c - colder) / np.where(crosses, warmer - colder, 1.0)
    share = np.where(crosses, part, np.where(warmer <= limit_c, 1.0, 0.0))
    gained = np.diff(hours) * share * rate_per_h(np.minimum(warmer, limit_c))
    start = np.zeros_like(temps[..., :1])
    total = np.concatenate([start, np.cumsum(gained, axis=-1)], axis=-1)
    # At a warm hour the spell has ended: all gained up to there is lost to the spells after it.
    lost = np.maximum.accumulate(np.where(temps <= limit_c, 0.0, total), axis=-1)
    spell = total - np.concatenate([start, lost[..., :-1]], axis=-1)
    return np.asarray(np.maximum.accumulate(spell, axis=-1))


@dataclass(frozen=True, slots=True)
class StageDose:
    """What one life stage has had by the last hour looked at, and when its kill is complete.

    Of the members' weight one tenth lies below ``low`` and one tenth above ``high``.
    """

    row: KillTimes
    low: float
    likely: float
    high: float
    killed_h: Band


def stage_doses(
    rows: Sequence[KillTimes], members: Ensemble, hours: Floats, temperatures: Temperatures
) -> tuple[tuple[StageDose, ...], tuple[KillTimes, ...]]:
    """What each life stage has had by the last of ``hours``, least first; and those it is not for.

    Symbols: ``rows`` the life stages to look at, those that are not ``dosed`` left out;
    ``temperatures`` those of ``members`` at ``hours`` (h, rising), the hours after take-out in the
    closed pail among them if they are to count. The second answer are the life stages that were
    only ever tried colder than what the load comes to.

    Source: ``load_dose`` for each row, over the members by their weights.

    Example: a load at −15 °C for three days has had the larva's kill:

    >>> from types import SimpleNamespace
    >>> from packdesk.physics.heat import Cylinder, Filling, ensemble
    >>> larva = SimpleNamespace(temps_c=(-20.0, -15.0), kill_hours=(24.0, 72.0), dosed=True)
    >>> one = ensemble(Cylinder(0.14, 0.34), Filling(0.11, 1700.0, 800.0), members=1)
    >>> steady = Temperatures(*(np.full((1, 2), -15.0) for _ in range(3)))
    >>> (dose,), without = stage_doses([larva], one, np.array([0.0, 72.0]), steady)
    >>> round(dose.likely, 6), without
    (1.0, ())

    Limits: insects are a matter of quality: advise and record, never refuse.
    """
    coldest_c = float(members.quantiles(temperatures.core_c.min(axis=1), (0.5,))[0])
    doses, without = [], []
    for row in rows:
        if not row.dosed:
            continue
        warmest_c = _warmest_counted_c(row)
        if warmest_c < WARMEST_COUNTED_C and coldest_c > warmest_c:
            without.append(row)
            continue
        dose = load_dose(row, hours, temperatures)
        low, likely, high = (float(each) for each in members.quantiles(dose[:, -1]))
        killed = members.first_time_h(hours, dose, at_or_above=1.0)
        doses.append(StageDose(row, low, likely, high, killed))
    least_first = sorted(doses, key=lambda each: (each.likely, -each.killed_h.likely_h))
    return tuple(least_first), tuple(without)
