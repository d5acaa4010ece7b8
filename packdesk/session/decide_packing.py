"""Decisions at the counter: filling, rounds, sealing."""

from __future__ import annotations

from collections import Counter
from datetime import datetime

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.figures import AgreedLine
from packdesk.session.state import Pouch, Round, SessionState

SEAL_WITHIN_MIN = 60.0
"""How long a zip may stand in for a seam (common practice, no source)."""


def _line(case: Case, number: int) -> AgreedLine:
    session = the_session(case)
    line = session.plan.line(number) if session.plan is not None else None
    if line is None:
        raise Refused("Agree a plan with this food first.")
    return line


def next_numbers(session: SessionState, count: int) -> tuple[int, ...]:
    """The next `count` pouch numbers; a number is never used twice, not even of an emptied one."""
    first = max(session.pouches, default=0) + 1
    return tuple(range(first, first + count))


@facts_of.register
def _(command: c.FillPouches, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    line = _line(case, command.line)
    if command.count < 1:
        raise Refused("Count at least one pouch.")
    assert session.plan is not None, "a line was found in it"
    return (
        f.PouchesFilled(
            line=line.line,
            pouches=next_numbers(session, command.count),
            net_mass_g=command.net_mass_g,
            told_apart=session.plan.numbered,
        ),
    )


@facts_of.register
def _(command: c.CheckReady, case: Case) -> tuple[Fact, ...]:
    waiting = tuple(p.number for p in open_pouches(the_session(case)))
    if not waiting:
        raise Refused("No filled pouch stands open. Fill some before opening a packet.")
    return (f.ReadyChecked(pouches=waiting),)


def open_pouches(session: SessionState, line: int | None = None) -> tuple[Pouch, ...]:
    """Filled pouches that are neither shut nor sealed, by number."""
    return tuple(
        pouch
        for pouch in session.working_pouches(line)
        if pouch.shut is None and pouch.sealed is None
    )


# Rounds -------------------------------------------------------------------------------------------


@facts_of.register
def _(command: c.OpenPacket, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.exposure import open_limit

    session = the_session(case)
    packet = f"P{len(case.state.book.packets) + 1}"
    limit, limit_min = open_limit(session.plan, command.rating_cc, 0.0, command.room_c)
    return (
        f.PacketOpened(
            packet=packet,
            absorber=command.absorber,
            rating_cc=command.rating_cc,
            count=command.count,
            condition=command.condition,
        ),
        f.RoundStarted(
            round=len(session.rounds) + 1,
            source=packet,
            rating_cc=command.rating_cc,
            count=command.count,
            capacity_low_cc=float(command.rating_cc),
            capacity_likely_cc=float(command.rating_cc),
            limit=limit,
            limit_min=limit_min,
            room_c=command.room_c,
        ),
    )


@facts_of.register
def _(command: c.TakeRemainder, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.exposure import open_limit

    session = the_session(case)
    remainder = case.state.book.remainders.get(command.remainder)
    if remainder is None:
        raise Refused(f"There is no remainder {command.remainder}.")
    spent_cc = remainder.rating_cc - remainder.capacity_low_cc
    limit, limit_min = open_limit(session.plan, remainder.rating_cc, spent_cc, command.room_c)
    return (
        f.RoundStarted(
            round=len(session.rounds) + 1,
            source=remainder.remainder,
            rating_cc=remainder.rating_cc,
            count=remainder.count,
            capacity_low_cc=remainder.capacity_low_cc,
            capacity_likely_cc=remainder.capacity_likely_cc,
            limit=limit,
            limit_min=limit_min,
            room_c=command.room_c,
        ),
    )


@facts_of.register
def _(command: c.PlaceAbsorbers, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.exposure import capacity_left

    session = the_session(case)
    named_first = session.pouches.get(command.pouches[0]) if command.pouches else None
    line = _line(case, named_first.line if named_first is not None else command.line)
    if not line.absorbers_cc:
        raise Refused(f"{line.food_name} needs no absorber. Shut the pouches without one.")
    pouches = _chosen(session, line, command)
    round_, each = _round_for(session, line, pouches)
    last_at = case.when.at
    first_at = command.first_at or last_placing(case, round_)
    low_cc, likely_cc = capacity_left(round_, last_at)
    placed = f.AbsorbersPlaced(
        round=round_.round,
        pouches=pouches,
        each=each,
        first_at=min(first_at, last_at),
        last_at=last_at,
        capacity_low_cc=low_cc,
        capacity_likely_cc=likely_cc,
    )
    if not command.shut or _still_missing(session, line, pouches, round_, each):
        return (placed,)
    if line.zip:
        return (placed, f.PouchesShut(pouches=pouches, seal_within_min=SEAL_WITHIN_MIN))
    return (placed, f.PouchesSealed(pouches=pouches, seams=1, gap_left=False))


def _chosen(session: SessionState, line: AgreedLine, command: c.PlaceAbsorbers) -> tuple[int, ...]:
    if command.pouches:
        return command.pouches
    waiting = [
        pouch
        for pouch in open_pouches(session, line.line)
        if _missing(line, pouch) or not command.shut
    ]
    if not waiting:
        raise Refused(f"No open pouch of {line.food_name} waits for an absorber. Fill one first.")
    if not 1 <= command.count <= len(waiting):
        raise Refused(f"{len(waiting)} pouches wait for an absorber. Enter 1 to {len(waiting)}.")
    return tuple(pouch.number for pouch in waiting[: command.count])


def _missing(line: AgreedLine, pouch: Pouch) -> Counter[int]:
    """Absorbers a pouch still lacks, by rating."""
    placed = Counter({each.rating_cc: 0 for each in pouch.placed})
    for each in pouch.placed:
        placed[each.rating_cc] += each.each
    return Counter(line.absorbers_cc) - placed


def _round_for(
    session: SessionState, line: AgreedLine, pouches: tuple[int, ...]
) -> tuple[Round, int]:
    """The open round whose absorbers these pouches lack, and how many go into each."""
    lacking: Counter[int] = Counter()
    for number in pouches:
        if number in session.pouches:
            lacking |= _missing(line, session.pouches[number])
    rounds = [round_ for round_ in session.rounds.values() if round_.left]
    for round_ in rounds:
        if lacking[round_.rating_cc]:
            return round_, lacking[round_.rating_cc]
    if not rounds:
        raise Refused("No packet is open. Open one first.")
    if not lacking:
        return rounds[0], 1
    wanted = " and ".join(f"{rating} cc" for rating in sorted(lacking, reverse=True))
    raise Refused(
        f"The open absorbers are rated {rounds[0].rating_cc} cc; "
        f"{line.food_name} is planned with {wanted}. Open a packet of those."
    )


def _still_missing(
    session: SessionState, line: AgreedLine, pouches: tuple[int, ...], round_: Round, each: int
) -> bool:
    going_in = Counter({round_.rating_cc: each})
    return any(
        _missing(line, session.pouches[number]) - going_in
        for number in pouches
        if number in session.pouches
    )


def last_placing(case: Case, round_: Round) -> datetime:
    """When absorbers of the round last went in; when it was opened, if none has yet."""
    times = [
        entry.fact.last_at
        for entry in case.entries
        if isinstance(entry.fact, f.AbsorbersPlaced) and entry.fact.round == round_.round
    ]
    return max([at for at in times if at >= round_.started.utc], default=round_.started.utc)


@facts_of.register
def _(command: c.ShutPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.PouchesShut(pouches=command.pouches, seal_within_min=SEAL_WITHIN_MIN),)


@facts_of.register
def _(command: c.ShutRemainder, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.exposure import capacity_left

    session = the_session(case)
    round_ = session.rounds.get(command.round)
    if round_ is None or not round_.left:
        raise Refused("No absorbers lie open.")
    packet = case.state.book.packets.get(round_.source)
    earlier = case.state.book.remainders.get(round_.source)
    low_cc, likely_cc = capacity_left(round_, case.when.at)
    if earlier is not None:
        absorber, oldest = earlier.absorber, earlier.oldest_opening
    else:
        assert packet is not None, "a round starts from a packet or a remainder"
        absorber, oldest = packet.absorber, packet.opened.utc
    return (
        f.RemainderShut(
            session=session.session,
            round=round_.round,
            remainder=f"R{len(case.state.book.remainders) + 1}",
            absorber=absorber,
            rating_cc=round_.rating_cc,
            count=round_.left if command.count is None else command.count,
            oldest_opening=oldest,
            capacity_low_cc=low_cc,
            capacity_likely_cc=likely_cc,
        ),
    )


# Sealing ------------------------------------------------------------------------------------------


@facts_of.register
def _(command: c.SealPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (
        f.PouchesSealed(pouches=command.pouches, seams=command.seams, gap_left=command.gap_left),
    )


@facts_of.register
def _(command: c.DrawOffAir, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.AirDrawnOff(pouches=command.pouches),)
