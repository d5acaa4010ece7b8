"""What warm loads do to a household freezer: how far its air warms, and what was frozen with it.

The bigger concern is not the load, which is only late, but the food that was frozen already.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from packdesk.physics.freezer_load import Arrival, CoolingLoad
from packdesk.physics.heat_bodies import Surroundings
from packdesk.physics.ranges import Floats, within

__all__ = [
    "Arrival",
    "CabinetStory",
    "Freezer",
    "FrozenFood",
    "cabinet_story",
    "food_limit_c",
    "spare_power_w",
]

KEPT_AT_C = -18.0
BRIEFLY_WARMER_K = 3.0
_SECONDS_IN_HOUR = 3600.0
_AT_ONCE_H = 1e-4
"""What is no further apart than this happens at once."""
TEST_PACKAGE_HEAT_J_KG = 310e3
"""What cooling one kg of the standard's test packages from room to −18 °C takes away (320 to 300
kJ/kg, latent heat included; enthalpy of methyl cellulose gel, from memory)."""


def food_limit_c(rest_temp_c: float) -> float:
    """How warm what is frozen already may become beside warm loads, for some hours (°C).

    Symbols: ``rest_temp_c`` the freezer's air at rest, −90 to 5 °C.

    Source: quick-frozen food is kept at −18 °C or below, with brief upward fluctuations of no more
    than 3 °C (Council Directive 89/108/EEC, articles 1 and 5, from memory). A colder freezer has
    that much more to give; in a warmer one the 3 K count from where its food is.

    Example: a freezer at −18 °C may let its food warm to −15 °C, one at −24 °C as well:

    >>> food_limit_c(-18.0), food_limit_c(-24.0), food_limit_c(-16.0)
    (-15.0, -15.0, -13.0)

    Limits: of the food, not of the air: air is warmer than that for an hour or two beside any warm
    pail and does no harm by itself.
    """
    rest = within("rest_temp_c", rest_temp_c, -90.0, 5.0, "°C")
    return max(KEPT_AT_C, rest) + BRIEFLY_WARMER_K


def spare_power_w(freezing_capacity_kg_24h: float) -> float:
    """What a freezer can draw out of a load, by the freezing capacity on its rating plate.

    Symbols: ``freezing_capacity_kg_24h`` kilograms in 24 hours, 0.1 to 200.

    Source: IEC 62552 states it as test packages brought from the room to −18 °C in a day, each
    kilogram of which gives up about 310 kJ (``TEST_PACKAGE_HEAT_J_KG``, from memory).

    Example: the least that four stars ask, 4.5 kg for 100 litres, is 16 W for 100 litres:

    >>> round(spare_power_w(4.5))
    16

    Limits: the plate speaks of a compressor that never rests; a worn seal or a hot room takes
    from it.
    """
    kilograms = within("freezing_capacity_kg_24h", freezing_capacity_kg_24h, 0.1, 200.0, "kg/24 h")
    return kilograms * TEST_PACKAGE_HEAT_J_KG / (24.0 * _SECONDS_IN_HOUR)


@dataclass(frozen=True, slots=True)
class Freezer:
    """A freezer at rest at its set point, and what it has to spare beyond its own losses.

    ``spare_power_w`` is the cooling power above what holds the set point; ``wall_loss_w_k`` how
    much less leaks in for each kelvin the cabinet is warmer (an order of magnitude, no source).
    """

    set_temp_c: float = -18.0
    spare_power_w: float = 60.0
    wall_loss_w_k: float = 1.5

    def __post_init__(self) -> None:
        within("set_temp_c", self.set_temp_c, -60.0, 0.0, "°C")
        within("spare_power_w", self.spare_power_w, 1.0, 5000.0, "W")
        within("wall_loss_w_k", self.wall_loss_w_k, 0.0, 100.0, "W/K")


@dataclass(frozen=True, slots=True)
class FrozenFood:
    """What is frozen in the cabinet already, taken as one body at one temperature.

    ``exchange_w_k`` is its outer surface times the surface coefficient: for packs that lie close,
    some 0.2 W/K for each kilogram (a guess, no source). Frozen food holds about 2 kJ/kgK
    (ice 2.06, Choi and Okos 1986); that it takes far more heat as it begins to melt is left out,
    so that it seems to warm too much rather than too little.
    """

    mass_kg: float
    exchange_w_k: float
    heat_capacity_j_kg_k: float = 2000.0

    def __post_init__(self) -> None:
        within("mass_kg", self.mass_kg, 0.01, 2000.0, "kg")
        within("exchange_w_k", self.exchange_w_k, 0.001, 1000.0, "W/K")
        within("heat_capacity_j_kg_k", self.heat_capacity_j_kg_k, 500.0, 5000.0, "J/kgK")


@dataclass(frozen=True)
class CabinetStory:
    """What happened in the cabinet; the arrays have one figure for each interval.

    ``ends_h`` is when each interval ends, ``air_temp_c`` the air during it, ``frozen_temp_c`` the
    food that was frozen already and ``load_temps_c`` the mean of each arrival at its end,
    ``removed_w`` the heat drawn out beyond the freezer's own losses during it.
    """

    freezer: Freezer
    arrivals: tuple[Arrival, ...]
    ends_h: Floats
    air_temp_c: Floats
    frozen_temp_c: Floats
    load_temps_c: tuple[Floats, ...]
    removed_w: Floats

    @property
    def warmest_air_c(self) -> float:
        """The air at its warmest: what the outermost packs of frozen food come close to."""
        return float(self.air_temp_c.max())

    @property
    def warmest_frozen_c(self) -> float:
        """The frozen food at its warmest, on average through its mass."""
        return float(self.frozen_temp_c.max())

    def surroundings(self, of: int, within_k: float = 1.0) -> tuple[Surroundings, ...]:
        """The air that arrival number ``of`` lay in, from its own hour on.

        Intervals whose air stays ``within_k`` of their first are joined, at the air's average.
        """
        arrival = self.arrivals[of]
        begins = np.concatenate([[0.0], self.ends_h[:-1]])
        inside = begins >= arrival.hour - _AT_ONCE_H
        starts, spans, air = begins[inside], (self.ends_h - begins)[inside], self.air_temp_c[inside]
        steps, first = [], 0
        for at in range(1, len(air) + 1):
            if at == len(air) or abs(air[at] - air[first]) > within_k:
                average = float(np.average(air[first:at], weights=spans[first:at]))
                steps.append(
                    Surroundings(float(starts[first]), average, arrival.coefficient_w_m2_k)
                )
                first = at
        return tuple(steps)


def cabinet_story(
    freezer: Freezer,
    arrivals: Sequence[Arrival],
    frozen: FrozenFood,
    until_h: float,
    *,
    step_h: float = 0.5,
) -> CabinetStory:
    """How warm a freezer, the loads put into it and the food already in it are, hour by hour.

    Symbols: ``arrivals`` the loads, each at its own hour; ``until_h`` how long to look, to 1000 h;
    ``step_h`` the length of an interval, 0.05 to 6 h.

    Source: over each interval the heat that loads and frozen food give off equals what the freezer
    draws out. All are linear in the air's temperature (the loads by their exact series), so that
    the air follows from one division: the set point if the power suffices for it, warmer if not.

    Example: 64 kg of rice from 21 °C hold 4.5 MJ above −18 °C, which 60 W draw out in 21 hours at
    the least (science of the trade, computed); so long, in thin bags and air that moves:

    >>> from packdesk.physics.heat_bodies import Filling, Slab
    >>> bags = Arrival(0.0, 8, Slab(0.01), Filling(0.11, 1800.0, 800.0), 21.0, 100.0)
    >>> alone = Freezer(-18.0, 60.0, wall_loss_w_k=0.0)
    >>> story = cabinet_story(alone, [bags], FrozenFood(0.01, 0.001), 24.0, step_h=0.1)
    >>> round(float(story.ends_h[story.air_temp_c > -18.0].max()))
    21

    Limits: air of one temperature throughout; a compressor as strong at any cabinet temperature
    (a real one is stronger when the cabinet is warm, so that this errs to the warm side); lids
    opened only to put loads in.
    """
    within("until_h", until_h, 0.05, 1000.0, "h")
    within("step_h", step_h, 0.05, 6.0, "h")
    loads = [CoolingLoad(arrival, freezer.set_temp_c) for arrival in arrivals]
    marks = [*np.arange(0.0, until_h, step_h).tolist(), until_h, *(each.hour for each in arrivals)]
    marks += [each.leaves_h for each in arrivals if each.leaves_h <= until_h]
    edges = np.array(sorted({round(mark, 4) for mark in marks if mark <= until_h}))
    store = frozen.mass_kg * frozen.heat_capacity_j_kg_k
    frozen_c = freezer.set_temp_c
    air, frozen_temps, removed = [], [], []
    means: list[list[float]] = [[] for _ in loads]
    for begin, end in pairwise(edges):
        span_h = float(end - begin)
        span_s = span_h * _SECONDS_IN_HOUR
        inside = [
            each
            for each in loads
            if each.arrival.hour - _AT_ONCE_H <= begin < each.arrival.leaves_h - _AT_ONCE_H
        ]
        given = [each.given_off_j(freezer.set_temp_c, span_h) for each in inside]
        kept = math.exp(-frozen.exchange_w_k * span_s / store)
        heat_j = sum(heat for heat, _ in given)
        heat_j += store * (1.0 - kept) * (frozen_c - freezer.set_temp_c)
        less_per_k = sum(less for _, less in given) + store * (1.0 - kept)
        less_per_k += freezer.wall_loss_w_k * span_s
        warmer_k = max(0.0, (heat_j - freezer.spare_power_w * span_s) / less_per_k)
        air_c = freezer.set_temp_c + warmer_k
        frozen_c = air_c + (frozen_c - air_c) * kept
        for each in inside:
            each.go_on(air_c, span_h)
        for temps, each in zip(means, loads, strict=True):
            temps.append(each.mean_c)
        air.append(air_c)
        frozen_temps.append(frozen_c)
        removed.append((heat_j - less_per_k * warmer_k) / span_s)
    return CabinetStory(
        freezer,
        tuple(arrivals),
        edges[1:],
        np.array(air),
        np.array(frozen_temps),
        tuple(np.array(each) for each in means),
        np.array(removed),
    )
