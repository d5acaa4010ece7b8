"""Pouches that may have no absorber, since more were left than reckoned: felt before their seam."""

from __future__ import annotations

from dataclasses import replace

from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.elsewhere import elsewhere
from packdesk.present.far_words import unbroken
from packdesk.present.liners import called, line_of
from packdesk.present.other_source import source_named
from packdesk.session.commands import FeelAbsorbers
from packdesk.session.in_doubt import InDoubt, in_doubt
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.terms import Stage

FELT = "felt"
"""The form that asks which pouches have none."""


_FEEL = (
    "Press each between your fingers: is a loose absorber felt? Where you are not sure, open it "
    "and look."
)
_MISTYPED = (
    "Was the count mistyped, Backspace takes it back. Pouches without a number are alike: name as "
    "many as have none."
)


def doubt_words(session: SessionState) -> tuple[str, ...]:
    """«2 absorbers more were in packet P1 than reckoned: 2 of pouches 1 to 7 may have none.»"""
    return tuple(_said(session, each) for each in in_doubt(session))


def felt_card(session: SessionState, stage: Stage, *seconds: Control) -> WorkCard | None:
    """The pouches in doubt are felt, and those without named; None where none is in doubt.

    No press of the Space bar answers it: that all have theirs is a press by another key.
    """
    doubts = in_doubt(session)
    if not doubts:
        return None
    doubt = doubts[0]
    command = FeelAbsorbers(doubt.round_.round)
    one = len(doubt.pouches) == 1
    return WorkCard(
        stage=stage,
        sentence=_said(session, doubt),
        main=Control(
            "Some have none",
            "Space bar, or type which",
            icon="again",
            form=FELT,
            command=command,
            act="These have none",
            title="Say which have no absorber: they count as open, and get theirs next.",
        ),
        seconds=(
            Control("It has one" if one else "Each has one", icon="done", key="N", command=command),
            *seconds,
        ),
        foremost=(
            _FEEL,
            *(_said(session, each) for each in doubts[1:]),
        ),
        evidence=(_MISTYPED,),
        caution=ABSORBER_CAUTION,
        short=f"{_may_have_none(session, doubt)}: feel {'it' if one else 'each'}.",
    )


def felt_before(session: SessionState, card: WorkCard) -> WorkCard:
    """The card of labels or pails; while pouches in doubt are not put away, the way to feel them.

    A label tells how many absorbers to take out, and out of a pail none is felt.
    """
    doubts = [each for each in in_doubt(session) if any(not p.pail for p in each.pouches)]
    if not doubts or session.closed_at is not None:
        return card
    first = elsewhere(card.stage, _said(session, doubts[0]), Stage.SEALING, card.seconds)
    return replace(first, amiss=card.amiss, short=f"{_may_have_none(session, doubts[0])}.")


def nothing_first(session: SessionState) -> bool:
    """Whether nothing at the counter comes before it: no absorber works on the air of the room."""
    doubted = {number for each in in_doubt(session) for number in each.numbers}
    return not any(round_.left for round_ in session.rounds.values()) and not any(
        _works_on_air(pouch) for pouch in session.working_pouches() if pouch.number not in doubted
    )


def _works_on_air(pouch: Pouch) -> bool:
    return bool(pouch.placed) and (pouch.gap_left or not pouch.closed)


def _said(session: SessionState, doubt: InDoubt) -> str:
    over, source = doubt.round_.over, source_named(doubt.round_)
    more = "1 absorber more was" if over == 1 else f"{over} absorbers more were"
    may = _may_have_none(session, doubt)
    return f"{more} in {source} than reckoned: {may}."


def _may_have_none(session: SessionState, doubt: InDoubt) -> str:
    which = unbroken(called(line_of(session, doubt.pouches[0]), doubt.numbers))
    of = "" if len(doubt.pouches) == 1 else f"{min(doubt.round_.over, len(doubt.pouches))}\u00a0of "
    return f"{of}{which} may have none"
