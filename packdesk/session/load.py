"""One load on its way through the cold, and what the thermometers round it showed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from packdesk.instants import Reading
from packdesk.session.figures import ColdForecast, LoadFigures, ThawForecast
from packdesk.session.terms import ColdRule, Probe


@dataclass(frozen=True, slots=True)
class ProbeReading:
    """One temperature read on a load."""

    at: datetime
    temp_c: float
    probe: Probe


@dataclass(frozen=True, slots=True)
class FreezerReading:
    """What the thermometer of one freezer showed."""

    at: datetime
    temp_c: float
    freezer: int = 1


@dataclass(frozen=True, slots=True)
class Load:
    """One closed container of one lot on its way through the cold.

    `forecast_before` is what held until the last reading or neighbour changed it. `dose` is what
    the toughest life stage, `dose_stage`, had of its kill by the end of the cold, and `rule` says
    which of the two was to make it complete.
    """

    load: str
    lot: str
    food_name: str
    container: str
    container_name: str
    mass_g: float
    figures: LoadFigures
    frozen: Reading
    forecast: ColdForecast
    readings: tuple[ProbeReading, ...] = ()
    forecast_before: ColdForecast | None = None
    taken_out: Reading | None = None
    room_at_take_out_c: float | None = None
    humidity_at_take_out: float | None = None
    held_h: float = 0.0
    dose: float | None = None
    dose_stage: str = ""
    rule: ColdRule = ColdRule.PLAIN
    short_reason: str = ""
    thaw: ThawForecast | None = None
    uncovered: Reading | None = None
    uncover_reason: str = ""

    @property
    def cold_complete(self) -> bool:
        """Whether the cold was complete when the load came out of it."""
        return cold_is_complete(self.rule, self.held_h, self.forecast.hold_h, self.dose)


def cold_is_complete(rule: ColdRule, held_h: float, needed_h: float, dose: float | None) -> bool:
    """Whether the cold is complete by `rule`; without a dose reckoned the hours count."""
    if rule is ColdRule.DOSE and dose is not None:
        return dose >= 1.0
    return held_h >= needed_h


@dataclass(frozen=True, slots=True)
class RoomReading:
    """Temperature and, where known, relative humidity (0 to 1) of the room."""

    at: datetime
    temp_c: float
    relative_humidity: float | None
