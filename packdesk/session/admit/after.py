"""Which entries about pails, seal checks and the closing fit, and those of any time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import datetime

from packdesk.session import facts as f
from packdesk.session.admit.pouches import (
    each,
    must_be_gas_tight,
    must_be_in_work,
    must_not_be_emptied,
)
from packdesk.session.admit.rule import not_before, rule, the_session
from packdesk.session.numbers import listed
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState, State


@rule.register
def _(fact: f.PouchesStowed, state: State, at: datetime) -> str:
    if not fact.pail.strip():
        return "Give the pail a number or a name."
    pail = the_session(state).pails.get(fact.pail)
    if pail is not None and pail.lidded:
        return f"Pail {fact.pail} has its lid on. Take another pail, or take its lid off first."
    return each(state, fact.pouches, must_be_in_work, _must_be_loose, must_be_gas_tight)


def _must_be_loose(state: State, pouch: Pouch) -> str:
    return f"Pouch {pouch.number} is in pail {pouch.pail} already." if pouch.pail else ""


@rule.register
def _(fact: f.PailLidded, state: State, at: datetime) -> str:
    pail = the_session(state).pails.get(fact.pail)
    if pail is None or not pail.pouches:
        return f"Pail {fact.pail} is empty. Stow pouches in it first."
    return f"Pail {fact.pail} has its lid on already." if pail.lidded else ""


@rule.register
def _(fact: f.PailOpened, state: State, at: datetime) -> str:
    pail = the_session(state).pails.get(fact.pail)
    if pail is None:
        return f"There is no pail {fact.pail}. Name one that pouches were stowed in."
    return "" if pail.lidded else f"Pail {fact.pail} is open already."


@rule.register
def _(fact: f.SealChecked, state: State, at: datetime) -> str:
    if state.session is None or fact.session != state.session.session:
        return ""
    return each(state, fact.pouches, must_be_in_work, must_be_gas_tight, _after_sealing(at))


def _after_sealing(at: datetime) -> Callable[[State, Pouch], str]:
    def rule_at(state: State, pouch: Pouch) -> str:
        assert pouch.sealed is not None, "gas-tight pouches were sealed"
        return not_before(at, pouch.sealed.utc, f"pouch {pouch.number} was sealed")

    return rule_at


@rule.register
def _(fact: f.PouchesSetAside, state: State, at: datetime) -> str:
    if not fact.reason.strip():
        return "Say why the pouch is set aside."
    return each(state, fact.pouches, _may_be_emptied if fact.emptied else _must_not_be_aside)


def _must_not_be_aside(state: State, pouch: Pouch) -> str:
    if pouch.swollen:
        return must_be_in_work(state, pouch)
    if pouch.aside and not pouch.emptied:
        return f"Pouch {pouch.number} is set aside already. Bring it back, or empty it."
    return must_not_be_emptied(state, pouch)


def _may_be_emptied(state: State, pouch: Pouch) -> str:
    """A pouch set aside may still be emptied, but a swollen one is never opened."""
    if pouch.swollen:
        return must_be_in_work(state, pouch)
    return must_not_be_emptied(state, pouch)


@rule.register
def _(fact: f.PouchesReturned, state: State, at: datetime) -> str:
    return each(state, fact.pouches, _must_be_returnable) or _against_plan(
        the_session(state), fact.pouches
    )


def _must_be_returnable(state: State, pouch: Pouch) -> str:
    if not pouch.aside:
        return f"Pouch {pouch.number} is not set aside. It is in the work already."
    return must_be_in_work(state, pouch) if pouch.emptied or pouch.swollen else ""


def _against_plan(session: SessionState, numbers: tuple[int, ...]) -> str:
    """Object to more pouches in the work than were planned."""
    returning = Counter(session.pouches[number].line for number in numbers)
    for number, count in returning.items():
        line = session.plan.line(number) if session.plan is not None else None
        if line is not None and len(session.working_pouches(number)) + count > line.count:
            return (
                f"With these there are more than the {line.count} pouches planned. Plan more first."
            )
    return ""


@rule.register
def _(fact: f.SessionClosed, state: State, at: datetime) -> str:
    session = the_session(state)
    for round_ in session.rounds.values():
        if round_.left:
            return f"Round {round_.round} has absorbers lying open. Shut them up first."
    exposed = [p.number for p in session.working_pouches() if p.placed and not p.closed]
    if exposed:
        return f"{listed(exposed)} open with absorbers in. Shut or seal them first."
    return ""


# At any time --------------------------------------------------------------------------------------


@rule.register
def _(fact: f.CountTaken, state: State, at: datetime) -> str:
    return "" if fact.counted >= 0 else "A count is zero or more."


@rule.register
def _(fact: f.AlarmRang, state: State, at: datetime) -> str:
    return ""


@rule.register
def _(fact: f.WallClockSet, state: State, at: datetime) -> str:
    return ""


@rule.register
def _(fact: f.AlarmSilenced, state: State, at: datetime) -> str:
    known = the_session(state).alarms
    if any(clock in known for clock in fact.clocks):
        return ""
    return "No alarm is ringing. There is nothing to stop."


@rule.register
def _(fact: f.NoteAdded, state: State, at: datetime) -> str:
    return "" if fact.text.strip() else "Write the note first."


@rule.register
def _(fact: f.FactVoided, state: State, at: datetime) -> str:
    return "" if fact.targets else "Name the entry that does not count."
