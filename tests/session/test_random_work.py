"""Whatever is done in whatever order: the state holds, and the record tells it again."""

from __future__ import annotations

from uuid import UUID

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from packdesk.instants import When
from packdesk.present.measures import Measures
from packdesk.present.tally_board import tally_board
from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import NoteClockSet, RingAlarm, SilenceAlarm, UndoLast
from packdesk.session.fact import Fact
from packdesk.session.fold import fold
from packdesk.session.replay import command_of
from tests.fakes.clock import DrivenClock
from tests.script import Script
from tests.session.random_work import (
    CHORE,
    CLOCK,
    RING,
    STARTS,
    STEP,
    UNDO,
    VOID,
    assert_sound,
    begun,
    follow,
)

ANY_STEP = st.one_of(CHORE, CHORE, CHORE, STEP, STEP, STEP, UNDO, VOID, RING, CLOCK)
WORK = st.lists(ANY_STEP, min_size=25, max_size=45)


@settings(max_examples=60)
@given(STARTS, WORK)
def test_the_state_holds(start: str, steps: list[str]) -> None:
    """Counts agree, nothing falls below zero, nothing on one station is a misfit."""
    told = begun(start)
    for step in steps:
        follow(told, step)
        assert_sound(told)
    assert told.desk.state.disputed == ()


@settings(max_examples=40)
@given(STARTS, WORK)
def test_the_state_is_that_of_the_record(start: str, steps: list[str]) -> None:
    """Carried on entry by entry, the state is what folding the whole record gives."""
    told = begun(start)
    for step in steps:
        follow(told, step)
    told.do("note: by the clock as it is set in the end")
    assert told.desk.state == fold(told.entries)
    assert told.record.entries({e.stream for e in told.entries}) == told.entries


@settings(max_examples=60)
@given(STARTS, st.lists(STEP, max_size=15), st.lists(STEP, min_size=12, max_size=12))
def test_undo_restores_exactly(start: str, before: list[str], tried: list[str]) -> None:
    """After any work, the next step that is taken and its undo leave everything as it was."""
    told = begun(start)
    for step in before:
        follow(told, step)
    for step in tried:
        state, entries = told.desk.state, told.entries
        follow(told, step)
        if told.entries != entries and not step.startswith("silence"):
            told.desk.submit(UndoLast())
            assert told.desk.state == state


@settings(max_examples=40)
@given(STARTS, WORK)
def test_the_board_has_a_cell_for_every_pouch(start: str, steps: list[str]) -> None:
    """The cells of a plan line are its pouches and those still to be filled, each once."""
    told = begun(start)
    for step in steps:
        follow(told, step)
    session = told.session
    board = tally_board(session, told.entries, session.session, Measures())

    cells = [cell.number for line in board.lines for cell in line.cells]
    numbers = [number for number in cells if number is not None]
    assert sorted(numbers) == [p.number for p in session.pouches.values() if not p.emptied]
    for line in board.lines:
        in_words = sum(int(part.split()[0]) for part in _counts(line.words))
        assert in_words == sum(p.line == line.line for p in session.pouches.values()) + sum(
            cell.number is None for cell in line.cells
        )


def _counts(words: str) -> list[str]:
    """The counts of «4 of 1.00 kg: 2 shut, 1 filled, 1 to fill»; «all planned» is a count too."""
    planned, _, counts = words.partition(": ")
    return [planned] if counts == "all planned" else counts.split(", ")


@settings(max_examples=40)
@given(STARTS, WORK)
def test_the_record_can_be_rehearsed(start: str, steps: list[str]) -> None:
    """Told again act by act with the same clocks, the recorded facts come out the same."""
    told = begun(start)
    for step in steps:
        follow(told, step)

    again = rehearsed(told)

    ids = dict(zip((e.id for e in told.entries), (e.id for e in again.entries), strict=True))
    ids[told.session.session] = again.session.session
    for old, new in zip(told.entries, again.entries, strict=True):
        assert _with(ids, old.fact) == new.fact
        assert (old.happened_at, old.about_min) == (new.happened_at, new.about_min)


def test_a_whole_session_can_be_rehearsed(story: Script) -> None:
    """The story, forecasts and all, is the same when it is told again."""
    again = rehearsed(story)

    ids = dict(zip((e.id for e in story.entries), (e.id for e in again.entries), strict=True))
    ids[story.session.session] = again.session.session
    assert [_with(ids, e.fact) for e in story.entries] == [e.fact for e in again.entries]


def rehearsed(told: Script) -> Script:
    """A new desk on an empty book that is given the commands behind what was recorded."""
    acts: dict[UUID, list[int]] = {}
    for position, entry in enumerate(told.entries):
        acts.setdefault(entry.act, []).append(position)
    clock = DrivenClock()
    again = Script(clock=clock)
    ids: dict[UUID, UUID] = {}
    for positions in acts.values():
        act = [told.entries[position] for position in positions]
        clock.set(act[0].recorded)
        facts = [entry.fact for entry in act if isinstance(entry.fact, Fact)]
        command = command_of(facts, ids)
        if command is None:
            command = _own_note(facts[0])
        answer = again.desk.submit(command, When(act[0].happened_at, act[0].about_min))
        assert not isinstance(answer, Refusal), answer
        ids.update(zip((e.id for e in act), (e.id for e in answer.entries), strict=True))
    return again


def _own_note(fact: Fact) -> RingAlarm | SilenceAlarm | NoteClockSet:
    """What the program noted by itself, given as it was."""
    if isinstance(fact, f.AlarmRang):
        return RingAlarm(fact.clock, fact.due_at, fact.late_s)
    if isinstance(fact, f.WallClockSet):
        return NoteClockSet(fact.by_s)
    assert isinstance(fact, f.AlarmSilenced)
    return SilenceAlarm(fact.clocks)


def _with(ids: dict[UUID, UUID], fact: object) -> object:
    """The fact with the identities the rehearsal gave."""
    assert isinstance(fact, Fact)
    if isinstance(fact, f.FactVoided):
        fact = replace(fact, targets=tuple(ids[target] for target in fact.targets))
    session = getattr(fact, "session", None)
    return replace(fact, session=ids[session]) if session is not None else fact
