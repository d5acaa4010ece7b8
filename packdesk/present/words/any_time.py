"""What may happen at any stage, in words: counts, alarms, notes, voidings."""

from __future__ import annotations

from packdesk.instants import clock_set_words, span
from packdesk.present.measures import Measures
from packdesk.present.words.saying import words_of
from packdesk.sentences import capital
from packdesk.session import facts as f
from packdesk.session.clocks import ClockKind

LATE_S = 60.0
"""An alarm this much after its time was late, and is said to have been."""


@words_of.register
def _(fact: f.CountTaken, measures: Measures) -> str:
    food = f" of {fact.food_name}" if fact.food_name else ""
    said = f"Counted {fact.counted} {fact.what.replace('_', ' ')}{food}"
    if fact.counted == fact.tallied:
        return f"{said}, as tallied"
    return f"{said}, the tally says {fact.tallied}"


@words_of.register
def _(fact: f.AlarmRang, measures: Measures) -> str:
    late = f", {span(fact.late_s)} late" if fact.late_s >= LATE_S else ""
    return f"{alarm_said(fact.clock)}{late}"


def alarm_said(clock: str) -> str:
    """Say what a clock that rang, or warned, stands for, from its identity."""
    name, _, soon = clock.partition("/")
    kind, _, subject = name.partition(":")
    said: dict[str, str] = {
        ClockKind.COLD: f"load {subject} cold long enough",
        ClockKind.THAW: f"load {subject} warm enough to open",
        ClockKind.PACKET: f"absorbers of round {subject} open too long",
        ClockKind.PRESSED_SHUT: "pouches too long without a seam",
        ClockKind.SEAL_CHECK: "seams to be looked at",
    }
    return f"{'Warning: soon' if soon else 'Alarm:'} {said.get(kind, clock)}"


@words_of.register
def _(fact: f.WallClockSet, measures: Measures) -> str:
    return capital(clock_set_words(fact.by_s))


@words_of.register
def _(fact: f.AlarmSilenced, measures: Measures) -> str:
    return "Sound stopped"


@words_of.register
def _(fact: f.NoteAdded, measures: Measures) -> str:
    return f"Note: {fact.text}"


@words_of.register
def _(fact: f.FactVoided, measures: Measures) -> str:
    how_many = "1 entry" if len(fact.targets) == 1 else f"{len(fact.targets)} entries"
    return f"Undone: {how_many}" if fact.mistap else f"Voided {how_many}: {fact.reason}"
