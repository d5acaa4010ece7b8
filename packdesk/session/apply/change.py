"""How the state is changed by a fact: by a rule for its kind, never in place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import singledispatch
from types import MappingProxyType
from typing import Any, TypeVar

from packdesk.instants import Reading
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact
from packdesk.session.pouch import Closure, Pouch, Turn
from packdesk.session.state import SessionState, State

K = TypeVar("K")
V = TypeVar("V")


@singledispatch
def applied(fact: Fact, state: State, entry: Entry) -> State:
    """Answer the state after `fact`, which came in the envelope `entry`."""
    raise TypeError(f"no rule folds {type(fact).__name__}")


def the_session(state: State) -> SessionState:
    """The open session, which the admission of the fact has made sure of."""
    assert state.session is not None, "admitted only while a session is open"
    return state.session


def with_key(mapping: Mapping[K, V], key: K, value: V) -> Mapping[K, V]:
    """The mapping with one more, or another, value."""
    return MappingProxyType({**mapping, key: value})


def in_session(state: State, **changes: Any) -> State:
    """The state with fields of its session changed."""
    return replace(state, session=replace(the_session(state), **changes))


def in_book(state: State, **changes: Any) -> State:
    """The state with fields of its book changed."""
    return replace(state, book=replace(state.book, **changes))


def each_pouch(state: State, numbers: tuple[int, ...], change: Callable[[Pouch], Pouch]) -> State:
    """The state with some pouches changed alike."""
    pouches = dict(the_session(state).pouches)
    for number in numbers:
        pouches[number] = change(pouches[number])
    return in_session(state, pouches=MappingProxyType(pouches))


def turned(pouch: Pouch, at: Reading, closure: Closure) -> Pouch:
    """The pouch as tight as `closure` says from `at` on."""
    return replace(pouch, turns=(*pouch.turns, Turn(at, closure, len(pouch.placed))))
