"""How uncertain a load's temperature is: many loads alike but for what nobody measured."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from packdesk.physics.heat_bands import Band, first_times_h, weighted_quantiles
from packdesk.physics.heat_bodies import (
    Filling,
    Shape,
    Surroundings,
    checked_history,
    checked_start_temp_c,
)
from packdesk.physics.heat_field import MOST_MODES, Axis
from packdesk.physics.heat_history import (
    PLACES,
    Asked,
    Temperatures,
    core,
    hours_within,
    read,
    scattered,
    surface,
)
from packdesk.physics.heat_readings import (
    ReadAt,
    Reading,
    effective_members,
    reweighted,
    widening,
)
from packdesk.physics.heat_spreads import Factors, Spreads, chosen, drawn
from packdesk.physics.ranges import Floats, within

DEFAULT_MEMBERS = 256
FEWEST_EFFECTIVE = 30.0
"""Below this many effective members a band of 80 per cent is made of too few of them."""
_WANTED_EFFECTIVE = 100.0
"""With fewer the ends of a band lie a little too close together; more members cost little."""
_MOST_MEMBERS = 16384
_AT_A_TIME = 2**22
"""Products of eigenfunctions in memory together: the fields of 1024 pails, or of 16 boxes."""


@dataclass(frozen=True)
class Ensemble:
    """Loads of one shape and filling that differ in what is uncertain, each with its weight.

    ``misfit`` is how many of the stated errors the readings lie away from the member that fits
    best, on root mean square: far above 1 the readings, the history or the properties are not what
    they are said to be. ``widened`` is what the readings' errors were multiplied by: the misfit
    where it is above 1 (R. T. Birge's ratio, 1932, from memory), so that readings which contradict
    each other narrow no band, and more where too few members would count.
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
        """How many members of equal weight would tell as much."""
        return effective_members(self.weights)

    def temperatures_c(
        self, start_temp_c: float, history: Sequence[Surroundings], hours: Floats
    ) -> Temperatures:
        """Core, surface and mean of every member, arrays of shape (members, hours).

        Arguments, source and limits: ``heat.temperatures_c``.
        """
        (found,) = self._read(start_temp_c, history, Asked(PLACES, hours))
        return Temperatures(*found)

    def coldest_c(
        self, start_temp_c: float, history: Sequence[Surroundings], hours: Floats
    ) -> Floats:
        """The coldest food of every member, shape (members, hours).

        In a load taken out before its core was as cold as its rim that is not the core. Arguments
        as in ``heat.temperatures_c``. Limits: the places looked at miss the coldest by 1 K at most
        in the first minutes after take-out, by 0.7 K within an hour or two, and by nothing once
        the cold has moved inward (seen against a finite-volume solution of five pails).
        """
        places = scattered(len(self.shape.directions))
        (found,) = self._read(start_temp_c, history, Asked(places, hours))
        return np.asarray(found.min(axis=0))

    def core_and_coldest_c(
        self, start_temp_c: float, history: Sequence[Surroundings], hours: Floats, marks: Floats
    ) -> tuple[Floats, Floats]:
        """The core at ``hours`` and the coldest food at ``marks``, each shape (members, times).

        Both for little more than one of them; arguments and limits as in ``coldest_c``.
        """
        places = scattered(len(self.shape.directions))
        at_core, found = self._read(
            start_temp_c, history, Asked((core,), hours), Asked(places, marks)
        )
        return np.asarray(at_core[0]), np.asarray(found.min(axis=0))

    def weighted(
        self,
        readings: Sequence[Reading],
        start_temp_c: float,
        history: Sequence[Surroundings],
        *,
        fewest_effective: float = FEWEST_EFFECTIVE,
    ) -> Ensemble:
        """The members weighted by how well they fit the readings.

        ``readings`` in any order, none before the history; ``start_temp_c`` and ``history`` as in
        ``heat.temperatures_c``; ``fewest_effective`` members 1 or more. Source: Bayes' rule with
        normal errors that know nothing of each other.

        Where too few members fit, more are drawn from the same sequence; where sixteen thousand
        are not enough, or no member fits as well as the stated errors ask, the errors are taken
        wider (``widened``), until ``fewest_effective`` count. Members that no longer count are
        dropped.
        """
        if not readings:
            return self
        ensemble_now = self
        while True:
            misfits = ensemble_now._squared_misfits(readings, start_temp_c, history)
            misfit = math.sqrt(float(misfits.min()) / len(readings))
            weights = reweighted(misfits, ensemble_now.weights, max(1.0, misfit))
            grown = ensemble_now.members * 2
            enough = effective_members(weights) >= max(fewest_effective, _WANTED_EFFECTIVE)
            if enough or grown > _MOST_MEMBERS or np.ptp(self.weights) > 0.0:
                break
            ensemble_now = ensemble(self.shape, self.filling, members=grown, spreads=self.spreads)
        widened = max(misfit, widening(misfits, ensemble_now.weights, fewest_effective))
        weights = reweighted(misfits, ensemble_now.weights, widened)
        keep = weights > 0.0
        return replace(
            ensemble_now,
            factors=chosen(ensemble_now.factors, keep),
            weights=weights[keep],
            widened=widened,
            misfit=misfit,
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
        return _axes(self.shape, self.filling, self.factors)

    def _read(
        self, start_temp_c: float, history: Sequence[Surroundings], *asked: Asked
    ) -> list[Floats]:
        """Every member at what is asked, each shape (places, members, hours), some at a time."""
        steps = checked_history(history)
        checked = [replace(each, hours=hours_within(steps, each.hours)) for each in asked]
        start = checked_start_temp_c(start_temp_c)
        directions = self.shape.directions
        together = max(1, _AT_A_TIME // MOST_MODES ** len(directions))
        parts = []
        for first in range(0, self.members, together):
            some = chosen(self.factors, slice(first, first + together))
            axes = _axes(self.shape, self.filling, some)
            parts.append(read(axes, directions, start, steps, checked))
        return [np.concatenate(each, axis=1) for each in zip(*parts, strict=True)]

    def _squared_misfits(
        self, readings: Sequence[Reading], start_temp_c: float, history: Sequence[Surroundings]
    ) -> Floats:
        hours = np.array([each.hour for each in readings])
        in_core = np.array([each.where is ReadAt.CORE for each in readings])
        seen = np.array([each.temp_c for each in readings])
        errors = np.array([each.standard_error_k for each in readings])
        ((at_core, at_wall),) = self._read(start_temp_c, history, Asked((core, surface), hours))
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

    Symbols: ``shape`` and ``filling`` the load as stated; ``members`` how many, 1 to 65 536;
    ``spreads`` how far each property may lie from its figure, those of ``Spreads`` unless given.

    Source: the points of ``even_points``; a longer ensemble begins with the shorter one.

    Limits: the properties know nothing of each other. A few members span no spread: with one and
    spreads other than 0 it is not the load as stated.
    """
    within("members", members, 1, 65536)
    given = spreads or Spreads()
    return Ensemble(shape, filling, drawn(given, members), np.full(members, 1.0 / members), given)


def _axes(shape: Shape, filling: Filling, factors: Factors) -> tuple[Axis, ...]:
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
            * (factors.fill_height if each.is_height else np.ones_like(conductivity)),
            conductivity / capacity,
            conductivity,
            factors.coefficient * each.coefficient_factor,
        )
        for each in shape.directions
    )
