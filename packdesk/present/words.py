"""Each recorded fact in one line of words, for the last entry, the story and the record."""

from __future__ import annotations

from functools import singledispatch

from packdesk.instants import clock_set_words, span
from packdesk.present.cold_words import came_to
from packdesk.present.liners import as_liners
from packdesk.present.measures import Measures
from packdesk.session import facts as f
from packdesk.session.clocks import ClockKind
from packdesk.session.fact import Fact, UnknownFact
from packdesk.session.numbers import named
from packdesk.session.terms import (
    ColdRule,
    Feel,
    Indicator,
    LotVerdict,
    PacketCondition,
    ReadyItem,
    SealVerdict,
    Vessel,
)

ASKED_AND_CONFIRMED = ", asked and confirmed"

LATE_S = 60.0
"""An alarm this much after its time was late, and is said to have been."""


def fact_words(
    fact: Fact | UnknownFact, measures: Measures, liners: frozenset[int] = frozenset()
) -> str:
    """Say what `fact` tells, in the units of the session; `liners` are the pouches called so."""
    if isinstance(fact, UnknownFact):
        return f"Entry of a newer PackDesk: {fact.kind}"
    pouches = getattr(fact, "pouches", ())
    words = _words(fact, measures)
    return as_liners(words) if pouches and liners.issuperset(pouches) else words


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _which(numbers: tuple[int, ...]) -> str:
    return _capital(named(numbers))


@singledispatch
def _words(fact: Fact, measures: Measures) -> str:
    raise TypeError(f"no words for {type(fact).__name__}")


@_words.register
def _(fact: f.SessionOpened, measures: Measures) -> str:
    return f"Session opened: {fact.name}"


@_words.register
def _(fact: f.LotReceived, measures: Measures) -> str:
    seen = f", {fact.seen}" if fact.seen else ""
    verdict = _VERDICTS[fact.verdict]
    return f"Lot {fact.lot}: {measures.mass(fact.mass_g)} of {fact.food_name} {verdict}{seen}"


_VERDICTS = {
    LotVerdict.ACCEPTED: "accepted",
    LotVerdict.QUARANTINED: "put in quarantine",
    LotVerdict.REFUSED: "refused",
}


@_words.register
def _(fact: f.LotLookedAt, measures: Measures) -> str:
    verdict = _VERDICTS[fact.verdict]
    return f"Lot {fact.lot} looked at again: {fact.food_name} {verdict}, {fact.seen}"


@_words.register
def _(fact: f.PlanAgreed, measures: Measures) -> str:
    pouches = sum(line.count for line in fact.lines)
    foods = len(fact.lines)
    against = "".join(
        f"; {line.food_name} against advice: {line.against_advice}"
        for line in fact.lines
        if line.never
    )
    return f"Plan agreed: {foods} {'food' if foods == 1 else 'foods'}, {pouches} pouches{against}"


@_words.register
def _(fact: f.LoadFrozen, measures: Measures) -> str:
    into = f"freezer {fact.figures.freezer}" if fact.figures.freezer > 1 else "the freezer"
    asked = ASKED_AND_CONFIRMED if fact.confirmed else ""
    mass = measures.mass(fact.mass_g)
    return f"Load {fact.load} into {into}: {mass} of {fact.food_name}{asked}"


@_words.register
def _(fact: f.LotBypassedCold, measures: Measures) -> str:
    return f"Lot {fact.lot} goes without cold: {fact.reason}"


@_words.register
def _(fact: f.CoreRead, measures: Measures) -> str:
    return f"Load {fact.load} {fact.probe} read {measures.reading(fact.temp_c)}"


@_words.register
def _(fact: f.FreezerRead, measures: Measures) -> str:
    which = f"Freezer {fact.freezer}" if fact.freezer > 1 else "Freezer"
    return f"{which} read {measures.reading(fact.temp_c)}"


@_words.register
def _(fact: f.ColdRuleChosen, measures: Measures) -> str:
    if fact.rule is ColdRule.DOSE:
        return "Rule chosen: the cold is complete by the dose of the toughest life stage"
    return "Rule chosen: the cold is complete by the plain rule"


@_words.register
def _(fact: f.LoadTakenOut, measures: Measures) -> str:
    early = f", early: {fact.reason}" if fact.reason else ""
    cold = came_to(fact.rule, fact.held_h, fact.needed_h, fact.dose, fact.dose_stage)
    return f"Load {fact.load} taken out, {cold}{early}"


@_words.register
def _(fact: f.RoomRead, measures: Measures) -> str:
    damp = f", {fact.relative_humidity * 100:.0f} % humidity" if fact.relative_humidity else ""
    return f"Room read {measures.reading(fact.temp_c)}{damp}"


@_words.register
def _(fact: f.LoadUncovered, measures: Measures) -> str:
    early = f", still too cold: {fact.reason}" if fact.reason else ""
    return f"Load {fact.load} opened, coldest food about {measures.temperature(fact.core_c)}{early}"


@_words.register
def _(fact: f.PouchesFilled, measures: Measures) -> str:
    mass = f", {measures.weighed(fact.net_mass_g)}" if fact.net_mass_g is not None else ""
    each = " each" if mass and len(fact.pouches) > 1 else ""
    net = " net" if mass and fact.tare_g is not None else ""
    asked = ASKED_AND_CONFIRMED if fact.confirmed else ""
    source = f", from {loads_named(fact.loads)}" if fact.loads else ""
    return f"{_which(fact.pouches)} filled{mass}{net}{each}{source}{asked}"


def loads_named(loads: tuple[str, ...]) -> str:
    """Say which loads: `load A`, `loads A and B`."""
    if len(loads) == 1:
        return f"load {loads[0]}"
    return f"loads {', '.join(loads[:-1])} and {loads[-1]}"


@_words.register
def _(fact: f.EmptyPouchWeighed, measures: Measures) -> str:
    if not fact.tare_g:
        return f"Empty {fact.pouch_name}: not taken off, the scale shows the food alone"
    return f"Empty {fact.pouch_name}: {measures.weighed(fact.tare_g)}, taken off from now on"


@_words.register
def _(fact: f.FoodLost, measures: Measures) -> str:
    return f"{measures.weighed(fact.mass_g)} of {fact.food_name} lost: {fact.reason}"


@_words.register
def _(fact: f.ReadyChecked, measures: Measures) -> str:
    how = ", each thing checked" if set(fact.checked) == set(ReadyItem) else ""
    stand = "stands" if len(fact.pouches) == 1 else "stand"
    return f"Ready for a round: {named(fact.pouches)} {stand} open{how}"


@_words.register
def _(fact: f.PacketOpened, measures: Measures) -> str:
    seen = [BAG_WORDS[fact.condition], _INDICATED[fact.indicator], _FELT[fact.feel]]
    return (
        f"Packet {fact.packet} opened: {fact.count} absorbers of {fact.rating_cc} cc, "
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


@_words.register
def _(fact: f.RemainderTaken, measures: Measures) -> str:
    return f"Jar {fact.remainder} opened again"


@_words.register
def _(fact: f.RoundStarted, measures: Measures) -> str:
    limit = f"at most {span(fact.limit_min * 60.0)} in the air"
    limit = "no margin left" if 0.0 in (fact.limit_min, fact.margin_min) else limit
    return f"Round {fact.round} started from {fact.source}, {limit}"


@_words.register
def _(fact: f.AbsorbersPlaced, measures: Measures) -> str:
    each = "absorber" if fact.each == 1 else f"{fact.each} absorbers"
    return f"{_which(fact.pouches)}: {each} in"


@_words.register
def _(fact: f.PouchesShut, measures: Measures) -> str:
    return f"{_which(fact.pouches)} pressed shut"


@_words.register
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


@_words.register
def _(fact: f.PouchesReopened, measures: Measures) -> str:
    why = f": {fact.reason}" if fact.reason else ""
    return f"{_which(fact.pouches)} opened again{why}"


@_words.register
def _(fact: f.PouchesSwapped, measures: Measures) -> str:
    return f"Pouches {fact.first} and {fact.second} had been mixed up: exchanged"


@_words.register
def _(fact: f.PouchesSealed, measures: Measures) -> str:
    seams = "two seams" if fact.seams == 2 else "one seam"
    against = f", against advice: {fact.against_advice}" if fact.against_advice else ""
    if fact.gap_left:
        return f"{_which(fact.pouches)}: seam made but for a gap{against}"
    return f"{_which(fact.pouches)} sealed, {seams}{against}"


@_words.register
def _(fact: f.AirDrawnOff, measures: Measures) -> str:
    return f"{_which(fact.pouches)}: air drawn off"


@_words.register
def _(fact: f.LabelsMade, measures: Measures) -> str:
    again = "made again" if fact.reprint else "made"
    what = "Labels with numbers alone" if fact.line else "Labels"
    return f"{what} {again} for {named(fact.pouches)}, to be printed"


@_words.register
def _(fact: f.LabelsPrinted, measures: Measures) -> str:
    again = "printed again" if fact.reprint else "printed"
    return f"Labels {again} for {named(fact.pouches)}"


@_words.register
def _(fact: f.NumberLabelsPrinted, measures: Measures) -> str:
    again = "printed again" if fact.reprint else "printed"
    return f"Numbers alone {again} on labels for {named(fact.pouches)}, before filling"


@_words.register
def _(fact: f.StockSheetUsed, measures: Measures) -> str:
    places = "1 place" if fact.cells == 1 else f"{fact.cells} places"
    return f"{places} used on the sheet of labels {fact.stock} on top"


@_words.register
def _(fact: f.PouchesStowed, measures: Measures) -> str:
    return f"{_which(fact.pouches)} into pail {fact.pail}"


@_words.register
def _(fact: f.PailLidded, measures: Measures) -> str:
    return f"Lid on pail {fact.pail}, {measures.mass(fact.net_mass_g)} of food"


@_words.register
def _(fact: f.PailOpened, measures: Measures) -> str:
    return f"Lid off pail {fact.pail} again"


@_words.register
def _(fact: f.SealChecked, measures: Measures) -> str:
    swollen = ": do not open, discard" if fact.verdict is SealVerdict.SWOLLEN else ""
    return f"{_which(fact.pouches)} checked: {fact.verdict}{swollen}"


@_words.register
def _(fact: f.PouchesSetAside, measures: Measures) -> str:
    done = "emptied" if fact.emptied else "set aside"
    return f"{_which(fact.pouches)} {done}: {fact.reason}"


@_words.register
def _(fact: f.PouchesReturned, measures: Measures) -> str:
    return f"{_which(fact.pouches)} back in work, open"


@_words.register
def _(fact: f.SessionClosed, measures: Measures) -> str:
    return f"Session closed{': ' + fact.remark if fact.remark else ''}"


@_words.register
def _(fact: f.CountTaken, measures: Measures) -> str:
    food = f" of {fact.food_name}" if fact.food_name else ""
    said = f"Counted {fact.counted} {fact.what.replace('_', ' ')}{food}"
    if fact.counted == fact.tallied:
        return f"{said}, as tallied"
    return f"{said}, the tally says {fact.tallied}"


@_words.register
def _(fact: f.AlarmRang, measures: Measures) -> str:
    late = f", {span(fact.late_s)} late" if fact.late_s >= LATE_S else ""
    return f"{alarm_said(fact.clock)}{late}"


def alarm_said(clock: str) -> str:
    """Say what a clock that rang, or warned, stands for, from its identity."""
    name, _, soon = clock.partition("/")
    kind, _, subject = name.partition(":")
    said: dict[str, str] = {
        ClockKind.COLD: f"load {subject} cold long enough",
        ClockKind.THAW: f"load {subject} warm enough to open",
        ClockKind.PACKET: f"absorbers of round {subject} open too long",
        ClockKind.PRESSED_SHUT: "pouches too long without a seam",
        ClockKind.SEAL_CHECK: "seams to be looked at",
    }
    return f"{'Warning: soon' if soon else 'Alarm:'} {said.get(kind, clock)}"


@_words.register
def _(fact: f.WallClockSet, measures: Measures) -> str:
    told = clock_set_words(fact.by_s)
    return f"{told[0].upper()}{told[1:]}"


@_words.register
def _(fact: f.AlarmSilenced, measures: Measures) -> str:
    return "Sound stopped"


@_words.register
def _(fact: f.NoteAdded, measures: Measures) -> str:
    return f"Note: {fact.text}"


@_words.register
def _(fact: f.FactVoided, measures: Measures) -> str:
    how_many = "1 entry" if len(fact.targets) == 1 else f"{len(fact.targets)} entries"
    return f"Undone: {how_many}" if fact.mistap else f"Voided {how_many}: {fact.reason}"
