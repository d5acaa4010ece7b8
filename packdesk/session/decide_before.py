"""Decisions about sessions, lots and plans, and about closing."""

from __future__ import annotations

from datetime import datetime, timedelta

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.admit import objection
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.filled_by import against_filled
from packdesk.session.under_way import under_way


@facts_of.register
def _(command: c.OpenSession, case: Case) -> tuple[Fact, ...]:
    return (f.SessionOpened(name=command.name.strip(), code=command.code, units=command.units),)


@facts_of.register
def _(command: c.ReceiveLot, case: Case) -> tuple[Fact, ...]:
    return (
        f.LotReceived(
            lot=next_lot(case),
            food=command.food,
            food_name=command.food_name,
            mass_g=command.mass_g,
            supplier_lot=command.supplier_lot.strip(),
            verdict=command.verdict,
            seen=command.seen.strip(),
            session=case.noted_in,
        ),
    )


@facts_of.register
def _(command: c.LookAtLot, case: Case) -> tuple[Fact, ...]:
    lot = case.state.book.lots.get(command.lot)
    return (
        f.LotLookedAt(
            lot=command.lot,
            food_name=lot.food_name if lot is not None else "",
            verdict=command.verdict,
            seen=command.seen.strip(),
            session=case.noted_in,
        ),
    )


def next_lot(case: Case) -> str:
    """Name the next lot: year and month received, and a number running within them."""
    there: datetime = case.when.at + timedelta(minutes=case.now.utc_offset_min)
    stem = f"{there:%y%m}-"
    numbers = [
        int(lot.removeprefix(stem))
        for lot in case.state.book.lots
        if lot.startswith(stem) and lot.removeprefix(stem).isdecimal()
    ]
    return f"{stem}{max(numbers, default=0) + 1}"


@facts_of.register
def _(command: c.AgreePlan, case: Case) -> tuple[Fact, ...]:
    agreed = f.PlanAgreed(
        lines=command.lines,
        numbered=command.numbered,
        elevation_m=command.elevation_m,
        packing_temp_c=command.packing_temp_c,
        pack_at=command.pack_at,
    )
    otherwise = against_filled(the_session(case), command.lines)
    if otherwise and not objection(case.state, agreed, case.when.at):
        raise Refused(otherwise)
    return (agreed,)


@facts_of.register
def _(command: c.CloseSession, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    closed = f.SessionClosed(remark=command.remark.strip())
    waiting = under_way(session)
    if waiting and not command.confirmed and not objection(case.state, closed, case.when.at):
        stops = "Once the session is closed, no clock runs for it and no alarm rings."
        raise Refused(f"{' '.join(waiting)} {stops} Close it all the same?", question=True)
    return (closed,)
