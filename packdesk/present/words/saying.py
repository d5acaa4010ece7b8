"""How a fact comes to its words: each kind has a line of its own in the module of its stage."""

from __future__ import annotations

from functools import singledispatch

from packdesk.present.liners import as_liners
from packdesk.present.measures import Measures
from packdesk.sentences import capital
from packdesk.session.fact import Fact, UnknownFact
from packdesk.session.numbers import named

ASKED_AND_CONFIRMED = ", asked and confirmed"


def fact_words(
    fact: Fact | UnknownFact, measures: Measures, liners: frozenset[int] = frozenset()
) -> str:
    """Say what `fact` tells, in the units of the session; `liners` are the pouches called so."""
    if isinstance(fact, UnknownFact):
        return f"Entry of a newer PackDesk: {fact.kind}"
    pouches = getattr(fact, "pouches", ())
    words = words_of(fact, measures)
    return as_liners(words) if pouches and liners.issuperset(pouches) else words


@singledispatch
def words_of(fact: Fact, measures: Measures) -> str:
    """The line of one kind of fact; a kind without one is a mistake in the program."""
    raise TypeError(f"no words for {type(fact).__name__}")


def which(numbers: tuple[int, ...]) -> str:
    """Name pouches at the beginning of a line."""
    return capital(named(numbers))
