"""How long cold takes to kill the insects of dry food, by life stage, and how each is known."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Grade, Measure, temperature_c


@dataclass(frozen=True, kw_only=True)
class LifeStage(Description):
    """One life stage of one insect, named by both: the time until all are dead, by temperature."""

    attacks: tuple[str, ...]
    """The kinds of food the insect is known for."""
    temperatures: Annotated[tuple[Figure, ...], temperature_c(-90.0, 5.0)]
    """Coldest first."""
    kill_times: Annotated[tuple[Figure, ...], Measure("h", 0.001, 20000.0, also=("min", "day"))]
    """One for each temperature; never shorter where it is warmer."""
    dosed: bool = True
    """Whether the figures measure a kill; the others are shown for comparison, `note` says why."""
    note: str = ""

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together."""
        if not self.temperatures or len(self.temperatures) != len(self.kill_times):
            return ("must give one of kill_times for each of temperatures, and at least one",)
        found = [
            f"has {warmer:g} degC after {colder:g} degC; write the coldest first"
            for colder, warmer in pairwise(self.temps_c)
            if warmer <= colder
        ]
        found += [
            f"kills sooner, in {later:g} h, where it is warmer than in {sooner:g} h; one is wrong"
            for sooner, later in pairwise(self.kill_hours)
            if later < sooner
        ]
        if not self.dosed and not self.note:
            found.append("is not dosed; its note must say why")
        return tuple(found)

    @property
    def temps_c(self) -> tuple[float, ...]:
        """The temperatures that were tried, coldest first."""
        return tuple(figure.value for figure in self.temperatures)

    @property
    def kill_hours(self) -> tuple[float, ...]:
        """The hours until all are dead at each of them."""
        return tuple(figure.value for figure in self.kill_times)

    @property
    def grade(self) -> Grade:
        """How the row is known: the first grade among its times that is not published, if any."""
        grades = (figure.grade for figure in self.kill_times)
        return next((each for each in grades if each is not Grade.PUBLISHED), Grade.PUBLISHED)

    @property
    def source(self) -> str:
        """The bibliography's key of the work the first of its times was taken from."""
        return self.kill_times[0].source
