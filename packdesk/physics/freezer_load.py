"""One load on its way through a freezer whose air warms and cools again."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from packdesk.physics.heat_bodies import Direction, Filling, Shape
from packdesk.physics.heat_ensemble import ensemble
from packdesk.physics.heat_field import Field
from packdesk.physics.heat_history import mean
from packdesk.physics.heat_spreads import Spreads
from packdesk.physics.ranges import OutOfRange, within

_SHORTEST_H = 0.05


@dataclass(frozen=True, slots=True)
class Arrival:
    """So many containers alike, put in at ``hour`` and taken out again at ``leaves_h``."""

    hour: float
    count: int
    shape: Shape
    filling: Filling
    start_temp_c: float
    coefficient_w_m2_k: float = 8.0
    leaves_h: float = math.inf

    def __post_init__(self) -> None:
        within("hour", self.hour, 0.0, math.inf, "h")
        within("count", self.count, 1, 1000)
        if not self.leaves_h >= self.hour:
            raise OutOfRange("leaves_h", self.leaves_h, self.hour, math.inf, "h")
        within("start_temp_c", self.start_temp_c, -60.0, 60.0, "°C")
        within("coefficient_w_m2_k", self.coefficient_w_m2_k, 0.1, 200.0, "W/m²K")

    @property
    def heat_capacity_j_k(self) -> float:
        """What all of it together holds for each kelvin."""
        filling = self.filling
        volume = self.count * self.shape.volume_m3
        return volume * filling.bulk_density_kg_m3 * filling.heat_capacity_j_kg_k


class CoolingLoad:
    """One arrival on its way through the cabinet's intervals; each is asked about, then gone on."""

    def __init__(self, arrival: Arrival, air_c: float) -> None:
        self.arrival = arrival
        self.mean_c = arrival.start_temp_c
        self._axes = ensemble(
            arrival.shape, arrival.filling, members=1, spreads=Spreads(0.0, 0.0, 0.0, 0.0, 0.0)
        ).axes
        self._air_c = air_c
        self._field = self._field_from(arrival.start_temp_c, air_c)
        self._passed_h = 0.0
        self._next_c = self.mean_c
        self._answers: dict[float, float] = {}

    def given_off_j(self, air_c: float, span_h: float) -> tuple[float, float]:
        """The heat given off in the next ``span_h``, and how much less to air a kelvin warmer."""
        self._next_c = self._mean_c(self._field, self._passed_h + span_h)
        answer = self._answer(span_h)
        after_c = self._next_c + answer * (air_c - self._air_c)
        capacity = self.arrival.heat_capacity_j_k
        return capacity * (self.mean_c - after_c), capacity * answer

    def go_on(self, air_c: float, span_h: float) -> None:
        """Let the ``span_h`` just asked about go by in air at ``air_c``."""
        self.mean_c = self._next_c + self._answer(span_h) * (air_c - self._air_c)
        if air_c == self._air_c:
            self._passed_h += span_h
            return
        self._field.step(self._passed_h, air_c, self.arrival.coefficient_w_m2_k)
        self._air_c, self._passed_h = air_c, span_h

    def _answer(self, span_h: float) -> float:
        """How far the mean follows a change of the air by one kelvin within ``span_h``."""
        if span_h not in self._answers:
            follows = 1.0 - self._mean_c(self._field_from(1.0, 0.0), span_h)
            self._answers[span_h] = follows
        return self._answers[span_h]

    def _field_from(self, start_temp_c: float, air_c: float) -> Field:
        return Field(self._axes, start_temp_c, air_c, self.arrival.coefficient_w_m2_k, _SHORTEST_H)

    def _mean_c(self, field: Field, after_h: float) -> float:
        place = mean(field.profiles, self._directions)
        return float(field.temperatures_c([place], np.array([after_h]))[0, 0, 0])

    @property
    def _directions(self) -> tuple[Direction, ...]:
        return self.arrival.shape.directions
