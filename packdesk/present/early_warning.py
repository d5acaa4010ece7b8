"""Which clocks want attention before they are due: a warning, and a computer that is awake."""

from __future__ import annotations

from datetime import timedelta

from packdesk.instants import Reading
from packdesk.present.clock_rows import SOON_FRACTION, SOON_S
from packdesk.session.clocks import Clock, ClockKind, Standing, rang_since, running, standing
from packdesk.session.commands import RingAlarm
from packdesk.session.state import Alarm, SessionState

AWAKE_WITHIN_S = 3600.0
"""The computer is held awake for a clock that falls due this soon, or fell due this lately."""

WARN_AGAIN_AFTER_S = 60.0
"""A due time that moved on by no more than this has been warned of."""


def warns_at_s(runs_s: float) -> float:
    """After how long a no-longer-than clock of `runs_s` seconds warns.

    That is when its card turns to "soon", but never in the first half of its time: a warning
    that comes as the packet is opened is noise.
    """
    return max(min(runs_s - SOON_S, runs_s * SOON_FRACTION), runs_s / 2)


def warning_name(clock: Clock) -> str:
    """Under which name the warning of a clock is on record: «packet:1/soon»."""
    return f"{clock.clock}/soon"


def warnings_due(session: SessionState, now: Reading) -> tuple[RingAlarm, ...]:
    """The warnings to put on record at `now`, each clock once for its due instant.

    A warning is an alarm of its own beside its clock's, due when it was to be given. A due time
    that moves on warns again. The pouches that wait for the iron share one clock that moves on
    with every seam; its warning is good for ten minutes, so that whoever seals them one after
    another is not warned of each.
    """
    found = []
    for clock in running(session):
        stands = standing(clock, now)
        warn_at = clock.started.utc + timedelta(seconds=warns_at_s(clock.runs_s))
        due_for_s = stands.passed_s - warns_at_s(clock.runs_s)
        if _in_warning(clock, stands) and not _given(session, clock, due_for_s, now):
            found.append(RingAlarm(warning_name(clock), warn_at, round(due_for_s, 1)))
    return tuple(found)


def _given(session: SessionState, clock: Clock, due_for_s: float, now: Reading) -> bool:
    """Whether the warning was given since it was due."""
    good_for_s = SOON_S if clock.kind is ClockKind.PRESSED_SHUT else WARN_AGAIN_AFTER_S
    alarm = session.alarms.get(warning_name(clock))
    return rang_since(alarm, clock, due_for_s, now, good_for_s)


def warned(session: SessionState, now: Reading) -> tuple[tuple[Clock, Standing, Alarm], ...]:
    """The clocks a warning was given for that are still to fall due."""
    found = []
    for clock in running(session):
        alarm = session.alarms.get(warning_name(clock))
        stands = standing(clock, now)
        if alarm is not None and _in_warning(clock, stands):
            found.append((clock, stands, alarm))
    return tuple(found)


def hold_awake(session: SessionState | None, now: Reading) -> bool:
    """Whether the computer is to be kept awake: a clock is due within the hour, or rings.

    One that has been due for more than an hour no longer holds it: a forgotten seal check must
    not empty a battery.
    """
    return session is not None and any(
        abs(standing(clock, now).remaining_s) <= AWAKE_WITHIN_S for clock in running(session)
    )


def _in_warning(clock: Clock, stands: Standing) -> bool:
    return not clock.at_least and not stands.due and stands.passed_s >= warns_at_s(clock.runs_s)
