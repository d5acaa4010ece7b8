"""Every kind of fact has its place in every part: a fact that forgets one fails here."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from packdesk.present.measures import Measures
from packdesk.present.words import fact_words
from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.admit import objection
from packdesk.session.admit.rule import rule
from packdesk.session.apply import applied
from packdesk.session.decide import facts_of
from packdesk.session.fact import Fact
from packdesk.session.facts import KINDS
from packdesk.session.replay import command_of
from packdesk.session.state import State
from tests.script import Script
from tests.session.every_kind import example

AT = datetime(2026, 11, 20, 18, tzinfo=UTC)
FOLDED_BY_FOLD_ITSELF = {f.FactVoided}

every_kind = pytest.mark.parametrize("cls", KINDS.values(), ids=KINDS)


@every_kind
def test_is_admitted_by_a_rule_of_its_own(cls: type[Fact]) -> None:
    """Every kind has a rule that admits it, which answers words and never raises."""
    assert rule.dispatch(cls) is not rule.dispatch(object)
    assert isinstance(objection(State(), example(cls), AT), str)


@every_kind
def test_is_folded_by_a_rule_of_its_own(cls: type[Fact]) -> None:
    """Every kind has a rule that says what it changes."""
    assert (applied.dispatch(cls) is not applied.dispatch(object)) or cls in FOLDED_BY_FOLD_ITSELF


@every_kind
@pytest.mark.parametrize("units", ["metric", "us"])
def test_has_words(cls: type[Fact], units: str) -> None:
    """Every kind is said in one line of words, in the units of the session."""
    words = fact_words(example(cls), Measures(units))

    assert words.strip()
    assert "\n" not in words
    assert "_" not in words


def test_every_kind_comes_true_in_the_story(story: Script) -> None:
    """The whole story holds every kind there is, so that what is told of it holds for all."""
    assert {fact.kind for fact in story.facts} == set(KINDS)


def test_every_act_of_a_person_leads_back_to_a_command(story: Script) -> None:
    """Each act of the story is told again by a command; what the program noted by none."""
    for act in acts(story):
        command = command_of(act)
        if act[0].by_person:
            assert isinstance(command, c.Command), act[0].kind
        else:
            assert command is None, act[0].kind


COMMANDS = [
    cls
    for cls in vars(c).values()
    if isinstance(cls, type) and issubclass(cls, c.Command) and cls is not c.Command
]


@pytest.mark.parametrize("cls", COMMANDS, ids=lambda cls: cls.__name__)
def test_every_command_is_decided(cls: type[c.Command]) -> None:
    """Every command there is has a rule that decides it."""
    assert facts_of.dispatch(cls) is not facts_of.dispatch(object)


def acts(told: Script) -> list[list[Fact]]:
    """The recorded facts, those of one command together."""
    found: dict[object, list[Fact]] = {}
    for entry in told.entries:
        assert isinstance(entry.fact, Fact)
        found.setdefault(entry.act, []).append(entry.fact)
    return list(found.values())
