"""Packets, rounds and the absorbers in pouches, in words."""

from __future__ import annotations

from packdesk.instants import span
from packdesk.present.measures import Measures
from packdesk.present.words.saying import which, words_of
from packdesk.session import facts as f
from packdesk.session.numbers import named
from packdesk.session.terms import Feel, Indicator, PacketCondition, ReadyItem, Vessel


@words_of.register
def _(fact: f.ReadyChecked, measures: Measures) -> str:
    how = ", each thing checked" if set(fact.checked) == set(ReadyItem) else ""
    stand = "stands" if len(fact.pouches) == 1 else "stand"
    return f"Ready for a round: {named(fact.pouches)} {stand} open{how}"


@words_of.register
def _(fact: f.PacketOpened, measures: Measures) -> str:
    seen = [BAG_WORDS[fact.condition], _INDICATED[fact.indicator], _FELT[fact.feel]]
    many = "1 absorber" if fact.count == 1 else f"{fact.count} absorbers"
    return (
        f"Packet {fact.packet} opened: {many} of {fact.rating_cc} cc, "
        f"{', '.join(words for words in seen if words)}"
    )


_INDICATED = {
    Indicator.NOT_SEEN: "",
    Indicator.NO_OXYGEN: "indicator shows no oxygen",
    Indicator.OXYGEN: "indicator shows oxygen",
    Indicator.NONE_IN_IT: "no indicator in it",
}

BAG_WORDS = {
    PacketCondition.TIGHT: "bag tight",
    PacketCondition.SLACK: "bag slack",
    PacketCondition.NOT_SEEN: "bag not looked at",
}
_FELT = {Feel.NOT_FELT: "", Feel.SOFT: "absorbers soft", Feel.HARD: "hard: spent, not used"}


@words_of.register
def _(fact: f.RemainderTaken, measures: Measures) -> str:
    return f"Jar {fact.remainder} opened again"


@words_of.register
def _(fact: f.RoundStarted, measures: Measures) -> str:
    limit = f"at most {span(fact.limit_min * 60.0)} in the air"
    limit = "no margin left" if 0.0 in (fact.limit_min, fact.margin_min) else limit
    return f"Round {fact.round} started from {fact.source}, {limit}"


@words_of.register
def _(fact: f.AbsorbersPlaced, measures: Measures) -> str:
    each = "absorber" if fact.each == 1 else f"{fact.each} absorbers"
    return f"{which(fact.pouches)}: {each} in"


@words_of.register
def _(fact: f.PouchesShut, measures: Measures) -> str:
    return f"{which(fact.pouches)} pressed shut"


@words_of.register
def _(fact: f.RemainderShut, measures: Measures) -> str:
    reckoned = f", {fact.reckoned} reckoned" if fact.reckoned is not None else ""
    if not fact.count:
        return f"Round {fact.round} over, no absorber left{reckoned}"
    where = [_IN_VESSEL[fact.vessel] if fact.vessel is not None else "", fact.place]
    told = "".join(f", {words}" for words in where if words)
    return f"Jar {fact.remainder}: {fact.count} of {fact.rating_cc} cc shut up{told}{reckoned}"


_IN_VESSEL = {
    Vessel.PINT_JAR: "in a pint jar",
    Vessel.QUART_JAR: "in a quart jar",
    Vessel.SEALED_POUCH: "sealed in a pouch",
    Vessel.PRESSED_POUCH: "in a pouch pressed shut",
}


@words_of.register
def _(fact: f.PouchesReopened, measures: Measures) -> str:
    why = f": {fact.reason}" if fact.reason else ""
    return f"{which(fact.pouches)} opened again{why}"


@words_of.register
def _(fact: f.AbsorbersFelt, measures: Measures) -> str:
    told = f"{which(fact.pouches)} felt for absorbers"
    if not fact.without:
        return f"{told}: none is without"
    return f"{told}: {named(fact.without)} had none"


@words_of.register
def _(fact: f.PouchesSwapped, measures: Measures) -> str:
    return f"Pouches {fact.first} and {fact.second} had been mixed up: exchanged"
