"""The fold takes whatever a record may hold: it never raises and never counts below zero."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import UUID

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.session import facts as f
from packdesk.session.clocks import running, to_ring
from packdesk.session.envelope import BOOK_STREAM, Entry, stream_of
from packdesk.session.fact import Fact, Home
from packdesk.session.facts import KINDS
from packdesk.session.fold import advance, fold, resting_on, untouched, voided
from packdesk.session.state import Milestone, State
from packdesk.session.tally import tallies
from packdesk.session.terms import LotVerdict
from tests.fakes.clock import START, DrivenClock
from tests.script import STATION, agreed, tell
from tests.session.every_kind import facts

SESSION = UUID("0193cccc-0000-7000-8000-000000000003")

LINES = (agreed(1, "wheat", "2611-1", 3, 1000.0),)

FEW: dict[str, st.SearchStrategy[Any]] = {
    "lot": st.just("2611-1"),
    "food": st.just("wheat"),
    "line": st.integers(1, 2),
    "lines": st.just(LINES),
    "pouches": st.lists(st.integers(1, 4), min_size=1, max_size=3).map(tuple),
    "load": st.sampled_from(["A", "B"]),
    "round": st.integers(1, 2),
    "source": st.sampled_from(["P1", "R1"]),
    "packet": st.just("P1"),
    "remainder": st.just("R1"),
    "rating_cc": st.just(200),
    "count": st.integers(-1, 4),
    "each": st.integers(0, 2),
    "pail": st.just("1"),
    "session": st.just(SESSION),
    "clock": st.sampled_from(["cold:A", "packet:1"]),
    "clocks": st.just(("packet:1",)),
    "reason": st.sampled_from(["", "torn"]),
    "net_mass_g": st.sampled_from([None, 0.0, 990.0]),
    "mass_g": st.sampled_from([0.0, 8000.0]),
}
"""So few names that facts drawn at random meet each other."""


def _fitting(cls: type[Fact]) -> st.SearchStrategy[Fact]:
    names = set(cls.__struct_fields__) & FEW.keys()
    return st.tuples(facts(cls), st.fixed_dictionaries({name: FEW[name] for name in names})).map(
        lambda drawn: _replaced(*drawn)
    )


def _replaced(fact: Fact, changes: dict[str, Any]) -> Fact:
    return msgspec.structs.replace(fact, **changes)


ANY_FACT = st.one_of(
    *(_fitting(cls) for kind, cls in KINDS.items() if kind not in ("fact_voided", "session_opened"))
)
BEGINNING = (
    f.SessionOpened(name="Autumn", code="K7M2", units="metric"),
    f.LotReceived(
        lot="2611-1",
        food="wheat",
        food_name="Wheat",
        mass_g=8000.0,
        supplier_lot="",
        verdict=LotVerdict.ACCEPTED,
    ),
    f.LotBypassedCold(lot="2611-1", reason="treated"),
    f.PlanAgreed(
        lines=LINES,
        numbered=False,
        elevation_m=0.0,
        packing_temp_c=21.0,
    ),
    f.PouchesFilled(line=1, pouches=(1, 2), net_mass_g=None, told_apart=False),
)


def entry(number: int, fact: Fact) -> Entry:
    """The `number`th entry of a record, a minute after the one before."""
    clock = DrivenClock()
    clock.go(minutes=number)
    recorded = clock.reading()
    return Entry(
        id=UUID(int=number),
        act=UUID(int=number),
        stream=stream_of(fact, SESSION),
        happened_at=recorded.utc,
        about_min=0.0,
        recorded=recorded,
        who="",
        station=STATION,
        station_seq=number,
        fact=fact,
    )


def record(*after: Fact) -> tuple[Entry, ...]:
    """A session begun, and these facts after it."""
    return tuple(entry(number, fact) for number, fact in enumerate((*BEGINNING, *after), 1))


def assert_sound(state: State, entries: tuple[Entry, ...]) -> None:
    """Whatever was recorded, nothing lies below zero and every entry is accounted for."""
    assert set(state.disputed) <= {each.id for each in entries}
    assert state.session is not None
    assert all(0 <= round_.left <= round_.count for round_ in state.session.rounds.values())
    for line in tallies(state.session):
        counts = (line.filled, line.with_absorbers, line.shut, line.sealed, line.stowed, line.aside)
        assert min(counts) >= 0
        assert line.filled <= line.planned
    assert all(round_.limit_min <= 1440.0 for round_ in state.session.rounds.values())
    now = DrivenClock(START + timedelta(days=400)).reading()
    assert len(to_ring(state.session, now)) <= len(running(state.session))


@settings(max_examples=150)
@given(st.lists(ANY_FACT, min_size=5, max_size=30))
def test_takes_any_facts_in_any_order(drawn: list[Fact]) -> None:
    """Facts that nobody decided are applied where they fit, and set aside where they do not."""
    entries = record(*drawn)

    assert_sound(fold(entries), entries)


@settings(max_examples=80)
@given(st.lists(ANY_FACT, max_size=15), st.lists(ANY_FACT, max_size=15))
def test_carrying_on_is_folding(before: list[Fact], after: list[Fact]) -> None:
    """The state carried on by new entries is the state of all entries."""
    entries = record(*before, *after)
    first = len(BEGINNING) + len(before)

    assert advance(fold(entries[:first]), entries[first:]) == fold(entries)


@settings(max_examples=80)
@given(st.lists(ANY_FACT, min_size=3, max_size=12), st.data())
def test_takes_voidings_of_anything(drawn: list[Fact], data: st.DataObject) -> None:
    """Voidings of any entries, other voidings included, leave a sound state."""
    entries = record(*drawn)
    for number in range(len(entries) + 1, len(entries) + 4):
        ids = st.sampled_from([each.id for each in entries[1:]])
        targets = tuple(data.draw(st.lists(ids, min_size=1, max_size=3)))
        voiding = f.FactVoided(of=Home.SESSION, targets=targets, reason="wrong", mistap=False)
        entries = (*entries, entry(number, voiding))

    state = fold(entries)

    assert_sound(state, entries)
    assert not set(state.disputed) & set(voided(entries))


@settings(max_examples=80)
@given(st.lists(ANY_FACT, min_size=3, max_size=15), st.data())
def test_what_rests_on_an_entry_goes_with_it(drawn: list[Fact], data: st.DataObject) -> None:
    """Voided together with what rests on it, an entry leaves no new misfit behind."""
    entries = record(*drawn)
    target = data.draw(st.sampled_from([each.id for each in entries[1:]]))
    state = fold(entries)
    rests = resting_on(state, entries, {target})
    voiding = f.FactVoided(of=Home.SESSION, targets=(target, *rests), reason="wrong", mistap=False)

    after = fold((*entries, entry(len(entries) + 1, voiding)))

    assert set(after.disputed) <= set(state.disputed)
    assert target not in rests


@settings(max_examples=40)
@given(st.lists(ANY_FACT, min_size=3, max_size=12), st.data())
def test_a_fold_goes_on_from_every_milestone_left_untouched(
    drawn: list[Fact], data: st.DataObject
) -> None:
    """From the way here, voiding comes to the same as from the start, and finds the same rests."""
    entries = record(*drawn)
    milestones = tuple(Milestone(n, fold(entries[:n])) for n in range(len(entries)))
    target = data.draw(st.sampled_from([each.id for each in entries[1:]]))
    state = fold(entries)
    rests = resting_on(state, entries, {target})
    voiding = f.FactVoided(of=Home.SESSION, targets=(target, *rests), reason="wrong", mistap=False)
    then = (*entries, entry(len(entries) + 1, voiding))

    left = untouched(milestones, entries, voiding.targets)

    assert len(left) >= 2
    assert resting_on(state, entries, {target}, milestones) == rests
    assert all(fold(then, milestone) == fold(then) for milestone in left)


def test_without_entries_there_is_nothing() -> None:
    """An empty book has no session and no lots."""
    assert fold(()) == State()


def test_facts_of_the_book_need_no_session() -> None:
    """The book is read without any session open."""
    told = tell(
        "receive wheat 8 kg; bypass wheat; agree wheat 1 x 1 kg; fill 1; packet 200x4; jar; label 1"
    )
    book = fold(e for e in told.entries if e.stream == BOOK_STREAM)

    assert book.session is None
    assert book.book == told.book
    assert book.disputed == ()


def test_facts_of_a_session_need_their_session() -> None:
    """Entries whose session was never opened are kept and not counted."""
    (_, *rest) = record()

    state = fold(rest)

    assert state.session is None
    assert len(state.disputed) == 3


def test_states_are_never_changed_in_place() -> None:
    """A state that was shown stays as it was, whatever comes after."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 8 x 1 kg; fill 1")
    shown, pouches = told.session, dict(told.session.pouches)

    told.do("fill 3; ready")

    assert dict(shown.pouches) == pouches
    with pytest.raises(TypeError):
        shown.pouches[9] = shown.pouches[1]  # type: ignore[index]
    with pytest.raises(AttributeError):
        shown.name = "Winter"  # type: ignore[misc]


def test_a_second_opening_does_not_fit() -> None:
    """Two openings in one record are one too many; the first holds."""
    told = tell()
    again = replace(told.entries[-1], id=UUID(int=1))

    assert fold((*told.entries, again)).disputed == (again.id,)
