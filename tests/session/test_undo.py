"""Undo: one press takes back the last act of a person, whole, and exactly."""

from __future__ import annotations

import pytest

from packdesk.session import facts as f
from packdesk.session.commands import VoidFact
from packdesk.session.envelope import BOOK_STREAM
from packdesk.session.fold import fold
from tests.script import SEALED, SHUT, TREATED, tell

FILLED = f"{TREATED}; fill 8"


def test_takes_back_a_whole_act_across_both_streams() -> None:
    """Opening a packet is in the book and starts a round in the session; one press undoes both."""
    told = tell(FILLED)
    before = told.desk.state

    told.do("packet 200x10; undo")

    assert told.desk.state == before
    voidings = [entry for entry in told.entries if isinstance(entry.fact, f.FactVoided)]
    assert {entry.stream for entry in voidings} == {BOOK_STREAM, told.session.session}
    assert len({entry.act for entry in voidings}) == 1


@pytest.mark.parametrize(
    "step",
    [
        "receive rice 5 kg",
        "agree wheat 9 x 1 kg",
        "fill 1",
        "ready",
        "packet 200x10",
        "take R1",
        "place 1",
        "place 1, open",
        "seal 1",
        "seal 1, gap left",
        "make labels 1",
        "label 1",
        "stow 2 in pail 1",
        "check 2 snug",
        "check 2 swollen",
        "set aside 2: torn",
        "empty 1: torn",
        "return 3",
        "count 2 filled",
        "note: something",
    ],
)
def test_takes_back_the_last_entry_exactly(step: str) -> None:
    """After a step and its undo everything is as it was before the step."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg; fill 3; packet 200x9;"
        "place in 1, open; place in 2-3; jar; seal 2-3; set aside 3: dust; agree wheat 4 x 1 kg;"
        "take R1; place in 1, open"
        if step in ("place 1", "seal 1", "seal 1, gap left", "place 1, open")
        else "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg; fill 3;"
        "packet 200x9; place in 2-3; jar; seal 2-3; set aside 3: dust"
    )
    if step.startswith("place"):
        told.do("fill 1")
    before = told.desk.state

    told.do(f"{step}; +1 min; undo")

    assert told.desk.state == before


def test_every_step_of_a_session_can_be_taken_back_one_by_one() -> None:
    """Pressed often enough, Undo leads back to the session just opened."""
    told = tell()
    states = [told.desk.state]
    for step in SEALED.split(";"):
        told.do(step)
        if not step.strip().startswith("+"):
            states.append(told.desk.state)

    while states:
        assert told.desk.state == states.pop()
        if states:
            told.do("undo")

    assert "nothing to undo yet" in told.refused("undo")


COLD = (
    "receive wheat 8 kg; agree wheat 8 x 1 kg; cold rule dose; freeze wheat; +20 h; core A -6 C;"
    "freezer -19 C; +20 h; out A 21 C 50 %: a power cut; +20 h; room 22 C 50 %; +9 h;"
    "open A: dry enough; tare 21 g; fill 1 showing 1014 g; lose 40 g: spilled; revise to 7"
)


def test_the_cold_and_what_was_weighed_can_be_taken_back_one_by_one() -> None:
    """Loads, readings, the rule, a tare and lost food: each Undo leads exactly one step back."""
    told = tell()
    states = [told.desk.state]
    for step in COLD.split(";"):
        told.do(step)
        if not step.strip().startswith("+"):
            states.append(told.desk.state)

    while len(states) > 1:
        assert told.desk.state == states.pop()
        told.do("undo")
    assert told.desk.state == states[0]


def test_steps_over_alarms() -> None:
    """What the program noted by itself is not what a person wants back."""
    told = tell(f"{FILLED}; packet 200x10; +30 min")
    told.desk.ring_due()
    told.do("silence packet:1; undo")

    assert told.session.rounds == {}
    assert "packet:1" in told.session.alarms


def test_steps_over_earlier_undos() -> None:
    """Undo twice takes back two entries; it never brings one back."""
    told = tell(f"{TREATED}; fill 2; fill 3; undo; undo")

    assert told.session.pouches == {}


def test_goes_on_with_entries_made_after_an_undo() -> None:
    """A new entry after an undo is the next to be taken back, then the one before both."""
    told = tell(f"{TREATED}; fill 2; fill 3; undo; fill 1; undo")

    assert list(told.session.pouches) == [1, 2]
    told.do("undo")
    assert told.session.pouches == {}


def test_undo_of_a_deliberate_voiding_restores() -> None:
    """A voiding on purpose is an act like any other: Undo lets what it voided count again."""
    told = tell(f"{FILLED}; note: before")
    before = told.desk.state
    fill = told.last(f.PouchesFilled)
    told.desk.submit(VoidFact(fill.id, "wrong food"))
    assert told.session.pouches == {}

    told.do("undo")

    assert told.desk.state == before


def test_undo_of_the_closing_opens_the_session_again() -> None:
    """A session closed too early goes on."""
    told = tell(f"{SEALED}; close; undo; label 1-8")

    assert told.session.closed_at is None
    assert told.session.pouches[1].labelled


def test_does_not_undo_the_opening() -> None:
    """A session stays opened; before its first entry there is nothing to take back."""
    told = tell("note: one; undo")

    assert "nothing to undo yet" in told.refused("undo")
    assert told.session.name == "Autumn"


def test_is_marked_a_mistap() -> None:
    """The record says that it was a mis-tap, and the entry itself stays."""
    told = tell("note: wrong; undo")
    voiding = told.last(f.FactVoided).fact

    assert isinstance(voiding, f.FactVoided)
    assert (voiding.mistap, voiding.reason) == (True, "mis-tap")
    assert voiding.targets == (told.last(f.NoteAdded).id,)


def test_a_number_taken_back_is_free_again() -> None:
    """After an undo the same number is given again; it was never filled."""
    told = tell(f"{TREATED}; fill 2; undo; fill 1")

    assert list(told.session.pouches) == [1]


def test_what_was_taken_back_stays_so_when_read_again() -> None:
    """The state is the same when it is folded anew from the record."""
    told = tell(f"{SHUT}; undo; place 3; jar; undo")

    assert told.desk.state == fold(told.entries)
