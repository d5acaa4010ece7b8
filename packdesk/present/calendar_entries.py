"""What a person's own calendar should remind of: freezer in and out, lids, packing, seal checks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID, uuid5

from packdesk.instants import Reading, day_and_time
from packdesk.present.freezer_plan import FreezerPlan
from packdesk.present.load_view import short_food
from packdesk.session.clocks import ClockKind, cold_done, running, standing
from packdesk.session.figures import Span
from packdesk.session.state import SessionState

HOUR_BEFORE = timedelta(hours=1)
AT_ONCE = timedelta(0)


@dataclass(frozen=True, slots=True)
class CalendarEntry:
    """One thing to be done at an instant (UTC); `alarms` ring so long before it.

    `uid` is the same however often the calendar is written, so that a reader changes the entry
    it has instead of adding a second one.
    """

    uid: UUID
    start: datetime
    summary: str
    description: str = ""
    alarms: tuple[timedelta, ...] = (AT_ONCE,)


def calendar_entries(
    session: SessionState, now: Reading, freezer: FreezerPlan
) -> tuple[CalendarEntry, ...]:
    """Everything of `session` that is still to come, in order; `freezer` is what is still outside.

    A load keeps its entries when it goes from the plan into the freezer: they go by its place
    among the loads of its lot.
    """
    found = [*_waiting(session, freezer), *_in_hand(session, now)]
    pack_at = session.plan.pack_at if session.plan is not None else None
    if pack_at is not None and pack_at > now.utc:
        found.append(
            CalendarEntry(
                _uid(session, "pack"),
                pack_at,
                f"Pack: {session.name}",
                "Pouches, absorbers, iron and jar at hand before the packet is opened.",
                (HOUR_BEFORE,),
            )
        )
    found += _checks(session, now)
    return tuple(sorted(found, key=lambda entry: (entry.start, entry.uid)))


def _uid(session: SessionState, *what: object) -> UUID:
    return uuid5(session.session, "/".join(map(str, what)))


def _waiting(session: SessionState, freezer: FreezerPlan) -> Iterator[CalendarEntry]:
    """Loads still outside: latest times of the back-planning."""
    if freezer.plan is None:
        return
    places = Counter(load.lot for load in session.loads.values())
    for each in freezer.plan.loads:
        lot, times = each.load.lot, each.calendar
        places[lot] += 1
        subject, name = (lot, places[lot]), f"{each.load.name}, lot {lot}"
        yield CalendarEntry(
            _uid(session, "in", *subject),
            times.load_by,
            f"Into the freezer by now: {name}",
            f"Latest time, in a closed pail. {freezer.sentence} {freezer.cure}".strip(),
            (HOUR_BEFORE, AT_ONCE),
        )
        yield CalendarEntry(
            _uid(session, "out", *subject),
            times.hold_done,
            f"Out of the freezer, lid on: {name}",
            "Planned; goes by the load's own clock once it is in.",
        )
        yield CalendarEntry(
            _uid(session, "lid", *subject),
            times.lid_off,
            f"Lid off: {name}",
            "Planned; the lid stays on until the food is warm. Wipe lid and rim dry first.",
        )


def _in_hand(session: SessionState, now: Reading) -> Iterator[CalendarEntry]:
    """Loads in the freezer or warming: by their own clocks."""
    due = {
        clock.subject: standing(clock, now).due_at
        for clock in running(session)
        if clock.kind in (ClockKind.COLD, ClockKind.THAW)
    }
    places: Counter[str] = Counter()
    for load in session.loads.values():
        places[load.lot] += 1
        if load.load not in due:
            continue
        subject = (load.lot, places[load.lot])
        name = f"load {load.load}, {short_food(load.food_name)}"
        if load.taken_out is None:
            yield CalendarEntry(
                _uid(session, "out", *subject),
                due[load.load],
                f"Out of the freezer, lid on: {name}",
                _between(cold_done(session, load), now),
            )
        elif load.thaw is not None:
            yield CalendarEntry(
                _uid(session, "lid", *subject),
                due[load.load],
                f"Lid off: {name}",
                f"{_between(load.thaw.lid_off, now)} Wipe lid and rim dry first.",
            )


def _checks(session: SessionState, now: Reading) -> Iterator[CalendarEntry]:
    for clock in running(session):
        if clock.kind is ClockKind.SEAL_CHECK:
            pouches = "1 pouch" if clock.count == 1 else f"{clock.count} pouches"
            yield CalendarEntry(
                _uid(session, "check", clock.clock),
                standing(clock, now).due_at,
                f"Look at the seals: {pouches}",
                "Tight, snug, soft or swollen? A swollen pouch is not opened: discard it.",
            )


def _between(span: Span | None, now: Reading) -> str:
    if span is None:
        return ""
    early, late = (day_and_time(at, now.offset_min_at) for at in (span.early, span.late))
    return f"Most likely between {early} and {late}; a reading narrows it."
