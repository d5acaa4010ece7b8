"""Facts become text and facts again; what is not understood is kept."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import AddNote, OpenSession
from packdesk.session.fact import (
    Fact,
    FactUnreadable,
    Home,
    UnknownFact,
    concrete_kinds,
    fact_from_text,
    fact_text,
)
from packdesk.session.facts import KINDS
from packdesk.session.fold import fold
from tests.script import Script, tell
from tests.session.every_kind import facts


@pytest.mark.parametrize("cls", KINDS.values(), ids=KINDS)
@settings(max_examples=25)
@given(data=st.data())
def test_goes_there_and_back(cls: type[Fact], data: st.DataObject) -> None:
    """A fact of any kind and content is the same after it went through its text."""
    fact = data.draw(facts(cls))

    assert fact_from_text(KINDS, fact.kind, fact.v, fact_text(fact)) == fact


def test_text_is_sorted_json(story: Script) -> None:
    """The text of a fact is JSON with its keys in order, so that equal facts have equal text."""
    for fact in story.facts:
        keys = list(json.loads(fact_text(fact)))
        assert keys == sorted(keys)


def test_kinds_are_words() -> None:
    """A kind is a word of lower-case letters, never an import path."""
    for kind, cls in KINDS.items():
        assert kind.replace("_", "").isalpha()
        assert kind == kind.lower()
        assert cls.kind == kind


def test_a_kind_used_twice_is_a_fault() -> None:
    """Two facts of one name are a fault of the program, found when it starts."""

    class First(Fact, frozen=True):
        kind = "twice"

    class Second(First, frozen=True):
        kind = "twice"

    with pytest.raises(TypeError, match="twice"):
        concrete_kinds(First.__mro__[1])


@pytest.mark.parametrize(("kind", "v"), [("pouches_counted_by_robot", 1), ("note_added", 2)])
def test_what_is_newer_is_kept(kind: str, v: int) -> None:
    """An unknown kind, or a newer version of a known one, is kept as it was written."""
    assert fact_from_text(KINDS, kind, v, '{"text":"x"}') == UnknownFact(kind, v, '{"text":"x"}')


@pytest.mark.parametrize(
    "text", ['{"text":3}', "{}", '{"text":"x","more":1}', "not JSON"], ids=lambda text: text
)
def test_what_does_not_fit_its_kind_is_unreadable(text: str) -> None:
    """Content that does not fit a known kind is a fault that names the kind."""
    with pytest.raises(FactUnreadable, match="note_added"):
        fact_from_text(KINDS, "note_added", 1, text)


def test_a_newer_kind_makes_the_session_read_only() -> None:
    """With an entry of a newer PackDesk the session can be read and not continued."""
    told = tell("note: before")
    unknown = replace(told.entries[-1], fact=UnknownFact("pouches_counted_by_robot", 1, "{}"))
    state = fold((*told.entries[:-1], unknown))

    told.desk.state = state

    assert state.session is not None
    assert state.newer_kinds == ("pouches_counted_by_robot",)
    answer = told.desk.submit(AddNote("after"))
    assert isinstance(answer, Refusal)
    assert "pouches_counted_by_robot" in answer.sentence
    assert "install the newer PackDesk" in answer.sentence
    assert told.desk.ring_due() == ()


def test_another_session_can_be_opened_beside_a_newer_one() -> None:
    """What a newer PackDesk wrote into one session does not stand in the way of another."""
    told = tell("note: before")
    unknown = replace(told.entries[-1], fact=UnknownFact("pouches_counted_by_robot", 1, "{}"))
    told.desk.state = fold((*told.entries[:-1], unknown))

    told.desk.submit(OpenSession("Winter", "metric", "R4TN"))

    assert told.session.name == "Winter"
    assert told.desk.state.newer_kinds == ()


def test_a_voided_newer_kind_counts_no_longer() -> None:
    """An entry that does not count does not bind anybody, whoever wrote it."""
    told = tell("note: before")
    unknown = replace(told.entries[-1], fact=UnknownFact("pouches_counted_by_robot", 1, "{}"))
    voiding = f.FactVoided(of=Home.SESSION, targets=(unknown.id,), reason="wrong", mistap=False)
    entry = replace(told.entries[-1], id=told.entries[0].act, fact=voiding)

    assert fold((*told.entries[:-1], unknown, entry)).newer_kinds == ()
