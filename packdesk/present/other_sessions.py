"""What rings in a session that is not in hand: the same words, with the name of the session."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from packdesk.instants import Reading
from packdesk.present.alarm_words import AlarmCall, alarm_call
from packdesk.present.cards import AlarmBand
from packdesk.present.clock_rows import alarm_band
from packdesk.session.clocks import running, standing
from packdesk.session.state import SessionState


def band_of_others(sessions: Iterable[SessionState], now: Reading) -> AlarmBand | None:
    """The band of the first that rings, or of one that is late though its sound was stopped.

    A look at seams whose sound was stopped waits in the list of sessions: it may wait for weeks.
    """
    found = []
    for session in sessions:
        band = alarm_band(session, now)
        if band is not None and (not band.sound_stopped or _is_late(session, now)):
            headline = f"{session.name}: {band.headline}"
            found.append(replace(band, headline=headline, session=session.session))
    return min(found, key=lambda band: bool(band.sound_stopped), default=None)


def _is_late(session: SessionState, now: Reading) -> bool:
    return any(not clock.at_least and standing(clock, now).due for clock in running(session))


def call_of_others(sessions: Iterable[SessionState], now: Reading) -> AlarmCall | None:
    """What is to be rung for them, one session after the other."""
    for session in sessions:
        call = alarm_call(session, now)
        if call is not None:
            return replace(
                call,
                title=f"{session.name}: {call.title}",
                occasions=frozenset(
                    (f"{session.session}:{clock}", at) for clock, at in call.occasions
                ),
            )
    return None


def due_in(session: SessionState, now: Reading) -> str:
    """How many of its clocks are due, behind its name in a list; empty when none is."""
    due = sum(standing(clock, now).due for clock in running(session))
    return "" if not due else "1 clock is due" if due == 1 else f"{due} clocks are due"
