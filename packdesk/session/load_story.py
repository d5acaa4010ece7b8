"""What is known of one load: what it went through so far, and what may still come.

The bridge between recorded facts and the heat calculation; hours are counted from the moment
the load was frozen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from packdesk.session.figures import LoadFigures
from packdesk.session.load import FreezerReading, Load, ProbeReading, RoomReading
from packdesk.session.state import SessionState


@dataclass(frozen=True, slots=True)
class Step:
    """From `at` on, air at `temp_c` around the load, in the freezer or in the room."""

    at: datetime
    temp_c: float
    in_freezer: bool


@dataclass(frozen=True, slots=True)
class LoadStory:
    """A load's figures, its surroundings step by step, and the readings taken on it."""

    figures: LoadFigures
    frozen_at: datetime
    steps: tuple[Step, ...]
    readings: tuple[ProbeReading, ...] = ()

    def hour(self, at: datetime) -> float:
        """Hours from the freezing to `at`."""
        return (at - self.frozen_at).total_seconds() / 3600.0

    def instant(self, hour: float) -> datetime:
        """The instant `hour` hours after the freezing."""
        return self.frozen_at + timedelta(hours=hour)

    def taken_out(self, at: datetime, room_c: float) -> LoadStory:
        """The same load if it came out of the freezer at `at` into a room at `room_c`."""
        kept = tuple(step for step in self.steps if step.at < at)
        return replace(self, steps=(*kept, Step(at, room_c, in_freezer=False)))


def begin(figures: LoadFigures, frozen_at: datetime) -> LoadStory:
    """A load that goes into the freezer at `frozen_at`."""
    first = Step(frozen_at, figures.freezer_temp_c, in_freezer=True)
    return LoadStory(figures, frozen_at, (first,))


def story(session: SessionState, load: Load) -> LoadStory:
    """Tell what `load` went through, from the readings of freezer and room that concern it."""
    told = begin(load.figures, load.frozen.utc)
    out_at = load.taken_out.utc if load.taken_out is not None else None
    if load.figures.spare_power_w is None:
        read = [each for each in session.freezer_readings if each.freezer == load.figures.freezer]
        steps = [*told.steps, *_freezer_steps(read, load.frozen.utc, out_at)]
    else:
        steps = _cabinet_steps(session, load, out_at)
    if out_at is not None and load.room_at_take_out_c is not None:
        steps.append(Step(out_at, load.room_at_take_out_c, in_freezer=False))
        steps.extend(_room_steps(session.room_readings, out_at))
    return replace(told, steps=tuple(steps), readings=load.readings)


def as_if(session: SessionState, load: Load) -> SessionState:
    """The session with `load` as it would be."""
    return replace(session, loads={**session.loads, load.load: load})


def room_at(session: SessionState, load: Load) -> RoomReading | None:
    """The room a load taken out warms in, as it was last known by the time of the readings."""
    if load.taken_out is None or load.room_at_take_out_c is None:
        return None
    out_at = load.taken_out.utc
    first = RoomReading(out_at, load.room_at_take_out_c, load.humidity_at_take_out)
    later = [reading for reading in session.room_readings if reading.at >= out_at]
    return sorted((first, *later), key=lambda reading: reading.at)[-1]


def _cabinet_steps(session: SessionState, load: Load, out_at: datetime | None) -> list[Step]:
    """The air of a freezer that its loads warm, from the freezing of `load` on."""
    from packdesk.session.freezer_air import freezer_air  # loads numpy

    since = load.frozen.utc
    air = freezer_air(session, load.figures.freezer)
    before = [step for step in air if step.at <= since]
    after = [step for step in air if step.at > since and (out_at is None or step.at < out_at)]
    return [
        Step(max(step.at, since), step.temp_c, in_freezer=True) for step in (before[-1], *after)
    ]


def _freezer_steps(
    readings: Sequence[FreezerReading], since: datetime, until: datetime | None
) -> list[Step]:
    return [
        Step(reading.at, reading.temp_c, in_freezer=True)
        for reading in sorted(readings, key=lambda reading: reading.at)
        if reading.at >= since and (until is None or reading.at < until)
    ]


def _room_steps(readings: Sequence[RoomReading], since: datetime) -> list[Step]:
    return [
        Step(reading.at, reading.temp_c, in_freezer=False)
        for reading in sorted(readings, key=lambda reading: reading.at)
        if reading.at >= since
    ]
