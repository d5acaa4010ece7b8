"""What is put right afterwards: pouches opened again, felt for their absorber, mixed up."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from packdesk.instants import Reading
from packdesk.session import facts as f
from packdesk.session.apply.change import (
    applied,
    each_pouch,
    in_session,
    the_session,
    turned,
    with_key,
)
from packdesk.session.envelope import Entry
from packdesk.session.moments import reading_at
from packdesk.session.pouch import Closure, Pouch
from packdesk.session.state import State


@applied.register
def _(fact: f.PouchesReopened, state: State, entry: Entry) -> State:
    at = reading_at(entry.happened_at, entry.recorded)
    return each_pouch(state, fact.pouches, lambda pouch: _opened(pouch, at))


def _opened(pouch: Pouch, at: Reading) -> Pouch:
    return replace(
        turned(pouch, at, Closure.OPEN),
        shut=None,
        seal_within_min=0.0,
        sealed=None,
        seams=0,
        gap_left=False,
        drawn_off=False,
        checks=(),
        earlier_checks=(*pouch.earlier_checks, *pouch.checks),
    )


@applied.register
def _(fact: f.AbsorbersFelt, state: State, entry: Entry) -> State:
    rounds, at = the_session(state).rounds, reading_at(entry.happened_at, entry.recorded)
    doubted = rounds[fact.round]
    explained = sum(
        placed.each
        for number in fact.without
        for placed in the_session(state).pouches[number].placed
        if placed.round == fact.round
    )
    # None named: each has its own. Fewer named than were over: of the others some may have none.
    over = max(0, doubted.over - explained) if fact.without else 0
    answered = replace(doubted, over=over)
    state = in_session(state, rounds=with_key(rounds, fact.round, answered))
    return each_pouch(state, fact.without, lambda pouch: _lacking(pouch, fact.round, at))


def _lacking(pouch: Pouch, round_: int, at: Reading) -> Pouch:
    """The pouch open, and as if nothing of a round had ever gone in."""
    gone = [place for place, placed in enumerate(pouch.placed) if placed.round == round_]
    turns = tuple(
        replace(turn, placings=turn.placings - sum(place < turn.placings for place in gone))
        for turn in pouch.turns
    )
    kept = tuple(placed for placed in pouch.placed if placed.round != round_)
    found = replace(pouch, placed=kept, turns=turns)
    found = _opened(found, at) if pouch.closed else found
    return found if kept else replace(found, turns=())


@applied.register
def _(fact: f.PouchesSwapped, state: State, entry: Entry) -> State:
    pouches = dict(the_session(state).pouches)
    first, second = pouches[fact.first], pouches[fact.second]
    pouches[fact.first] = _with_the_record_of(first, second)
    pouches[fact.second] = _with_the_record_of(second, first)
    return in_session(state, pouches=MappingProxyType(pouches))


def _with_the_record_of(pouch: Pouch, other: Pouch) -> Pouch:
    """The pouch with what was noted of the other one while they were filled and shut.

    Its number, its pail and how it felt are its own; a label that says another mass is void.
    """
    alike = (pouch.line, pouch.net_mass_g) == (other.line, other.net_mass_g)
    return replace(
        other,
        number=pouch.number,
        pail=pouch.pail,
        checks=pouch.checks,
        earlier_checks=pouch.earlier_checks,
        labelled=pouch.labelled and alike,
    )
