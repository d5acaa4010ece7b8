"""What follows from a command: facts, or a refusal with its reason. Pure.

A rule for each command works out the facts with their figures; every fact is then held against
the same admission rules that reading the record uses, one after the other.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import singledispatch
from uuid import UUID

from packdesk.instants import When, date_and_time
from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.admit import NO_SESSION, objection
from packdesk.session.apply import applied
from packdesk.session.case import Case, Decision, Refusal, Refused
from packdesk.session.date_doubt import date_doubt
from packdesk.session.envelope import Entry, stream_of
from packdesk.session.fact import Fact
from packdesk.session.state import SessionState, State

_NOBODY = UUID(int=0)


def decide(case: Case, command: c.Command) -> Decision:
    """Answer the facts that `command` leads to in `case`, or why it is refused."""
    if case.state.newer_kinds:
        kinds = ", ".join(sorted(set(case.state.newer_kinds)))
        return Refusal(
            f"A newer PackDesk wrote into this session ({kinds}). It can be read here; "
            "install the newer PackDesk to go on."
        )
    if case.when.at > case.now.utc and case.when.at > last_on_record(case):
        return Refusal("That time is still to come. Enter it when it has happened.")
    try:
        found = facts_of(command, case)
        _admit(case, found)
    except Refused as refused:
        return _clock_behind(case, command) or refused.refusal
    except ValueError as fault:
        return _beyond_physics(fault)
    return date_doubt(case, found) or found


def last_on_record(case: Case) -> datetime:
    """The latest instant at which anything on record happened."""
    return max((entry.happened_at for entry in case.entries), default=case.now.utc)


def _clock_behind(case: Case, command: c.Command) -> Refusal | None:
    """Ask, where nothing stands in the way of an act of now but a wall clock behind the record.

    What is entered now comes after what is on record, whatever the wall clock says. It was set
    back over a restart of the machine, or nobody knows of one.
    """
    if case.said:
        return None
    last = last_on_record(case)
    if last <= case.now.utc:
        return None
    decided = decide(replace(case, when=When(last), said=True), command)
    if isinstance(decided, Refusal):
        return decided if decided.question else None
    return Refusal(
        "By this computer's clock that would be before the last entry, of "
        f"{date_and_time(last, case.now.utc_offset_min)}. Set the clock right and enter it again, "
        "or keep it: it then counts as just after that entry.",
        question=True,
        when=When(last),
    )


def _beyond_physics(fault: ValueError) -> Refusal:
    """Refuse a figure that no formula is good for; raise again what is a fault of the program."""
    from packdesk.physics.ranges import OutOfRange  # loads numpy, as the formula did

    if not isinstance(fault, OutOfRange):
        raise fault
    return Refusal(f"{fault}. Enter a figure that lies there.")


@singledispatch
def facts_of(command: c.Command, case: Case) -> tuple[Fact, ...]:
    """Work out the facts of one command; raises `Refused`. Rules register themselves here."""
    raise TypeError(f"no rule decides {type(command).__name__}")


def the_session(case: Case) -> SessionState:
    """The open session; refused when none is."""
    if case.session is None:
        raise Refused(NO_SESSION)
    return case.session


def _admit(case: Case, found: tuple[Fact, ...]) -> None:
    """Hold each fact against the rules, each on the state that the ones before it leave."""
    state = case.state
    for fact in found:
        words = objection(state, fact, case.when.at)
        if words:
            raise Refused(words)
        state = _as_if_recorded(state, fact, case)


def _as_if_recorded(state: State, fact: Fact, case: Case) -> State:
    if isinstance(fact, f.FactVoided):
        return state
    entry = Entry(
        id=_NOBODY,
        act=_NOBODY,
        stream=stream_of(fact, case.session_id),
        happened_at=case.when.at,
        about_min=case.when.about_min,
        recorded=case.now,
        who="",
        station=_NOBODY,
        station_seq=0,
        fact=fact,
    )
    return applied(fact, state, entry)
