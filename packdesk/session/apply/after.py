"""What labels, pails, seal checks and the closing change, and what may come at any time."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from types import MappingProxyType

from packdesk.session import facts as f
from packdesk.session.apply.change import (
    applied,
    each_pouch,
    in_book,
    in_session,
    the_session,
    with_key,
)
from packdesk.session.envelope import Entry
from packdesk.session.moments import reading_at
from packdesk.session.pouch import Pouch, SealCheck
from packdesk.session.state import Alarm, Count, LabelsAsked, Pail, State
from packdesk.session.tally import line_stages
from packdesk.session.terms import SealVerdict


@applied.register
def _(fact: f.LabelsMade, state: State, entry: Entry) -> State:
    asked = LabelsAsked(
        entry=entry.id,
        pouches=fact.pouches,
        stock=fact.stock,
        first=fact.first_cell,
        next_cell=fact.next_cell,
        reprint=fact.reprint,
        line=fact.line,
        file=fact.file,
        remarks=fact.remarks,
    )
    return in_session(state, labels_asked=asked)


@applied.register
def _(fact: f.LabelsPrinted, state: State, entry: Entry) -> State:
    state = in_session(state, labels_asked=None)
    return each_pouch(state, fact.pouches, lambda p: replace(p, labelled=True))


@applied.register
def _(fact: f.NumberLabelsPrinted, state: State, entry: Entry) -> State:
    session = the_session(state)
    asked = session.labels_asked
    made = asked.pouches if asked is not None and asked.line == fact.line else ()
    torn = [number for number in made if number not in fact.pouches]
    printed = {**session.numbers_printed, **dict.fromkeys(fact.pouches, fact.line)}
    lacking = {**session.numbers_torn, **dict.fromkeys(torn, fact.line)}
    return in_session(
        state,
        numbers_printed=_without(printed, torn),
        numbers_torn=_without(lacking, fact.pouches),
        labels_asked=None,
    )


def _without(numbers: Mapping[int, int], gone: Collection[int]) -> Mapping[int, int]:
    return MappingProxyType({n: line for n, line in numbers.items() if n not in gone})


@applied.register
def _(fact: f.StockSheetUsed, state: State, entry: Entry) -> State:
    return in_book(state, sheets=with_key(state.book.sheets, fact.stock, fact.cells))


@applied.register
def _(fact: f.PouchesStowed, state: State, entry: Entry) -> State:
    pails = the_session(state).pails
    pail = pails.get(fact.pail, Pail(fact.pail, ()))
    fuller = replace(pail, pouches=(*pail.pouches, *fact.pouches))
    state = in_session(state, pails=with_key(pails, fact.pail, fuller))
    return each_pouch(state, fact.pouches, lambda p: replace(p, pail=fact.pail, out_of=""))


@applied.register
def _(fact: f.PailLidded, state: State, entry: Entry) -> State:
    pails = the_session(state).pails
    lidded = replace(pails[fact.pail], lidded=True)
    return in_session(state, pails=with_key(pails, fact.pail, lidded))


@applied.register
def _(fact: f.PailOpened, state: State, entry: Entry) -> State:
    pails = the_session(state).pails
    opened = replace(pails[fact.pail], lidded=False)
    return in_session(state, pails=with_key(pails, fact.pail, opened))


@applied.register
def _(fact: f.SealChecked, state: State, entry: Entry) -> State:
    if state.session is None or state.session.session != fact.session:
        return state
    check = SealCheck(entry.happened_at, fact.verdict, entry.recorded.utc_offset_min)
    state = each_pouch(state, fact.pouches, lambda p: replace(p, checks=(*p.checks, check)))
    if fact.verdict is SealVerdict.SWOLLEN:
        return _set_aside(state, fact.pouches, reason=fact.verdict, emptied=False)
    return state


@applied.register
def _(fact: f.PouchesSetAside, state: State, entry: Entry) -> State:
    return _set_aside(state, fact.pouches, reason=fact.reason, emptied=fact.emptied)


def _set_aside(state: State, numbers: tuple[int, ...], *, reason: str, emptied: bool) -> State:
    pails = {
        name: replace(pail, pouches=tuple(n for n in pail.pouches if n not in numbers))
        for name, pail in the_session(state).pails.items()
    }
    state = in_session(state, pails=MappingProxyType(pails))

    def aside(pouch: Pouch) -> Pouch:
        out_of = pouch.pail or pouch.out_of
        return replace(pouch, aside=str(reason), emptied=emptied, pail="", out_of=out_of)

    return each_pouch(state, numbers, aside)


@applied.register
def _(fact: f.PouchesReturned, state: State, entry: Entry) -> State:
    at = reading_at(entry.happened_at, entry.recorded)

    def reopened(pouch: Pouch) -> Pouch:
        return Pouch(
            number=pouch.number,
            line=pouch.line,
            net_mass_g=pouch.net_mass_g,
            told_apart=pouch.told_apart,
            filled_at=pouch.filled_at,
            filled_offset_min=pouch.filled_offset_min,
            labelled=pouch.labelled,
            loads=pouch.loads,
            mass_confirmed=pouch.mass_confirmed,
            turn=pouch.turn,
            left_g=pouch.left_g,
            back=at if pouch.placed or pouch.closed else pouch.back,
            spent=(*pouch.spent, *pouch.placed),
            earlier_checks=(*pouch.earlier_checks, *pouch.checks),
        )

    return each_pouch(state, fact.pouches, reopened)


@applied.register
def _(fact: f.SessionClosed, state: State, entry: Entry) -> State:
    return in_session(state, closed_at=entry.happened_at)


# At any time --------------------------------------------------------------------------------------


@applied.register
def _(fact: f.CountTaken, state: State, entry: Entry) -> State:
    session = the_session(state)
    stages = line_stages(session, fact.line)
    count = Count(entry.happened_at, fact.line, fact.what, fact.counted, fact.tallied, stages)
    return in_session(state, counts=(*session.counts, count))


@applied.register
def _(fact: f.AlarmRang, state: State, entry: Entry) -> State:
    alarm = Alarm(fact.clock, fact.due_at, entry.recorded, fact.late_s)
    return in_session(state, alarms=with_key(the_session(state).alarms, fact.clock, alarm))


@applied.register
def _(fact: f.WallClockSet, state: State, entry: Entry) -> State:
    return state  # every entry is read by the clock as it is set now: the envelope says it all


@applied.register
def _(fact: f.AlarmSilenced, state: State, entry: Entry) -> State:
    alarms = dict(the_session(state).alarms)
    for clock in fact.clocks:
        if clock in alarms:
            alarms[clock] = replace(alarms[clock], silenced_at=entry.happened_at)
    return in_session(state, alarms=MappingProxyType(alarms))


@applied.register
def _(fact: f.NoteAdded, state: State, entry: Entry) -> State:
    return in_session(state, notes=(*the_session(state).notes, fact.text))
