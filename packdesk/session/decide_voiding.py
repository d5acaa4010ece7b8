"""Decisions that take earlier entries back: Undo for the last one, voiding for any other."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from uuid import UUID

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact, Home, UnknownFact
from packdesk.session.fold import resting_on, voided

MISTAP = "mis-tap"


@facts_of.register
def _(command: c.UndoLast, case: Case) -> tuple[Fact, ...]:
    act = last_act(case.entries, case.session_id)
    if not act:
        raise Refused("There is nothing to undo yet.")
    targets = {entry.id for entry in act}
    targets.update(resting_on(case.entries, targets))
    return _voidings(case.entries, targets, MISTAP, mistap=True)


def last_act(entries: Sequence[Entry], session: UUID) -> tuple[Entry, ...]:
    """Find the entries of the last act of a person in `session` that still counts.

    Undo steps over what the program noted by itself, over earlier undos, and over what was
    bought for another session; the opening of the session is not undone.
    """
    gone = voided(entries)
    for entry in reversed(entries):
        fact = entry.fact
        if entry.id in gone or isinstance(fact, (UnknownFact, f.SessionOpened)):
            continue
        if isinstance(fact, f.FactVoided) and fact.mistap:
            continue
        if not fact.by_person or _of_another(fact, session):
            continue
        return tuple(each for each in entries if each.act == entry.act and each.id not in gone)
    return ()


def _of_another(fact: Fact, session: UUID) -> bool:
    named = getattr(fact, "session", session)
    return named is not None and named != session


@facts_of.register
def _(command: c.VoidFact, case: Case) -> tuple[Fact, ...]:
    entry = next((each for each in case.entries if each.id == command.target), None)
    if entry is None:
        raise Refused("That entry is not in this session.")
    if isinstance(entry.fact, f.SessionOpened):
        raise Refused("The opening of a session cannot be voided. Close it instead.")
    if entry.id in voided(case.entries):
        raise Refused("That entry does not count already.")
    if not command.reason.strip():
        raise Refused("Say why this entry does not count.")
    act = {each.id for each in case.entries if each.act == entry.act}
    act -= set(voided(case.entries))
    rests = set(resting_on(case.entries, act)) - act
    if set(command.along) - act != rests:
        words = (
            f"{len(rests)} later entries rest on this one. Void them together, or leave it."
            if rests
            else "No other entry rests on this one. Void it alone."
        )
        raise Refused(words, tuple(each.id for each in case.entries if each.id in rests))
    return _voidings(case.entries, act | rests, command.reason.strip(), mistap=False)


def _voidings(
    entries: Sequence[Entry], targets: Collection[UUID], reason: str, *, mistap: bool
) -> tuple[Fact, ...]:
    """One voiding for each stream that has a target in it."""
    found: list[Fact] = []
    for home in Home:
        there = tuple(
            entry.id
            for entry in entries
            if entry.id in targets
            and not isinstance(entry.fact, UnknownFact)
            and entry.fact.home is home
        )
        if there:
            found.append(f.FactVoided(of=home, targets=there, reason=reason, mistap=mistap))
    return tuple(found)
