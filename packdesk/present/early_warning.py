"""Which clocks want attention before they are due: a warning, and a computer that is awake."""

from __future__ import annotations

from datetime import timedelta

from packdesk.instants import Reading
from packdesk.present.clock_rows import SOON_FRACTION, SOON_S
from packdesk.session.clocks import Clock, ClockKind, Standing, running, standing
from packdesk.session.commands import RingAlarm
from packdesk.session.state import Alarm, SessionState

AWAKE_WITHIN_S = 3600.0
"""The computer is held awake for a clock that falls due this soon, or fell due this lately."""

_SAME = timedelta(minutes=1)
_SAME_WAIT = timedelta(seconds=SOON_S)


def warns_at_s(runs_s: float) -> float:
    """After how long a no-longer-than clock of `runs_s` seconds warns.

    That is when its card turns to "soon", but never in the first half of its time: a warning
    that comes as the packet is opened is noise.
    """
    return max(min(runs_s - SOON_S, runs_s * SOON_FRACTION), runs_s / 2)


def warning_name(clock: Clock) -> str:
    """Under which name the warning of a clock is on record."""
    whose = clock.kind if clock.kind is ClockKind.PRESSED_SHUT else clock.clock
    return f"{whose}/soon"


def warnings_due(session: SessionState, now: Reading) -> tuple[RingAlarm, ...]:
    """The warnings to put on record at `now`, each clock once for its due instant.

    A warning is an alarm of its own beside its clock's, called «packet:1/soon», due when the
    warning was to be given. A due time that moves on by more than a minute warns again. All
    pouches that wait for the iron share one warning, good for ten minutes: whoever seals them
    one after another is not to be warned of each.
    """
    found = []
    for clock in running(session):
        stands = standing(clock, now)
        if not _in_warning(clock, stands):
            continue
        late_s = stands.passed_s - warns_at_s(clock.runs_s)
        due_at = now.utc - timedelta(seconds=late_s)
        given = session.alarms.get(warning_name(clock))
        same = _SAME_WAIT if clock.kind is ClockKind.PRESSED_SHUT else _SAME
        if given is None or due_at > given.due_at + same:
            found.append(RingAlarm(warning_name(clock), due_at, round(late_s, 1)))
    return tuple(found)


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
