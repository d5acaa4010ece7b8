"""Which load is due first, and when, in words."""

from __future__ import annotations

from packdesk.instants import Reading, day_and_time, local, time_of_day
from packdesk.present.chosen import Chosen
from packdesk.session.clocks import Clock, ClockKind, Standing, running, standing
from packdesk.session.load import Load
from packdesk.session.state import SessionState
from packdesk.units import NO_BREAK_SPACE


def chosen_load(loads: list[Load], chosen: Chosen, session: SessionState, now: Reading) -> Load:
    """The load picked, or the one that is due first."""
    picked = next((load for load in loads if load.load == chosen.load), None)
    if picked is not None:
        return picked
    remaining = {
        clock.subject: standing(clock, now).remaining_s
        for clock in running(session)
        if clock.kind in (ClockKind.COLD, ClockKind.THAW)
    }
    return min(loads, key=lambda load: remaining.get(load.load, float("inf")))


def clock_of(
    session: SessionState, load: Load, kind: ClockKind, now: Reading
) -> tuple[Clock, Standing] | None:
    """The clock of this kind that runs for a load, and how it stands; None while none does."""
    for clock in running(session):
        if clock.kind is kind and clock.subject == load.load:
            return clock, standing(clock, now)
    return None


def about(found: tuple[Clock, Standing], now: Reading, *, short: bool = False) -> str:
    """When a load is due, by the same time of day that its clock shows."""
    due = found[1].due_at
    today = local(due, now.offset_min_at).date() == local(now.utc, now.offset_min_at).date()
    words = (time_of_day if today else day_and_time)(due, now.offset_min_at)
    words = words.replace(" ", NO_BREAK_SPACE)
    return words if short else f"about {words}"
