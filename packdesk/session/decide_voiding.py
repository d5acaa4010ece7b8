"""Decisions that take earlier entries back: Undo for the last one, voiding for any other."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from uuid import UUID

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of
from packdesk.session.envelope import BOOK_STREAM, Entry
from packdesk.session.fact import BookFact, Fact, Home, UnknownFact
from packdesk.session.fold import resting_on, uncounted

MISTAP = "mis-tap"


@facts_of.register
def _(command: c.UndoLast, case: Case) -> tuple[Fact, ...]:
    act = last_act(case.entries, case.session_id)
    if not act:
        raise Refused("There is nothing to undo yet.")
    targets = {entry.id for entry in act}
    rests = resting_on(case.entries, targets)
    _refuse_what_others_use(case, rests)
    return _voidings(case, targets | set(rests), MISTAP, mistap=True)


def last_act(entries: Sequence[Entry], session: UUID) -> tuple[Entry, ...]:
    """Find the entries of the last act of a person in `session` that still counts.

    Undo steps over what the program noted by itself, over earlier undos, and over what was
    noted in another session (`BOOK_STREAM`: in none); the opening of the session is not undone.
    """
    gone = uncounted(entries)
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


def _of_another(fact: Fact | UnknownFact, session: UUID) -> bool:
    """Whether a fact of the book was noted in another session than `session`."""
    if isinstance(fact, UnknownFact) or fact.home is Home.SESSION:
        return False
    noted_in = fact.session if isinstance(fact, (BookFact, f.FactVoided)) else None
    return (noted_in or BOOK_STREAM) != session


@facts_of.register
def _(command: c.VoidFact, case: Case) -> tuple[Fact, ...]:
    entry = next((each for each in case.entries if each.id == command.target), None)
    if entry is None:
        raise Refused("That entry is not in this session. Open the session it was noted in.")
    if isinstance(entry.fact, f.SessionOpened):
        raise Refused("The opening of a session cannot be voided. Close it instead.")
    if _of_another(entry.fact, case.session_id):
        raise Refused("That was noted in another session. Void it there.")
    gone = uncounted(case.entries)
    if entry.id in gone:
        raise Refused("That entry does not count already. There is nothing to void.")
    if not command.reason.strip():
        raise Refused("Say why this entry does not count.")
    act = {each.id for each in case.entries if each.act == entry.act} - gone
    rests = resting_on(case.entries, act)
    _refuse_what_others_use(case, rests)
    if set(command.along) - act != set(rests):
        raise Refused(_all_or_nothing(len(rests)), rests)
    return _voidings(case, act | set(rests), command.reason.strip(), mistap=False)


def _all_or_nothing(rests: int) -> str:
    if not rests:
        return "No other entry rests on this one. Void it alone."
    if rests == 1:
        return "1 later entry rests on this one. Void both together, or leave it."
    return f"{rests} later entries rest on this one. Void them together, or leave it."


def _refuse_what_others_use(case: Case, rests: Collection[UUID]) -> None:
    """What another session has built upon cannot be taken away under it."""
    used = [
        entry
        for entry in case.entries
        if entry.id in rests and _of_another(entry.fact, case.session_id)
    ]
    if used:
        raise Refused("Another session has used this since. Undo it there first.")


def _voidings(
    case: Case, targets: Collection[UUID], reason: str, *, mistap: bool
) -> tuple[Fact, ...]:
    """One voiding for each stream that has a target in it, the earliest target's first."""
    found: dict[Home, list[UUID]] = {}
    for entry in case.entries:
        if entry.id in targets and not isinstance(entry.fact, UnknownFact):
            found.setdefault(entry.fact.home, []).append(entry.id)
    return tuple(
        f.FactVoided(
            of=home,
            targets=tuple(there),
            reason=reason,
            mistap=mistap,
            session=case.noted_in,
        )
        for home, there in found.items()
    )
