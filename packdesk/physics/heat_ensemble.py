"""How uncertain a load's temperature is: many loads alike but for what nobody measured."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from packdesk.physics.heat_bodies import (
    Filling,
    Shape,
    Surroundings,
    checked_history,
    checked_start_temp_c,
)
from packdesk.physics.heat_field import Axis
from packdesk.physics.heat_history import (
    PLACES,
    SCATTERED,
    Temperatures,
    core,
    hours_within,
    read,
    surface,
)
from packdesk.physics.ranges import Floats, within

DEFAULT_MEMBERS = 256
FEWEST_EFFECTIVE = 30.0
"""Below this many effective members a band of 80 per cent is made of too few of them."""
_WANTED_EFFECTIVE = 100.0
"""With fewer the ends of a band lie a little too close together; more members cost little."""
_MOST_MEMBERS = 16384
_NEGLIGIBLE = 1e-4
"""A member that counts this little beside the best is left out, to spare its reckoning."""


@dataclass(frozen=True, slots=True)
class Spreads:
    """How far each property may lie from its figure, as a fraction of it, either way.

    A spread of 0.2 means anywhere from 1/1.2 to 1.2 times the figure, every value counting alike
    on a scale of ratios: of a stated range no more is known than its ends. Conductivity and heat
    capacity: 0.13 ± 0.03 W/mK and 1.75 ± 0.2 kJ/kgK span the handbook values of grain beds at
    12 % moisture (ASABE D243, from memory); surface coefficient: 6 to 10 W/m²K in free air
    (computed); bulk density and fill height: common practice, no source.
    """

    conductivity: float = 0.2
    heat_capacity: float = 0.12
    bulk_density: float = 0.05
    coefficient: float = 0.3
    fill_height: float = 0.05

    def __post_init__(self) -> None:
        for name, spread in zip(self.__slots__, self.all, strict=True):
            within(f"spread of {name}", spread, 0.0, 3.0)

    @property
    def all(self) -> tuple[float, ...]:
        """The spreads in the order of an ensemble's factors."""
        return (
            self.conductivity,
            self.heat_capacity,
            self.bulk_density,
            self.coefficient,
            self.fill_height,
        )


class ReadAt(StrEnum):
    """Where a thermometer was."""

    CORE = "core"
    """A wired probe put in the middle before the lid went on, or a reading with the lid off
    inside the freezer."""
    WALL = "wall"
    """Held against the outside of the wall: a weak reading."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of a thermometer in or on a load.

    ``error_k`` is one standard deviation of thermometer and placing together; left out, 0.7 K for
    a probe in the core and 2.5 K for one against the wall (common practice, no source).
    """

    hour: float
    temp_c: float
    where: ReadAt = ReadAt.CORE
    error_k: float | None = None

    @property
    def standard_error_k(self) -> float:
        """The error counted with, in K."""
        if self.error_k is not None:
            return within("error_k", self.error_k, 0.01, 50.0, "K")
        return 0.7 if self.where is ReadAt.CORE else 2.5


@dataclass(frozen=True, slots=True)
class Band:
    """An early, a likely and a late hour; infinite where it lies beyond the hours looked at."""

    early_h: float
    likely_h: float
    late_h: float


@dataclass(frozen=True, slots=True)
class Factors:
    """What each member multiplies the stated figures by, shapes (members,)."""

    conductivity: Floats
    heat_capacity: Floats
    bulk_density: Floats
    coefficient: Floats
    fill_height: Floats


@dataclass(frozen=True)
class Ensemble:
    """Loads of one shape and filling that differ in what is uncertain, each with its weight.

    ``widened`` is what the readings' errors were multiplied by so that enough members still
    count: 1 unless the readings say more than the members can follow. ``misfit`` is how many of
    the stated errors the readings lie away from the member that fits best, on root mean square: far
    above 1 the readings, the history or the properties are not what they are said to be.
    """

    shape: Shape
    filling: Filling
    factors: Factors
    weights: Floats
    spreads: Spreads = field(default_factory=Spreads)
    widened: float = 1.0
    misfit: float = 0.0

    @property
    def members(self) -> int:
        """How many loads there are."""
        return len(self.weights)

    @property
    def effective_members(self) -> float:
        """How many members of equal weight would tell as much (Kish 1965, from memory)."""
        return float(self.weights.sum() ** 2 / np.square(self.weights).sum())

    def temperatures_c(
        self, start_temp_c: float, history: Sequence[Surroundings], hours: Floats
    ) -> Temperatures:
        """Core, surface and mean of every member, arrays of shape (members, hours)."""
        steps = checked_history(history)
        asked = hours_within(steps, hours)
        start = checked_start_temp_c(start_temp_c)
        found = read(self.axes, self.shape.directions, start, steps, asked, PLACES)
        return Temperatures(*found)

    def coldest_c(
        self, start_temp_c: float, history: Sequence[Surroundings], hours: Floats
    ) -> Floats:
        """The coldest food of every member, shape (members, hours).

        In a load taken out before its core was as cold as its rim that is not the core.
        """
        steps = checked_history(history)
        asked = hours_within(steps, hours)
        start = checked_start_temp_c(start_temp_c)
        found = read(self.axes, self.shape.directions, start, steps, asked, SCATTERED)
        return np.asarray(found.min(axis=0))

    def weighted(
        self,
        readings: Sequence[Reading],
        start_temp_c: float,
        history: Sequence[Surroundings],
        *,
        fewest_effective: float = FEWEST_EFFECTIVE,
    ) -> Ensemble:
        """The members weighted by how well they fit the readings.

        Where too few members fit, more are drawn from the same sequence; where sixteen thousand
        are not enough, the errors are taken wider (``widened``) until ``fewest_effective`` count.
        Members that no longer count are dropped.
        """
        if not readings:
            return self
        ensemble_now = self
        while True:
            misfits = ensemble_now._squared_misfits(readings, start_temp_c, history)
            weights = _weights(misfits, ensemble_now.weights, 1.0)
            grown = ensemble_now.members * 2
            enough = _effective(weights) >= max(fewest_effective, _WANTED_EFFECTIVE)
            if enough or grown > _MOST_MEMBERS or np.ptp(self.weights) > 0.0:
                break
            ensemble_now = ensemble(self.shape, self.filling, members=grown, spreads=self.spreads)
        widened = _widening(misfits, ensemble_now.weights, fewest_effective)
        weights = _weights(misfits, ensemble_now.weights, widened)
        keep = weights > 0.0
        return replace(
            ensemble_now,
            factors=_chosen(ensemble_now.factors, keep),
            weights=weights[keep],
            widened=widened,
            misfit=math.sqrt(float(misfits.min()) / len(readings)),
        )

    def quantiles(self, values: Floats, shares: Sequence[float] = (0.1, 0.5, 0.9)) -> Floats:
        """The values below which each share of the members' weight lies.

        ``values`` has the members first; the shares come first in what is handed back. Infinite
        values are allowed and stay infinite.
        """
        return weighted_quantiles(values, self.weights, shares)

    def first_time_h(
        self,
        hours: Floats,
        values: Floats,
        *,
        at_or_below: float | None = None,
        at_or_above: float | None = None,
        held_h: float = 0.0,
        shares: tuple[float, float, float] = (0.1, 0.5, 0.9),
    ) -> Band:
        """When ``values`` first is, and for ``held_h`` has without a break been, past a limit."""
        times = first_times_h(
            hours, values, at_or_below=at_or_below, at_or_above=at_or_above, held_h=held_h
        )
        early, likely, late = (float(each) for each in self.quantiles(times, shares))
        return Band(early, likely, late)

    @property
    def axes(self) -> tuple[Axis, ...]:
        """The directions of every member, as the field is carried in."""
        filling, factors = self.filling, self.factors
        conductivity = filling.conductivity_w_m_k * factors.conductivity
        capacity = (
            filling.heat_capacity_j_kg_k
            * factors.heat_capacity
            * filling.bulk_density_kg_m3
            * factors.bulk_density
        )
        return tuple(
            Axis(
                each.kind,
                each.half_length_m
                * (factors.fill_height if each.is_height else np.ones(self.members)),
                conductivity / capacity,
                conductivity,
                factors.coefficient * each.coefficient_factor,
            )
            for each in self.shape.directions
        )

    def _squared_misfits(
        self, readings: Sequence[Reading], start_temp_c: float, history: Sequence[Surroundings]
    ) -> Floats:
        steps = checked_history(history)
        hours = hours_within(steps, np.array([each.hour for each in readings]))
        start = checked_start_temp_c(start_temp_c)
        at_core, at_wall = read(
            self.axes, self.shape.directions, start, steps, hours, (core, surface)
        )
        in_core = np.array([each.where is ReadAt.CORE for each in readings])
        seen = np.array([each.temp_c for each in readings])
        errors = np.array([each.standard_error_k for each in readings])
        told = np.where(in_core, at_core, at_wall)
        return np.asarray(np.square((told - seen) / errors).sum(axis=1))


def ensemble(
    shape: Shape,
    filling: Filling,
    *,
    members: int = DEFAULT_MEMBERS,
    spreads: Spreads | None = None,
) -> Ensemble:
    """Loads spread evenly over what is uncertain; the same arguments give the same members.

    The points follow the additive recurrence of the generalised golden ratio (M. Roberts, The
    unreasonable effectiveness of quasirandom sequences, 2018, from memory), so that a longer
    ensemble begins with the shorter one.
    """
    within("members", members, 1, 65536)
    given = spreads or Spreads()
    points = even_points(members, len(given.all))
    factors = [
        (1.0 + spread) ** (2.0 * column - 1.0)
        for spread, column in zip(given.all, points.T, strict=True)
    ]
    return Ensemble(shape, filling, Factors(*factors), np.full(members, 1.0 / members), given)


def even_points(count: int, dimensions: int) -> Floats:
    """Points spread evenly over the unit cube, shape (count, dimensions)."""
    ratio = 2.0
    for _ in range(60):
        ratio = (1.0 + ratio) ** (1.0 / (dimensions + 1.0))
    steps = ratio ** -np.arange(1.0, dimensions + 1.0)
    return np.asarray((0.5 + np.outer(np.arange(1.0, count + 1.0), steps)) % 1.0)


def weighted_quantiles(values: Floats, weights: Floats, shares: Sequence[float]) -> Floats:
    """The values below which each share of the weight lies, members along the first axis.

    Each member stands in the middle of its own weight; between two members the value is
    interpolated, beyond the outermost ones it is theirs.
    """
    flat = values.reshape(len(values), -1)
    order = np.argsort(flat, axis=0, kind="stable")
    rising = np.take_along_axis(flat, order, axis=0)
    share = weights[order] / weights.sum()
    middle = np.cumsum(share, axis=0) - share / 2.0
    out = np.empty((len(shares), flat.shape[1]))
    for at, wanted in enumerate(shares):
        within("share", wanted, 0.0, 1.0)
        above = np.sum(middle < wanted, axis=0)
        right = np.minimum(above, len(flat) - 1)
        left = np.maximum(above - 1, 0)
        columns = np.arange(flat.shape[1])
        low, high = rising[left, columns], rising[right, columns]
        finite = np.isfinite(low) & np.isfinite(high)
        span = middle[right, columns] - middle[left, columns]
        part = (wanted - middle[left, columns]) / np.where(span > 0.0, span, 1.0)
        apart = np.subtract(high, low, out=np.zeros_like(low), where=finite)
        between = low + np.clip(part, 0.0, 1.0) * apart
        out[at] = np.where(finite, between, np.where(part > 1e-9, high, low))
    return out.reshape(len(shares), *values.shape[1:])


def first_times_h(
    hours: Floats,
    values: Floats,
    *,
    at_or_below: float | None = None,
    at_or_above: float | None = None,
    held_h: float = 0.0,
) -> Floats:
    """For each row of ``values``, the first hour at which it has been past the limit long enough.

    ``hours`` rises; between two hours the value is taken to run straight. The answer is the end
    of the hold, and infinite if the hours looked at do not contain it.
    """
    if (at_or_below is None) == (at_or_above is None):
        raise ValueError("Give one limit: either at_or_below or at_or_above.")
    within("held_h", held_h, 0.0, math.inf, "h")
    if at_or_below is not None:
        margin = at_or_below - np.atleast_2d(values)
    else:
        margin = np.atleast_2d(values) - (at_or_above or 0.0)
    holds = margin >= 0.0
    before, now = margin[:, :-1], margin[:, 1:]
    change = np.where(holds[:, 1:] == holds[:, :-1], 1.0, now - before)
    crossing = hours[:-1] + np.diff(hours) * np.clip(-before / change, 0.0, 1.0)
    begins = np.where(holds[:, 1:] & ~holds[:, :-1], crossing, -np.inf)
    first = np.where(holds[:, :1], hours[0], -np.inf)
    begun = np.maximum.accumulate(np.concatenate([first, begins], axis=1), axis=1)
    # A hold goes on to the hour itself, or to the crossing on the way to an hour that is past it.
    ended = np.concatenate([np.full_like(first, -np.inf), crossing], axis=1)
    held = begun + held_h <= np.where(holds, hours, ended)
    # At an hour past the hold, only a hold that went on until the hour before ends on the way.
    held &= holds | np.concatenate([np.zeros_like(holds[:, :1]), holds[:, :-1]], axis=1)
    at = np.argmax(held, axis=1)
    found = np.take_along_axis(begun, at[:, None], axis=1)[:, 0] + held_h
    return np.where(held.any(axis=1), found, np.inf)


def _effective(weights: Floats) -> float:
    return float(weights.sum() ** 2 / np.square(weights).sum())


def _weights(squared_misfits: Floats, before: Floats, widened: float) -> Floats:
    relative = (squared_misfits - squared_misfits.min()) / (2.0 * widened**2)
    weights = before * np.exp(-relative)
    weights = np.where(weights > weights.max() * _NEGLIGIBLE, weights, 0.0)
    return np.asarray(weights / weights.sum())


def _widening(squared_misfits: Floats, before: Floats, fewest_effective: float) -> float:
    """What the errors must be multiplied by so that enough members count."""
    goal = min(fewest_effective, 0.9 * _effective(before))
    if _effective(_weights(squared_misfits, before, 1.0)) >= goal:
        return 1.0
    low, high = 1.0, 2.0
    while _effective(_weights(squared_misfits, before, high)) < goal:
        low, high = high, 2.0 * high
    for _ in range(40):
        middle = math.sqrt(low * high)
        if _effective(_weights(squared_misfits, before, middle)) < goal:
            low = middle
        else:
            high = middle
    return high


def _chosen(factors: Factors, keep: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> Factors:
    return Factors(
        factors.conductivity[keep],
        factors.heat_capacity[keep],
        factors.bulk_density[keep],
        factors.coefficient[keep],
        factors.fill_height[keep],
    )
