"""What is voided counts no more: whatever its kind, all is as if it had never been entered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.session import facts as f
from packdesk.session.clock_set import by_the_clock_now
from packdesk.session.envelope import Entry
from packdesk.session.fact import Home
from packdesk.session.facts import KINDS
from packdesk.session.fold import fold, resting_on, uncounted
from packdesk.session.state import State
from packdesk.session.tally import tallies
from tests.session.every_kind import whole_story

ENTRIES = by_the_clock_now(whole_story().entries)
"""A story in which every kind comes true, the cold with its figures: nothing is reckoned again."""

COUNTED = tuple(entry for entry in ENTRIES if entry.id not in uncounted(ENTRIES))

NOT_BY_ITSELF = {"fact_voided", "session_opened", "pouches_swapped", "wall_clock_set"}
"""Two are not voided so; the pouches that the story exchanges are alike; a clock stays set."""


def voiding(number: int, targets: Sequence[UUID], *, mistap: bool = False) -> Entry:
    """An entry that voids others, put behind all there are."""
    fact = f.FactVoided(of=Home.SESSION, targets=tuple(targets), reason="wrong", mistap=mistap)
    return replace(ENTRIES[-1], id=UUID(int=number + 1), act=UUID(int=number + 1), fact=fact)


def left(entries: Sequence[Entry], gone: set[UUID]) -> tuple[Entry, ...]:
    """The entries but for some."""
    return tuple(entry for entry in entries if entry.id not in gone)


def assert_nothing_below_zero(state: State) -> None:
    """No count of the state lies below zero."""
    if state.session is None:
        return
    assert all(round_.left >= 0 for round_ in state.session.rounds.values())
    for line in tallies(state.session):
        assert min(line.filled, line.shut, line.sealed, line.stowed, line.aside) >= 0


@pytest.mark.parametrize("kind", sorted(KINDS.keys() - NOT_BY_ITSELF))
def test_a_fact_of_every_kind_can_be_taken_out(kind: str) -> None:
    """Voided with what rests on it, a fact leaves the state that it would have without it."""
    of_kind = [entry for entry in COUNTED if getattr(entry.fact, "kind", "") == kind]
    place, target = COUNTED.index(of_kind[-1]), of_kind[-1].id
    assert fold(COUNTED[: place + 1]) != fold(COUNTED[:place]), "it changes nothing to begin with"
    gone = {target, *resting_on(fold(COUNTED), COUNTED, {target})}

    assert fold((*COUNTED, voiding(0, sorted(gone)))) == fold(left(COUNTED, gone))


@pytest.mark.parametrize("number", range(1, len(ENTRIES)))
def test_every_entry_can_be_undone_as_the_last_one(number: int) -> None:
    """Whatever was entered last, its undo restores exactly what was before."""
    story = ENTRIES[:number]
    last = ENTRIES[number]
    if isinstance(last.fact, f.FactVoided):
        story = left(story, uncounted((last,)))

    undone = fold((*story, last, voiding(0, (last.id,), mistap=True)))

    assert undone == fold(story)


@settings(max_examples=80)
@given(st.data())
def test_in_any_order_what_is_voided_counts_no_more(data: st.DataObject) -> None:
    """Facts of all kinds shuffled, some of them voided, some voidings too: as if never entered."""
    drawn = data.draw(st.lists(st.sampled_from(ENTRIES[1:]), unique_by=lambda entry: entry.id))
    entries = [ENTRIES[0], *data.draw(st.permutations(sorted(drawn, key=ENTRIES.index)))]
    if data.draw(st.booleans()):
        entries = [ENTRIES[0], *sorted(drawn, key=ENTRIES.index)]
    for number in range(data.draw(st.integers(1, 4))):
        target = data.draw(st.sampled_from(entries[1:] or [voiding(99, ())]))
        entries.append(voiding(number, (target.id,)))

    state = fold(entries)

    assert_nothing_below_zero(state)
    assert state == fold(left(entries, uncounted(entries)))
