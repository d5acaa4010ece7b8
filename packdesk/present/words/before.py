"""Lots received and the plan agreed, in words."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.present.words.saying import words_of
from packdesk.session import facts as f
from packdesk.session.terms import LotVerdict


@words_of.register
def _(fact: f.SessionOpened, measures: Measures) -> str:
    return f"Session opened: {fact.name}"


@words_of.register
def _(fact: f.LotReceived, measures: Measures) -> str:
    seen = f", {fact.seen}" if fact.seen else ""
    verdict = _VERDICTS[fact.verdict]
    return f"Lot {fact.lot}: {measures.mass(fact.mass_g)} of {fact.food_name} {verdict}{seen}"


_VERDICTS = {
    LotVerdict.ACCEPTED: "accepted",
    LotVerdict.QUARANTINED: "put in quarantine",
    LotVerdict.REFUSED: "refused",
}


@words_of.register
def _(fact: f.LotLookedAt, measures: Measures) -> str:
    verdict = _VERDICTS[fact.verdict]
    return f"Lot {fact.lot} looked at again: {fact.food_name} {verdict}, {fact.seen}"


@words_of.register
def _(fact: f.PlanAgreed, measures: Measures) -> str:
    pouches = sum(line.count for line in fact.lines)
    foods = len({line.lot for line in fact.lines})
    against = "".join(
        f"; {line.food_name} against advice: {line.against_advice}"
        for line in fact.lines
        if line.never
    )
    return f"Plan agreed: {foods} {'food' if foods == 1 else 'foods'}, {pouches} pouches{against}"
