"""What each kind of fact changes; called only for facts that fit (`admit.objection`)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import singledispatch
from types import MappingProxyType
from typing import Any, TypeVar
from uuid import UUID

from packdesk.session import facts as f
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact
from packdesk.session.figures import LoadOutlook
from packdesk.session.moments import reading_at
from packdesk.session.state import (
    Alarm,
    BookState,
    Count,
    Load,
    Lot,
    Packet,
    Pail,
    Placed,
    Plan,
    Pouch,
    ProbeReading,
    Remainder,
    RoomReading,
    Round,
    SealCheck,
    SessionState,
    State,
)
from packdesk.session.terms import Probe

K = TypeVar("K")
V = TypeVar("V")


@singledispatch
def applied(fact: Fact, state: State, entry: Entry) -> State:
    """Answer the state after `fact`, which came in the envelope `entry`."""
    raise TypeError(f"no rule folds {type(fact).__name__}")


def _with(mapping: Mapping[K, V], key: K, value: V) -> Mapping[K, V]:
    return MappingProxyType({**mapping, key: value})


def _in_session(state: State, **changes: Any) -> State:
    assert state.session is not None, "admitted only while a session is open"
    return replace(state, session=replace(state.session, **changes))


def _in_book(state: State, **changes: Any) -> State:
    return replace(state, book=replace(state.book, **changes))


def _session(state: State) -> SessionState:
    assert state.session is not None, "admitted only while a session is open"
    return state.session


def _pouches(state: State, numbers: tuple[int, ...], change: Callable[[Pouch], Pouch]) -> State:
    pouches = dict(_session(state).pouches)
    for number in numbers:
        pouches[number] = change(pouches[number])
    return _in_session(state, pouches=MappingProxyType(pouches))


# Before -------------------------------------------------------------------------------------------


@applied.register
def _(fact: f.SessionOpened, state: State, entry: Entry) -> State:
    opened = SessionState(
        session=entry.stream,
        name=fact.name,
        code=fact.code,
        units=fact.units,
        opened_at=entry.happened_at,
    )
    return replace(state, session=opened)


@applied.register
def _(fact: f.LotReceived, state: State, entry: Entry) -> State:
    lot = Lot(
        lot=fact.lot,
        food=fact.food,
        food_name=fact.food_name,
        mass_g=fact.mass_g,
        supplier_lot=fact.supplier_lot,
        verdict=fact.verdict,
        seen=fact.seen,
        received_at=entry.happened_at,
    )
    return _in_book(state, lots=_with(state.book.lots, fact.lot, lot))


@applied.register
def _(fact: f.PlanAgreed, state: State, entry: Entry) -> State:
    plan = Plan(
        lines=fact.lines,
        numbered=fact.numbered,
        elevation_m=fact.elevation_m,
        packing_temp_c=fact.packing_temp_c,
        pack_at=fact.pack_at,
        agreed_at=entry.happened_at,
    )
    return _in_session(state, plan=plan)


# Cold treatment and thaw equilibration ------------------------------------------------------------


def _with_load(state: State, load: Load) -> State:
    return _in_session(state, loads=_with(_session(state).loads, load.load, load))


def _with_outlook(state: State, outlook: LoadOutlook) -> State:
    load = _session(state).loads.get(outlook.load)
    if load is None:
        return state
    return _with_load(
        state,
        replace(load, forecast=outlook.cold or load.forecast, thaw=outlook.thaw or load.thaw),
    )


@applied.register
def _(fact: f.LoadFrozen, state: State, entry: Entry) -> State:
    load = Load(
        load=fact.load,
        lot=fact.lot,
        food_name=fact.food_name,
        container=fact.container,
        container_name=fact.container_name,
        mass_g=fact.mass_g,
        figures=fact.figures,
        frozen=reading_at(entry.happened_at, entry.recorded),
        forecast=fact.forecast,
    )
    return _with_load(state, load)


@applied.register
def _(fact: f.LotBypassedCold, state: State, entry: Entry) -> State:
    return _in_session(state, bypassed=_with(_session(state).bypassed, fact.lot, fact.reason))


@applied.register
def _(fact: f.CoreRead, state: State, entry: Entry) -> State:
    load = _session(state).loads[fact.load]
    reading = ProbeReading(entry.happened_at, fact.temp_c, fact.probe)
    state = _with_load(state, replace(load, readings=(*load.readings, reading)))
    return _with_outlook(state, fact.outlook)


@applied.register
def _(fact: f.FreezerRead, state: State, entry: Entry) -> State:
    reading = ProbeReading(entry.happened_at, fact.temp_c, Probe.WALL)
    state = _in_session(state, freezer_readings=(*_session(state).freezer_readings, reading))
    for outlook in fact.outlooks:
        state = _with_outlook(state, outlook)
    return state


@applied.register
def _(fact: f.LoadTakenOut, state: State, entry: Entry) -> State:
    load = replace(
        _session(state).loads[fact.load],
        taken_out=reading_at(entry.happened_at, entry.recorded),
        room_at_take_out_c=fact.forecast.room_c,
        held_h=fact.held_h,
        short_reason=fact.reason,
        thaw=fact.forecast,
    )
    return _with_load(state, load)


@applied.register
def _(fact: f.RoomRead, state: State, entry: Entry) -> State:
    room = RoomReading(entry.happened_at, fact.temp_c, fact.relative_humidity)
    state = _in_session(state, room_readings=(*_session(state).room_readings, room))
    for outlook in fact.outlooks:
        state = _with_outlook(state, outlook)
    return state


@applied.register
def _(fact: f.LoadUncovered, state: State, entry: Entry) -> State:
    load = replace(
        _session(state).loads[fact.load],
        uncovered=reading_at(entry.happened_at, entry.recorded),
        uncover_reason=fact.reason,
    )
    return _with_load(state, load)


# Filling ------------------------------------------------------------------------------------------


@applied.register
def _(fact: f.PouchesFilled, state: State, entry: Entry) -> State:
    pouches = dict(_session(state).pouches)
    for number in fact.pouches:
        pouches[number] = Pouch(
            number=number,
            line=fact.line,
            net_mass_g=fact.net_mass_g,
            told_apart=fact.told_apart,
            filled_at=entry.happened_at,
        )
    return _in_session(state, pouches=MappingProxyType(dict(sorted(pouches.items()))))


@applied.register
def _(fact: f.ReadyChecked, state: State, entry: Entry) -> State:
    return _in_session(state, ready_for=fact.pouches)


@applied.register
def _(fact: f.PacketOpened, state: State, entry: Entry) -> State:
    packet = Packet(
        packet=fact.packet,
        absorber=fact.absorber,
        rating_cc=fact.rating_cc,
        count=fact.count,
        condition=fact.condition,
        opened=reading_at(entry.happened_at, entry.recorded),
    )
    return _in_book(state, packets=_with(state.book.packets, fact.packet, packet))


@applied.register
def _(fact: f.RoundStarted, state: State, entry: Entry) -> State:
    session = _session(state)
    started = Round(
        round=fact.round,
        source=fact.source,
        rating_cc=fact.rating_cc,
        count=fact.count,
        capacity_low_cc=fact.capacity_low_cc,
        capacity_likely_cc=fact.capacity_likely_cc,
        limit=fact.limit,
        limit_min=fact.limit_min,
        room_c=fact.room_c,
        started=reading_at(entry.happened_at, entry.recorded),
    )
    remainder = state.book.remainders.get(fact.source)
    if remainder is not None:
        taken = replace(remainder, taken=True)
        state = _in_book(state, remainders=_with(state.book.remainders, fact.source, taken))
    return _in_session(state, rounds=_with(session.rounds, fact.round, started), ready_for=())


@applied.register
def _(fact: f.AbsorbersPlaced, state: State, entry: Entry) -> State:
    round_ = _session(state).rounds[fact.round]
    used = replace(round_, placed=round_.placed + fact.each * len(fact.pouches))
    state = _in_session(state, rounds=_with(_session(state).rounds, fact.round, used))
    placed = Placed(
        rating_cc=round_.rating_cc,
        each=fact.each,
        capacity_low_cc=fact.capacity_low_cc,
        capacity_likely_cc=fact.capacity_likely_cc,
        round=fact.round,
    )
    return _pouches(state, fact.pouches, lambda p: replace(p, placed=(*p.placed, placed)))


@applied.register
def _(fact: f.PouchesShut, state: State, entry: Entry) -> State:
    shut = reading_at(entry.happened_at, entry.recorded)
    return _pouches(
        state,
        fact.pouches,
        lambda p: replace(p, shut=shut, seal_within_min=fact.seal_within_min),
    )


@applied.register
def _(fact: f.RemainderShut, state: State, entry: Entry) -> State:
    if fact.count:
        remainder = Remainder(
            remainder=fact.remainder,
            absorber=fact.absorber,
            rating_cc=fact.rating_cc,
            count=fact.count,
            oldest_opening=fact.oldest_opening,
            capacity_low_cc=fact.capacity_low_cc,
            capacity_likely_cc=fact.capacity_likely_cc,
        )
        kept = _with(state.book.remainders, fact.remainder, remainder)
        state = _in_book(state, remainders=kept)
    if state.session is None or state.session.session != fact.session:
        return state
    over = replace(state.session.rounds[fact.round], shut_up=True)
    return _in_session(state, rounds=_with(state.session.rounds, fact.round, over))


# Sealing ------------------------------------------------------------------------------------------


@applied.register
def _(fact: f.PouchesSealed, state: State, entry: Entry) -> State:
    sealed = reading_at(entry.happened_at, entry.recorded)

    def seal(pouch: Pouch) -> Pouch:
        seams = min(2, fact.seams if pouch.gap_left else pouch.seams + fact.seams)
        return replace(pouch, sealed=sealed, seams=seams, gap_left=fact.gap_left)

    return _pouches(state, fact.pouches, seal)


@applied.register
def _(fact: f.AirDrawnOff, state: State, entry: Entry) -> State:
    return state


# Labelling and after ------------------------------------------------------------------------------


@applied.register
def _(fact: f.LabelsPrinted, state: State, entry: Entry) -> State:
    return _pouches(state, fact.pouches, lambda p: replace(p, labelled=True))


@applied.register
def _(fact: f.StockSheetUsed, state: State, entry: Entry) -> State:
    return _in_book(state, sheets=_with(state.book.sheets, fact.stock, fact.cells))


@applied.register
def _(fact: f.PouchesStowed, state: State, entry: Entry) -> State:
    pails = _session(state).pails
    pail = pails.get(fact.pail, Pail(fact.pail, ()))
    fuller = replace(pail, pouches=(*pail.pouches, *fact.pouches))
    state = _in_session(state, pails=_with(pails, fact.pail, fuller))
    return _pouches(state, fact.pouches, lambda p: replace(p, pail=fact.pail))


@applied.register
def _(fact: f.PailLidded, state: State, entry: Entry) -> State:
    pails = _session(state).pails
    lidded = replace(pails[fact.pail], lidded=True)
    return _in_session(state, pails=_with(pails, fact.pail, lidded))


@applied.register
def _(fact: f.SealChecked, state: State, entry: Entry) -> State:
    check = SealCheck(entry.happened_at, fact.verdict)
    state = replace(state, book=_with_checks(state.book, fact, check))
    if state.session is None or state.session.session != fact.session:
        return state
    return _pouches(state, fact.pouches, lambda p: replace(p, checks=(*p.checks, check)))


def _with_checks(book: BookState, fact: f.SealChecked, check: SealCheck) -> BookState:
    checks: dict[tuple[UUID, int], tuple[SealCheck, ...]] = dict(book.checks)
    for number in fact.pouches:
        checks[fact.session, number] = (*checks.get((fact.session, number), ()), check)
    return replace(book, checks=MappingProxyType(checks))


@applied.register
def _(fact: f.PouchesSetAside, state: State, entry: Entry) -> State:
    state = _out_of_pails(state, fact.pouches)
    return _pouches(
        state,
        fact.pouches,
        lambda p: replace(p, aside=fact.reason, emptied=fact.emptied, pail=""),
    )


def _out_of_pails(state: State, numbers: tuple[int, ...]) -> State:
    pails = {
        name: replace(pail, pouches=tuple(n for n in pail.pouches if n not in numbers))
        for name, pail in _session(state).pails.items()
    }
    return _in_session(state, pails=MappingProxyType(pails))


@applied.register
def _(fact: f.PouchesReturned, state: State, entry: Entry) -> State:
    def reopened(pouch: Pouch) -> Pouch:
        return Pouch(
            number=pouch.number,
            line=pouch.line,
            net_mass_g=pouch.net_mass_g,
            told_apart=pouch.told_apart,
            filled_at=pouch.filled_at,
            labelled=pouch.labelled,
        )

    return _pouches(state, fact.pouches, reopened)


@applied.register
def _(fact: f.SessionClosed, state: State, entry: Entry) -> State:
    return _in_session(state, closed_at=entry.happened_at)


# At any time --------------------------------------------------------------------------------------


@applied.register
def _(fact: f.CountTaken, state: State, entry: Entry) -> State:
    count = Count(entry.happened_at, fact.line, fact.what, fact.counted, fact.tallied)
    return _in_session(state, counts=(*_session(state).counts, count))


@applied.register
def _(fact: f.AlarmRang, state: State, entry: Entry) -> State:
    alarm = Alarm(fact.clock, fact.due_at, entry.happened_at, fact.late_s)
    return _in_session(state, alarms=_with(_session(state).alarms, fact.clock, alarm))


@applied.register
def _(fact: f.AlarmSilenced, state: State, entry: Entry) -> State:
    alarms = dict(_session(state).alarms)
    for clock in fact.clocks:
        if clock in alarms:
            alarms[clock] = replace(alarms[clock], silenced_at=entry.happened_at)
    return _in_session(state, alarms=MappingProxyType(alarms))


@applied.register
def _(fact: f.NoteAdded, state: State, entry: Entry) -> State:
    return _in_session(state, notes=(*_session(state).notes, fact.text))
