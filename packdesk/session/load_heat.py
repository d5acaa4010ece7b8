"""How warm one load is, with all that its story says: the ensemble of `physics.heat` for it.

Importing this loads numpy, so that the window can open first: only `forecast` does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from packdesk.physics import heat
from packdesk.physics.ranges import Floats
from packdesk.session.load import ProbeReading
from packdesk.session.load_story import LoadStory
from packdesk.session.terms import Probe


@dataclass(frozen=True, slots=True)
class OffReading:
    """A core reading beyond the band and its own error: by so much (K, negative: colder)."""

    hour: float
    temp_c: float
    off_k: float
    in_freezer: bool


@dataclass(frozen=True)
class LoadHeat:
    """The members that a load might be, weighted by its readings; hours count from the freezing."""

    story: LoadStory

    @cached_property
    def members(self) -> heat.Ensemble:
        """Loads of its shape and filling, those that fit the readings counting more."""
        figures = self.story.figures
        every = heat.ensemble(
            heat.Cylinder(figures.radius_mm / 1000.0, figures.fill_height_mm / 1000.0),
            heat.Filling(
                figures.conductivity_w_m_k,
                figures.heat_capacity_j_kg_k,
                figures.bulk_density_kg_m3,
            ),
        )
        readings = [
            _reading(self.story.hour(reading.at), reading)
            for reading in self.story.readings
            if self.story.hour(reading.at) > 0.0
        ]
        return every.weighted(readings, figures.start_temp_c, self.surroundings)

    @cached_property
    def surroundings(self) -> list[heat.Surroundings]:
        """The air around it step by step, in order."""
        figures = self.story.figures
        return [
            heat.Surroundings(
                self.story.hour(step.at),
                step.temp_c,
                figures.freezer_coefficient_w_m2_k
                if step.in_freezer
                else figures.room_coefficient_w_m2_k,
            )
            for step in sorted(self.story.steps, key=lambda step: step.at)
        ]

    def core_c(self, hours: Floats) -> Floats:
        """The core of every member at each of `hours`, shape (members, hours)."""
        return self.temperatures_c(hours).core_c

    def temperatures_c(self, hours: Floats) -> heat.Temperatures:
        """Core, surface and mean of every member at each of `hours`, shape (members, hours)."""
        start_c = self.story.figures.start_temp_c
        return self.members.temperatures_c(start_c, self.surroundings, hours)

    def coldest_c(self, hours: Floats) -> Floats:
        """The coldest food of every member, wherever it lies, shape (members, hours)."""
        start_c = self.story.figures.start_temp_c
        return self.members.coldest_c(start_c, self.surroundings, hours)

    @cached_property
    def off_readings(self) -> tuple[OffReading, ...]:
        """Core readings that contradict what is reckoned, by time.

        No member comes near them: the freezer, the filling or the probe is not what it is said
        to be. On the safe side they count before the reckoning.
        """
        story = self.story
        read = sorted(
            (_reading(story.hour(reading.at), reading) for reading in story.readings),
            key=lambda reading: reading.hour,
        )
        read = [each for each in read if each.where is heat.ReadAt.CORE and each.hour > 0.0]
        if not read:
            return ()
        out_h = min((story.hour(s.at) for s in story.steps if not s.in_freezer), default=math.inf)
        core = self.core_c(np.array([each.hour for each in read]))
        low, high = self.members.quantiles(core, (0.1, 0.9))
        off = [
            (each, each.temp_c - float(np.clip(each.temp_c, low_c, high_c)))
            for each, low_c, high_c in zip(read, low, high, strict=True)
        ]
        return tuple(
            OffReading(each.hour, each.temp_c, off_k, in_freezer=each.hour <= out_h)
            for each, off_k in off
            if abs(off_k) > each.standard_error_k
        )


@lru_cache(maxsize=16)
def load_heat(story: LoadStory) -> LoadHeat:
    """What is known of the load of `story`: weighed once, however often it is asked."""
    return LoadHeat(story)


def _reading(hour: float, reading: ProbeReading) -> heat.Reading:
    where = heat.ReadAt.CORE if reading.probe is Probe.CORE else heat.ReadAt.WALL
    return heat.Reading(hour, reading.temp_c, where)
