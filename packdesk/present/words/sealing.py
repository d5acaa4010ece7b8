"""Seams, in words."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.present.words.saying import which, words_of
from packdesk.session import facts as f


@words_of.register
def _(fact: f.PouchesSealed, measures: Measures) -> str:
    seams = "two seams" if fact.seams == 2 else "one seam"
    against = f", against advice: {fact.against_advice}" if fact.against_advice else ""
    if fact.gap_left:
        return f"{which(fact.pouches)}: seam made but for a gap{against}"
    return f"{which(fact.pouches)} sealed, {seams}{against}"


@words_of.register
def _(fact: f.AirDrawnOff, measures: Measures) -> str:
    return f"{which(fact.pouches)}: air drawn off"
