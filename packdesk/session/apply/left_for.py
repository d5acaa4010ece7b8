"""What was left for the pouches filled last, once the food of a plan line runs out.

It is noted once: what becomes of other pouches later changes nothing about what went into these.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from packdesk.session.apply.change import in_session, the_session
from packdesk.session.net_mass import AS_GOOD_AS_FULL, fill_sums, held_g, held_pouches
from packdesk.session.pouch import Pouch
from packdesk.session.state import State


def with_what_was_left(state: State, line: int, fresh: tuple[int, ...]) -> State:
    """The state in which none of the `fresh` pouches of `line` holds food that is not there.

    Of those that were weighed one that is short of the others is noted too, if no more was left
    for it: it tells nothing of them.
    """
    session = the_session(state)
    agreed = session.plan.line(line) if session.plan is not None else None
    if agreed is None:
        return state
    sums = fill_sums(session, agreed)
    each_g = sums.each_g
    for_it_g = sums.left_g + sum(held_g(session.pouches[number], each_g) for number in fresh)
    full_g = (1.0 - AS_GOOD_AS_FULL) * each_g
    short = {}
    for number in fresh:
        pouch = session.pouches[number]
        holds_g = held_g(pouch, each_g)
        weighed = pouch.net_mass_g is not None
        if for_it_g < (full_g if weighed else each_g - sums.rounded_g) and (
            not weighed or holds_g < full_g
        ):
            short[number] = replace(pouch, left_g=max(0.0, for_it_g))
            holds_g = holds_g if weighed else max(0.0, for_it_g)
        for_it_g -= holds_g
    return _with(state, short)


def with_less_left(state: State, line: int, lost_g: float) -> State:
    """The state after `lost_g` more of a plan line was lost: what is not there any more was
    missing from the pouch filled last that was not weighed, then from the one before it."""
    session = the_session(state)
    agreed = session.plan.line(line) if session.plan is not None else None
    if agreed is None:
        return state
    sums = fill_sums(session, agreed)
    missing_g = min(lost_g, -sums.left_g)
    short = {}
    for pouch in sorted(held_pouches(session, agreed), key=lambda p: p.turn, reverse=True):
        if missing_g <= sums.rounded_g:
            break
        if pouch.net_mass_g is None:
            holds_g = held_g(pouch, sums.each_g)
            less_g = min(missing_g, holds_g)
            short[pouch.number] = replace(pouch, left_g=holds_g - less_g)
            missing_g -= less_g
    return _with(state, short)


def _with(state: State, short: Mapping[int, Pouch]) -> State:
    if not short:
        return state
    return in_session(state, pouches=MappingProxyType({**the_session(state).pouches, **short}))
