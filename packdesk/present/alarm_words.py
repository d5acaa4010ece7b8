"""What an alarm sounds like and says: the rhythm, the title, how late, and what it cannot do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from types import MappingProxyType

from packdesk.instants import Reading, day_and_time, elapsed_s, local, span, time_of_day
from packdesk.present.clock_rows import ago, alarm_band, clock_name
from packdesk.present.early_warning import warned
from packdesk.session.clocks import Clock, Standing, running, standing, to_ring
from packdesk.session.state import Alarm, SessionState

OVERDUE_FROM_S = 60.0
"""A no-longer-than clock this far past its time changes from the due rhythm to the overdue one:
by then the first ring has ended and nobody has acted."""

WARNING_HOLDS_S = 15.0
"""A warning sounds once, within this of its entry; later, as after a restart, it is old news."""

WORTH_ASKING = timedelta(days=7)
"""A clock further away than this is no reason to leave the program open."""

NO_RING_ASLEEP = (
    "A sleeping computer cannot ring. While a clock is due within the hour this one is asked to "
    "stay awake; a closed lid, the power button or an empty battery overrules that."
)


class Rhythm(StrEnum):
    """How an alarm beats; told apart by rhythm, the same for sound and for words."""

    WARNING = "warning"
    DUE = "due"
    OVERDUE = "overdue"

    @property
    def urgency(self) -> int:
        """Its place among the three: the more urgent the greater."""
        return _ORDER.index(self)


_ORDER = (Rhythm.WARNING, Rhythm.DUE, Rhythm.OVERDUE)


@dataclass(frozen=True, slots=True)
class AlarmCall:
    """What is to be rung now, in finished words.

    `occasions` names each clock that rings with the due instant it rang for: the same occasion is
    rung anew only by its own repeats, a new one at once.
    """

    rhythm: Rhythm
    title: str
    body: str
    occasions: frozenset[tuple[str, datetime]]


def alarm_call(session: SessionState, now: Reading) -> AlarmCall | None:
    """What rings at `now`: clocks that are due and not silenced, or else a warning just given.

    None while nothing rings, which is not to say that nothing is due: a stopped sound leaves
    the band. What is not on record yet, or could not be put there (a full disk), rings all the
    same.
    """
    return _of_due(session, now) or _of_warning(session, now)


def rhythm_of(clock: Clock, stands: Standing) -> Rhythm:
    """The rhythm of a clock that is due, or of one that soon will be."""
    if not stands.due:
        return Rhythm.WARNING
    if clock.at_least or -stands.remaining_s < OVERDUE_FROM_S:
        return Rhythm.DUE
    return Rhythm.OVERDUE


def due_words(stands: Standing, now: Reading) -> str:
    """When a clock was due and how late that makes it: «due at 10:51, 43 min ago»."""
    if stands.unknown:
        return "due, nobody knows since when"
    return f"due at {_when(stands.due_at, now)}{ago(stands, ', ')}"


def asleep_words(session: SessionState, now: Reading) -> str:
    """The sentence for somebody about to walk off, or nothing while no clock runs.

    It names the next clock to fall due, so that a wall clock or a kitchen timer can stand in.
    """
    coming = [
        (stands.remaining_s, clock, stands)
        for clock in running(session)
        if not (stands := standing(clock, now)).due
    ]
    if not coming:
        return ""
    _, clock, stands = min(coming, key=lambda each: each[0])
    return f"{NO_RING_ASLEEP} Next: {clock_name(clock)}, due at {_when(stands.due_at, now)}."


def closing_words(
    in_hand: SessionState | None, others: Iterable[SessionState], now: Reading
) -> str:
    """What somebody about to close the program should know; nothing while no clock runs soon.

    Where the next clock is another session's, that one is named.
    """
    coming = [
        (stands.remaining_s, clock, stands, "" if session is in_hand else f"{session.name}: ")
        for session in (*([in_hand] if in_hand is not None else []), *others)
        for clock in running(session)
        if (stands := standing(clock, now)).remaining_s < WORTH_ASKING.total_seconds()
    ]
    if not coming:
        return ""
    remaining_s, clock, stands, whose = min(coming, key=lambda each: each[0])
    due = "due" if remaining_s > 0.0 else "was due"
    return (
        f"A closed PackDesk cannot ring. Next: {whose}{clock_name(clock)}, {due} at "
        f"{_when(stands.due_at, now)}. Everything is saved, and clocks go on by the calendar."
    )


def _of_due(session: SessionState, now: Reading) -> AlarmCall | None:
    rung = _as_rung(session, now)
    band = alarm_band(rung, now)
    if band is None or band.sound_stopped:
        return None
    clocks = {clock.clock: clock for clock in running(rung)}
    due = [(clocks[name], standing(clocks[name], now)) for name in band.clocks]
    sounding = [each for each in due if rung.alarms[each[0].clock].silenced_at is None]
    rhythms = (rhythm_of(clock, stands) for clock, stands in sounding)
    also = "; ".join(f"{clock_name(clock)}, {due_words(stands, now)}" for clock, stands in due[1:])
    parts = (band.cure, f"Also: {also}." if also else "")
    return AlarmCall(
        rhythm=max(rhythms, key=lambda rhythm: rhythm.urgency),
        title=band.headline,
        body=" ".join(part for part in parts if part),
        occasions=frozenset(
            (str(clock.clock), rung.alarms[clock.clock].due_at) for clock, _ in sounding
        ),
    )


def _as_rung(session: SessionState, now: Reading) -> SessionState:
    """The session as it is once what fell due has been put on record."""
    fallen_due = {
        clock.clock: Alarm(clock.clock, clock.due_at, now, -stands.remaining_s)
        for clock, stands in to_ring(session, now)
    }
    if not fallen_due:
        return session
    return replace(session, alarms=MappingProxyType({**session.alarms, **fallen_due}))


def _of_warning(session: SessionState, now: Reading) -> AlarmCall | None:
    fresh = [
        (clock, stands, alarm)
        for clock, stands, alarm in warned(session, now)
        if alarm.silenced_at is None and elapsed_s(alarm.rang, now).most_s <= WARNING_HOLDS_S
    ]
    if not fresh:
        return None
    clock, stands, _ = min(fresh, key=lambda each: each[1].remaining_s)
    return AlarmCall(
        rhythm=Rhythm.WARNING,
        title=f"{clock_name(clock)}: {span(stands.remaining_s)} left",
        body=f"Due at {_when(stands.due_at, now)}.",
        occasions=frozenset((alarm.clock, alarm.due_at) for _, _, alarm in fresh),
    )


def _when(at: datetime, now: Reading) -> str:
    same_day = local(at, now.offset_min_at).date() == local(now.utc, now.offset_min_at).date()
    return (time_of_day if same_day else day_and_time)(at, now.offset_min_at)
