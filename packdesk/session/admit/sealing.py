"""Which entries about seams fit."""

from __future__ import annotations

from datetime import datetime

from packdesk.session import facts as f
from packdesk.session.admit.pouches import (
    PouchRule,
    after_filling,
    each,
    line_of,
    must_be_in_work,
    must_have_absorbers,
)
from packdesk.session.admit.rule import MINUTES_A_DAY, not_outside, rule
from packdesk.session.pouch import MOST_SEAMS, Pouch
from packdesk.session.state import State


@rule.register
def _(fact: f.PouchesSealed, state: State, at: datetime) -> str:
    if not 1 <= fact.seams <= MOST_SEAMS:
        return "A pouch is sealed with one seam or two."
    return each(
        state,
        fact.pouches,
        _must_want_a_gap if fact.gap_left else _must_want_a_seam,
        must_be_in_work,
        must_have_absorbers,
        after_filling(at),
        _must_be_reasoned(fact.against_advice),
    ) or not_outside(fact.close_within_min, 0.0, MINUTES_A_DAY, "A time with a gap", "min")


def _must_be_reasoned(reason: str) -> PouchRule:
    """A rule that objects to a first seam on a food marked never, unless a reason is given."""

    def rule_for(state: State, pouch: Pouch) -> str:
        line = line_of(state, pouch)
        if line is None or not line.never or reason.strip() or pouch.sealed is not None:
            return ""
        return (
            f"Pouch {pouch.number} holds {line.food_name}: never to be sealed. Leave it open and "
            "keep it cool, or say why it is sealed all the same."
        )

    return rule_for


def _must_want_a_seam(state: State, pouch: Pouch) -> str:
    if pouch.seams >= MOST_SEAMS:
        return f"Pouch {pouch.number} has its two seams already. Label it and stow it."
    return f"Pouch {pouch.number} is in pail {pouch.pail} already." if pouch.pail else ""


def _must_want_a_gap(state: State, pouch: Pouch) -> str:
    if pouch.gas_tight:
        return f"Pouch {pouch.number} is closed all along already. Seal it without a gap."
    return ""


@rule.register
def _(fact: f.AirDrawnOff, state: State, at: datetime) -> str:
    return each(state, fact.pouches, must_be_in_work, _must_have_a_gap)


def _must_have_a_gap(state: State, pouch: Pouch) -> str:
    line = line_of(state, pouch)
    if line is not None and line.dusty:
        return f"Never draw air off over a powder such as {line.food_name}. Close the gap."
    if pouch.gap_left:
        return ""
    return f"Pouch {pouch.number} has no gap left in its seam. Leave one when sealing."
