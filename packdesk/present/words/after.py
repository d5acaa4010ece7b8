"""Pails, looks at seams and the end of a session, in words."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.present.words.saying import which, words_of
from packdesk.session import facts as f
from packdesk.session.terms import SealVerdict


@words_of.register
def _(fact: f.PouchesStowed, measures: Measures) -> str:
    return f"{which(fact.pouches)} into pail {fact.pail}"


@words_of.register
def _(fact: f.PailLidded, measures: Measures) -> str:
    return f"Lid on pail {fact.pail}, {measures.mass(fact.net_mass_g)} of food"


@words_of.register
def _(fact: f.PailOpened, measures: Measures) -> str:
    return f"Lid off pail {fact.pail} again"


@words_of.register
def _(fact: f.SealChecked, measures: Measures) -> str:
    swollen = ": do not open, discard" if fact.verdict is SealVerdict.SWOLLEN else ""
    return f"{which(fact.pouches)} checked: {fact.verdict}{swollen}"


@words_of.register
def _(fact: f.PouchesSetAside, measures: Measures) -> str:
    done = "emptied" if fact.emptied else "set aside"
    return f"{which(fact.pouches)} {done}: {fact.reason}"


@words_of.register
def _(fact: f.PouchesReturned, measures: Measures) -> str:
    return f"{which(fact.pouches)} back in work, open"


@words_of.register
def _(fact: f.SessionClosed, measures: Measures) -> str:
    return f"Session closed{': ' + fact.remark if fact.remark else ''}"
