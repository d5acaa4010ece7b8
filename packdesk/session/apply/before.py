"""What sessions, lots and plans change."""

from __future__ import annotations

from dataclasses import replace

from packdesk.session import facts as f
from packdesk.session.apply.change import applied, in_book, in_session, with_key
from packdesk.session.book_state import Lot
from packdesk.session.envelope import Entry
from packdesk.session.state import Plan, SessionState, State


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
    return in_book(state, lots=with_key(state.book.lots, fact.lot, lot))


@applied.register
def _(fact: f.LotLookedAt, state: State, entry: Entry) -> State:
    lots = state.book.lots
    looked_at = replace(lots[fact.lot], verdict=fact.verdict, seen=fact.seen)
    return in_book(state, lots=with_key(lots, fact.lot, looked_at))


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
    return in_session(state, plan=plan)
