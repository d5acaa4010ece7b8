"""From entries to what is the case: voided ones left out, misfits set aside, the rest applied.

The fold never raises for what a record may hold, and never counts below zero: a fact is applied
only where it fits (`admit.objection`).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from uuid import UUID

from packdesk.session.admit import objection
from packdesk.session.apply import applied
from packdesk.session.clock_set import by_the_clock_now
from packdesk.session.envelope import Entry
from packdesk.session.fact import UnknownFact
from packdesk.session.facts import FactVoided
from packdesk.session.state import Milestone, State


def fold(entries: Iterable[Entry], since: Milestone | None = None) -> State:
    """Work out the state from entries of the book and of one session, in recorded order.

    They are read by the wall clock as it was set last. `since` says what was the case after the
    first of them, where that is known; they have been read so then.
    """
    listed = tuple(entries) if since is not None else by_the_clock_now(tuple(entries))
    return _fold(listed, uncounted(listed), since or Milestone())


def advance(state: State, entries: Iterable[Entry]) -> State:
    """Carry `state` on by new entries that void nothing; as `fold` over all, but quick."""
    for entry in entries:
        state = _step(state, entry)
    return state


def voided(entries: Sequence[Entry]) -> Mapping[UUID, Entry]:
    """Find the entries that do not count, each with the voiding that says why.

    A voiding that is itself voided does not count.
    """
    found: dict[UUID, Entry] = {}
    for entry in reversed(entries):
        if isinstance(entry.fact, FactVoided) and entry.id not in found:
            found.update(dict.fromkeys(entry.fact.targets, entry))
    return found


def uncounted(entries: Sequence[Entry], targets: Collection[UUID] = ()) -> set[UUID]:
    """Find the entries that would not count if `targets` were voided now.

    Where a target is itself a voiding, what it had voided counts again.
    """
    gone = set(targets)
    for entry in reversed(entries):
        if isinstance(entry.fact, FactVoided) and entry.id not in gone:
            gone.update(entry.fact.targets)
    return gone


def resting_on(
    state: State,
    entries: Sequence[Entry],
    targets: Collection[UUID],
    milestones: Sequence[Milestone] = (),
) -> tuple[UUID, ...]:
    """Find what would no longer fit if `targets` did not count: the facts that rest on them.

    Works by folding once without them; what had been admitted in `state`, which the entries come
    to, and now is not rests on them, directly or through another. In recorded order, the targets
    themselves not included.
    """
    after = fold_without(targets, entries, milestones).disputed
    before = set(state.disputed)
    return tuple(entry for entry in after if entry not in before)


def fold_without(
    targets: Collection[UUID], entries: Sequence[Entry], milestones: Sequence[Milestone] = ()
) -> State:
    """Work out the state of `entries` as if `targets` were voided."""
    since = (Milestone(), *untouched(milestones, entries, targets))[-1]
    return _fold(entries, uncounted(entries, targets), since)


def untouched(
    milestones: Sequence[Milestone], entries: Sequence[Entry], targets: Collection[UUID]
) -> tuple[Milestone, ...]:
    """Those milestones that voiding `targets` leaves as they are: what it changes comes later."""
    changed = uncounted(entries) ^ uncounted(entries, targets)
    places = (place for place, entry in enumerate(entries) if entry.id in changed)
    first = next(places, len(entries))
    return tuple(milestone for milestone in milestones if milestone.entries <= first)


def _fold(entries: Sequence[Entry], gone: Collection[UUID], since: Milestone) -> State:
    state = since.state
    for entry in entries[since.entries :]:
        if entry.id not in gone:
            state = _step(state, entry)
    return state


def _step(state: State, entry: Entry) -> State:
    fact = entry.fact
    if isinstance(fact, UnknownFact):
        return replace(state, newer_kinds=(*state.newer_kinds, fact.kind))
    if isinstance(fact, FactVoided):
        return applied(fact, state, entry)
    if objection(state, fact, entry.happened_at):
        return replace(state, disputed=(*state.disputed, entry.id))
    return applied(fact, state, entry)
