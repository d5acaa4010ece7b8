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
from packdesk.session.filled_by import against_filled
from packdesk.session.fold import resting_on, uncounted
from packdesk.session.voided_heat import renewed_without

MISTAP = "mis-tap"


@facts_of.register
def _(command: c.UndoLast, case: Case) -> tuple[Fact, ...]:
    act = last_act(case.entries, case.session_id)
    if not act:
        raise Refused("There is nothing to undo yet.")
    targets = [entry.id for entry in act]
    return _voidings(case, (*targets, *_rests(case, targets)), MISTAP, mistap=True)


def last_act(entries: Sequence[Entry], session: UUID) -> tuple[Entry, ...]:
    """Find the entries of the last act of a person in `session` that still counts.

    Undo steps over what the program noted by itself, over earlier undos, and over what was
    noted in another session (`BOOK_STREAM`: in none); the opening of the session is not undone.
    """
    gone: set[UUID] = set()
    for entry in reversed(entries):  # a voiding comes after what it voids
        fact = entry.fact
        if isinstance(fact, f.FactVoided) and entry.id not in gone:
            gone.update(fact.targets)
        if entry.id in gone or isinstance(fact, (UnknownFact, f.SessionOpened)):
            continue
        if isinstance(fact, f.FactVoided) and fact.mistap:
            continue
        if not fact.by_person or _of_another(fact, session):
            continue
        return tuple(each for each in _act_ending(entry, entries) if each.id not in gone)
    return ()


def _act_ending(last: Entry, entries: Sequence[Entry]) -> list[Entry]:
    """The entries of one act: its station recorded nothing else between them."""
    found: list[Entry] = []
    for entry in reversed(entries):
        if entry.act == last.act:
            found.insert(0, entry)
        elif found and entry.station == last.station:
            break
    return found


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
    others = [e.id for e in case.entries if e.act == entry.act and e.id not in (entry.id, *gone)]
    act = (entry.id, *others)
    _must_not_tell_pouches_otherwise(case, entry)
    rests = _rests(case, act)
    if set(command.along) - set(act) != set(rests):
        raise Refused(_all_or_nothing(len(rests)), rests)
    return _voidings(case, (*act, *rests), command.reason.strip(), mistap=False)


def _must_not_tell_pouches_otherwise(case: Case, entry: Entry) -> None:
    """The plan before is not to say what is in pouches that were filled by the newest one."""
    gone = uncounted(case.entries)
    plans = [e for e in case.entries if isinstance(e.fact, f.PlanAgreed) and e.id not in gone]
    session = case.state.session
    if session is None or entry not in plans[-1:] or len(plans) < 2:
        return
    before = plans[-2].fact
    if isinstance(before, f.PlanAgreed) and against_filled(session, before.lines):
        raise Refused(
            "Pouches were filled by this plan, and the one before says otherwise of them. "
            "Change the plan instead; what is filled stays as it is."
        )


def _all_or_nothing(rests: int) -> str:
    if not rests:
        return "No other entry rests on this one. Void it alone."
    if rests == 1:
        return "1 later entry rests on this one. Void both together, or leave it."
    return f"{rests} later entries rest on this one. Void them together, or leave it."


def _rests(case: Case, targets: Collection[UUID]) -> tuple[UUID, ...]:
    """What rests on `targets`; refused where it cannot be voided along.

    What another session has built upon is not taken away under it, and what counts again with
    a voiding gone must fit what came since.
    """
    rests = resting_on(case.state, case.entries, targets, case.milestones)
    gone = uncounted(case.entries)
    for entry in case.entries:
        if entry.id in rests and _of_another(entry.fact, case.session_id):
            raise Refused("Another session has used this since. Undo it there first.")
        if entry.id in rests and entry.id in gone:
            raise Refused("What was voided no longer fits what came since. Enter it anew.")
    return rests


def _voidings(
    case: Case, targets: Sequence[UUID], reason: str, *, mistap: bool
) -> tuple[Fact, ...]:
    """One voiding for each stream that has a target in it, the first target's first."""
    facts = {entry.id: entry.fact for entry in case.entries}
    found: dict[Home, list[UUID]] = {}
    for target in targets:
        fact = facts[target]
        if not isinstance(fact, UnknownFact):
            found.setdefault(fact.home, []).append(target)
    renewed = renewed_without(case, targets)
    return tuple(
        f.FactVoided(
            of=home,
            targets=tuple(there),
            reason=reason,
            mistap=mistap,
            session=case.noted_in,
            outlooks=renewed.loads if home is Home.SESSION else (),
            freezers=renewed.freezers if home is Home.SESSION else (),
        )
        for home, there in found.items()
    )
