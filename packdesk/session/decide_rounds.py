"""Decisions about rounds: a packet opened, absorbers placed, the remainder shut up.

The absorber calculation is imported inside the rules that need it, so that the window can open
before numpy is loaded.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import datetime

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.decide_packing import SEAL_WITHIN_MIN, line_in, open_pouches
from packdesk.session.fact import Fact
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, lying_in_turn
from packdesk.session.numbers import listed
from packdesk.session.packets import spent, trusted_cc
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState


@facts_of.register
def _(command: c.OpenPacket, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    packet = _next_name("P", case.state.book.packets)
    opened = f.PacketOpened(
        packet=packet,
        absorber=command.absorber,
        rating_cc=command.rating_cc,
        count=command.count,
        condition=command.condition,
        indicator=command.indicator,
        feel=command.feel,
        session=session.session,
    )
    if spent(command.feel):
        return (opened,)
    holds_cc = trusted_cc(command.rating_cc, command.condition, command.indicator)
    return (
        opened,
        _started(session, packet, command.rating_cc, command.count, holds_cc, command.room_c),
    )


@facts_of.register
def _(command: c.TakeRemainder, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.exposure import left_in_vessel, pressure_of

    session = the_session(case)
    remainder = case.state.book.remainders.get(command.remainder)
    if remainder is None:
        raise Refused(f"There is no jar {command.remainder}. Open a packet.")
    holds_cc = left_in_vessel(remainder, case.when.at, command.room_c, pressure_of(session.plan))
    return (
        f.RemainderTaken(session=session.session, remainder=remainder.remainder),
        _started(
            session,
            remainder.remainder,
            remainder.rating_cc,
            remainder.count,
            holds_cc,
            command.room_c,
        ),
    )


def _started(
    session: SessionState,
    source: str,
    rating_cc: int,
    count: int,
    holds_cc: tuple[float, float],
    room_c: float,
) -> f.RoundStarted:
    """A round of `count` absorbers, each of which still takes up `holds_cc` (low and likely).

    What nobody can count on is no margin: doubt takes it off as an hour in the open would.
    """
    from packdesk.session.exposure import open_time

    low_cc, likely_cc = holds_cc
    lies = open_time(session.plan, rating_cc, rating_cc - low_cc, room_c)
    return f.RoundStarted(
        round=_next_round(session),
        source=source,
        rating_cc=rating_cc,
        count=count,
        capacity_low_cc=low_cc,
        capacity_likely_cc=likely_cc,
        limit=lies.limit,
        limit_min=lies.limit_min,
        room_c=room_c,
        margin_min=lies.margin_min,
        more_each=lies.more_each,
    )


def _next_round(session: SessionState) -> int:
    return max(session.rounds, default=0) + 1


def _next_name(letter: str, names: Iterable[str]) -> str:
    """The next of `P1`, `P2`, …; one that was voided may leave a hole, which stays."""
    numbers = [int(name.removeprefix(letter)) for name in names if name[1:].isdecimal()]
    return f"{letter}{max(numbers, default=0) + 1}"


@facts_of.register
def _(command: c.PlaceAbsorbers, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.exposure import capacity_left, pressure_of

    session = the_session(case)
    line = _line(session, command)
    if not line.absorbers_cc:
        raise Refused(f"No absorber goes into {line.food_name}. Shut the pouches without one.")
    pouches = _chosen(session, line, command)
    lacked = _all_lack(line, pouches)
    last_at = case.when.at
    round_, each = _round_for(session, line, lacked, last_at, command.round)
    each = command.each if command.each is not None else each
    open_until = case.at_most_since(round_.started, round_.limit_min * 60.0)
    low_cc, likely_cc = capacity_left(round_, open_until, pressure_of(session.plan))
    numbers = tuple(pouch.number for pouch in pouches)
    placed = f.AbsorbersPlaced(
        round=round_.round,
        pouches=numbers,
        each=each,
        first_at=command.first_at or min(_hands_free(session, round_), last_at),
        last_at=last_at,
        capacity_low_cc=low_cc,
        capacity_likely_cc=likely_cc,
    )
    if not command.shut or lacked - Counter({round_.rating_cc: each}):
        return (placed,)
    if line.zip:
        return (placed, f.PouchesShut(pouches=numbers, seal_within_min=SEAL_WITHIN_MIN))
    return (placed, f.PouchesSealed(pouches=numbers, seams=1, gap_left=False))


def _hands_free(session: SessionState, round_: Round) -> datetime:
    """When the last absorber before these went in, of whichever packet lies open beside it."""
    beside = [r.last_at for r in session.rounds.values() if r.rating_cc == round_.rating_cc]
    return max(round_.last_at, *beside)


def _line(session: SessionState, command: c.PlaceAbsorbers) -> AgreedLine:
    """The plan line of the pouches named, or the one asked for."""
    named = {session.pouches[n].line for n in command.pouches if n in session.pouches}
    if len(named) > 1:
        raise Refused("These pouches hold different foods. Enter one food at a time.")
    return line_in(session, named.pop() if named else command.line)


def _chosen(
    session: SessionState, line: AgreedLine, command: c.PlaceAbsorbers
) -> tuple[Pouch, ...]:
    if command.pouches:
        unknown = [number for number in command.pouches if number not in session.pouches]
        if unknown:
            raise Refused(f"{listed(unknown)} not filled yet. Choose filled ones.")
        return tuple(session.pouches[number] for number in command.pouches)
    waiting = [
        pouch
        for pouch in open_pouches(session, line.line)
        if lacking(line, pouch) or not command.shut
    ]
    if not waiting:
        raise Refused(f"No open pouch of {line.food_name} waits for an absorber. Fill one first.")
    if not 1 <= command.count <= len(waiting):
        raise Refused(_how_many(len(waiting)))
    alike = [pouch for pouch in waiting if lacking(line, pouch) == lacking(line, waiting[0])]
    return tuple(alike[: command.count])


def _how_many(waiting: int) -> str:
    if waiting == 1:
        return "1 pouch waits for an absorber. Enter 1."
    return f"{waiting} pouches wait for an absorber. Enter 1 to {waiting}."


def _all_lack(line: AgreedLine, pouches: Iterable[Pouch]) -> Counter[int]:
    """What every one of the pouches lacks; refused where they differ."""
    lacked = [lacking(line, pouch) for pouch in pouches]
    if any(each != lacked[0] for each in lacked):
        raise Refused("These pouches do not lack the same absorbers. Enter those that do together.")
    return lacked[0]


def _round_for(
    session: SessionState, line: AgreedLine, lacked: Counter[int], at: datetime, picked: int | None
) -> tuple[Round, int]:
    """The open round whose absorbers are lacking, and how many go into each pouch.

    Of several that would do it is the one picked, or else the one whose turn it is. Where none is
    lacking one more of any open round goes in: that is how a tired one is helped. A round with
    fewer left than one pouch lacks gives what it has; the next packet gives the rest.
    """
    rounds = lying_in_turn(session, at)
    if picked is not None:
        rounds = tuple(round_ for round_ in rounds if round_.round == picked)
        if not rounds:
            raise Refused(f"Of round {picked} no absorbers lie open. Take from another.")
    if not rounds:
        raise Refused("No packet is open. Open one first.")
    if not lacked:
        return rounds[0], 1
    for round_ in rounds:
        if lacked[round_.rating_cc]:
            return round_, min(round_.left, lacked[round_.rating_cc])
    wanted = " and ".join(f"{rating} cc" for rating in sorted(lacked, reverse=True))
    raise Refused(
        f"The open absorbers are rated {rounds[0].rating_cc} cc; "
        f"the plan has {wanted} for {line.food_name}. Open a packet of those."
    )


@facts_of.register
def _(command: c.ShutRemainder, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.exposure import AIR_IN_VESSEL_CC, capacity_left, pressure_of

    session = the_session(case)
    round_ = session.rounds.get(command.round)
    if round_ is None or not (round_.left or command.count):
        raise Refused("No absorbers lie open. There is nothing to shut up.")
    book = case.state.book
    open_until = case.at_most_since(round_.started, round_.limit_min * 60.0)
    low_cc, likely_cc = capacity_left(round_, open_until, pressure_of(session.plan))
    count = round_.left if command.count is None else command.count
    vessel = command.vessel if count else None
    earlier = book.remainders.get(round_.source)
    if earlier is not None:
        absorber, oldest, first = earlier.absorber, earlier.oldest_opening, earlier.packet
    else:
        packet = book.packets[round_.source]
        absorber, oldest, first = packet.absorber, packet.opened.utc, packet.packet
    return (
        f.RemainderShut(
            session=session.session,
            round=round_.round,
            remainder=_next_name("R", book.remainders),
            absorber=absorber,
            rating_cc=round_.rating_cc,
            count=count,
            oldest_opening=oldest,
            capacity_low_cc=low_cc,
            capacity_likely_cc=likely_cc,
            vessel=vessel,
            gas_cc=AIR_IN_VESSEL_CC[vessel] if vessel is not None else 0.0,
            place=command.place.strip() if count else "",
            reckoned=round_.left if count != round_.left else None,
            packet=first,
        ),
    )
