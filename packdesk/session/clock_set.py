"""The record read by the wall clock as it is set now, whatever was done to it meanwhile.

Within one run of the machine the steady clock tells how far the wall clock was set. What that run
recorded before is then read as if the clock had always been as it is now: its instants move along.
So the order of what happened, and the time between, are those that passed, in the state and in all
that is decided on it. The record itself stays as it was written.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TypeVar

import msgspec

from packdesk.instants import Reading, wall_set_s
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact
from packdesk.session.facts import AlarmRang, PlanAgreed

T = TypeVar("T")

_AS_WRITTEN = (AlarmRang, PlanAgreed)
"""Their instants are names: of a ringing, and of the day that a person chose to pack on."""


def by_the_clock_now(entries: Sequence[Entry], now: Reading | None = None) -> tuple[Entry, ...]:
    """Answer the entries, in recorded order, with their instants by the clock as it is set now.

    `now` says how it is set; without it each run of the machine is read by its last entry.
    """
    settings = _settings(entries, now)
    if not settings:
        return tuple(entries)
    moved: list[Entry] = []
    set_since: dict[str, float] = {}
    for place in reversed(range(len(entries))):
        if place + 1 in settings:
            boot, by_s = settings[place + 1]
            set_since[boot] = set_since.get(boot, 0.0) + by_s
        entry = entries[place]
        moved.append(_moved(entry, set_since.get(entry.recorded.boot, 0.0)))
    return tuple(reversed(moved))


def set_before(entries: Sequence[Entry]) -> dict[int, float]:
    """How far (s, forward) the wall clock was set just before an entry, by the entry's place."""
    return {place: by_s for place, (_, by_s) in _settings(entries, None).items()}


def _settings(entries: Iterable[Entry], now: Reading | None) -> dict[int, tuple[str, float]]:
    """Each setting of a wall clock, by the place of the first entry after it.

    Told are the run of the machine and how far the clock was set forward (s; negative: back).
    """
    readings = [entry.recorded for entry in entries]
    if now is not None:
        readings.append(now)
    last: dict[str, Reading] = {}
    found: dict[int, tuple[str, float]] = {}
    for place, reading in enumerate(readings):
        before = last.get(reading.boot)
        if before is not None and (by_s := wall_set_s(before, reading)):
            found[place] = (reading.boot, by_s)
        last[reading.boot] = reading
    return found


def _moved(entry: Entry, by_s: float) -> Entry:
    if not by_s:
        return entry
    by, recorded = timedelta(seconds=by_s), entry.recorded
    noted_at = recorded.utc + by
    # What was dated beyond its clock, then known to be behind, is not carried further by it.
    happened_at = min(entry.happened_at + by, max(entry.happened_at, noted_at))
    fact = entry.fact
    if isinstance(fact, Fact) and not isinstance(fact, _AS_WRITTEN):
        fact = _shifted(fact, happened_at - entry.happened_at)
    return replace(
        entry,
        happened_at=happened_at,
        recorded=replace(recorded, utc=noted_at, set_s=recorded.set_s + by_s),
        fact=fact,
    )


def _shifted(value: T, by: timedelta) -> T:
    """The value with every instant in it moved."""
    found: object = value
    if isinstance(value, datetime):
        found = value + by
    elif isinstance(value, tuple):
        found = tuple(_shifted(each, by) for each in value)
    elif isinstance(value, msgspec.Struct):
        fields = {name: getattr(value, name) for name in value.__struct_fields__}
        found = msgspec.structs.replace(value, **{n: _shifted(v, by) for n, v in fields.items()})
    return found  # type: ignore[return-value]
