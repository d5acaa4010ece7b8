"""A load's core over time as a plot or a table is handed it: finished words and plain figures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from packdesk.instants import Offset


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One instant of a core-temperature plot: likely value and band (°C), likely surface."""

    at: datetime
    low_c: float
    likely_c: float
    high_c: float
    surface_c: float | None = None


@dataclass(frozen=True, slots=True)
class AirStep:
    """From `at` on, air at `temp_c` around a load, in the freezer or in the room."""

    at: datetime
    temp_c: float
    in_freezer: bool


@dataclass(frozen=True, slots=True)
class CurveEvent:
    """What happens to a load at an instant, or most likely then; `words` name it.

    `early` and `late` are the ends of its band where it is only reckoned.
    """

    at: datetime
    words: str
    early: datetime | None = None
    late: datetime | None = None


@dataclass(frozen=True, slots=True)
class CoreRow:
    """One row of the plot as a table: when, what happens, the core with its band, what is round it.

    `at` and `now` are for sorting and for marking the row of this very moment.
    """

    at: datetime
    when: str
    what: str
    core: str
    band: str
    surface: str
    air: str
    now: bool = False

    @property
    def cells(self) -> tuple[str, ...]:
        """The row as it is read from left to right."""
        return (self.when, self.what, self.core, self.band, self.surface, self.air)


@dataclass(frozen=True, slots=True)
class CoreCurve:
    """All that a core-temperature plot shows; times are UTC, `offset` makes them local.

    Past points are drawn solid, future ones dotted. `hold` is the stretch the core is cold
    enough, until the rule that governs is met; `cold_done` is that instant where no hold leads up
    to it, as the dose may be complete in a core that never gets so cold. `hold_words` name
    either, `hold_of_h` is what the plain rule asks (0: the dose governs). `lid_off` are the
    instants between which the lid may come off, `opened` when it did. `air` is what surrounds the
    load step by step, `freezer_words` and `room_words` name it, `events` everything with a time,
    due or done. The screen begins at `shown_from`: of a load that warms the thaw is looked at, not
    the days before. Figures are °C whatever the words say; `fahrenheit`: the axis is to be read in
    °F, as the words are.
    """

    points: tuple[CurvePoint, ...]
    now: datetime
    now_words: str
    now_range: str
    threshold_c: float
    threshold_words: str
    offset: Offset
    hold: tuple[datetime, datetime] | None = None
    dew_point_c: float | None = None
    dew_words: str = ""
    lid_off: tuple[datetime, datetime] | None = None
    lid_words: str = ""
    readings: tuple[tuple[datetime, float], ...] = ()
    fahrenheit: bool = False
    hold_words: str = ""
    hold_of_h: float = 0.0
    cold_done: datetime | None = None
    opened: datetime | None = None
    opened_words: str = ""
    wall_readings: tuple[tuple[datetime, float], ...] = ()
    air: tuple[AirStep, ...] = ()
    freezer_words: str = ""
    room_words: str = ""
    events: tuple[CurveEvent, ...] = ()
    shown_from: datetime | None = None
