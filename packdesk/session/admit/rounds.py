"""Which entries about packets, rounds and absorbers fit."""

from __future__ import annotations

from datetime import datetime

from packdesk.session import facts as f
from packdesk.session.admit.pouches import (
    after_filling,
    each,
    must_be_open,
    must_have_absorbers,
)
from packdesk.session.admit.rule import (
    MINUTES_A_DAY,
    not_before,
    not_outside,
    rule,
    the_session,
)
from packdesk.session.state import Round, State

MISCOUNTED = 5
"""By how many more than reckoned a packet may turn out to have held, pouches left out included."""


@rule.register
def _(fact: f.PacketOpened, state: State, at: datetime) -> str:
    if fact.packet in state.book.packets:
        return f"Packet {fact.packet} was opened already. Give this one the next number."
    if fact.count < 1 or fact.rating_cc < 1:
        return "A packet holds at least one absorber, rated 1 cc or more."
    return ""


@rule.register
def _(fact: f.RemainderTaken, state: State, at: datetime) -> str:
    remainder = state.book.remainders.get(fact.remainder)
    if remainder is None:
        return f"There is no jar {fact.remainder}. Open a packet."
    if remainder.taken:
        return f"Jar {fact.remainder} was taken already. Open a packet."
    return not_before(at, remainder.shut_at, f"jar {fact.remainder} was shut up")


@rule.register
def _(fact: f.RoundStarted, state: State, at: datetime) -> str:
    session, book = the_session(state), state.book
    if fact.round in session.rounds:
        return f"Round {fact.round} is started already. Take the next number."
    if fact.source not in book.packets and fact.source not in book.remainders:
        return f"There is no packet or jar {fact.source}. Open a packet first."
    if any(round_.source == fact.source for round_ in session.rounds.values()):
        return f"{fact.source} has its round already. Open another packet."
    if fact.count < 1:
        return "A round needs at least one absorber."
    return not_outside(fact.limit_min, 0.0, MINUTES_A_DAY, "A time in the open", "min")


@rule.register
def _(fact: f.AbsorbersPlaced, state: State, at: datetime) -> str:
    round_ = the_session(state).rounds.get(fact.round)
    if round_ is None:
        return "No packet is open. Open one first."
    if fact.each < 1:
        return "Say how many absorbers went into each pouch."
    if fact.each * len(fact.pouches) > round_.left:
        return _too_few(round_, fact.each)
    if fact.last_at < fact.first_at:
        return "The last absorber cannot go in before the first. Check the times."
    return not_before(fact.first_at, round_.started.utc, "the absorbers were opened") or each(
        state, fact.pouches, must_be_open, after_filling(at)
    )


def _too_few(round_: Round, per_pouch: int) -> str:
    enough = round_.left // per_pouch
    cure = f"enough for {enough}. Enter fewer." if enough else "too few. Open another packet."
    return f"Round {round_.round} has {round_.left} absorbers left, {cure}"


@rule.register
def _(fact: f.PouchesShut, state: State, at: datetime) -> str:
    return each(
        state, fact.pouches, must_be_open, must_have_absorbers, after_filling(at)
    ) or not_outside(fact.seal_within_min, 0.0, MINUTES_A_DAY, "A time without a seam", "min")


def _not_so_many(round_: Round) -> str:
    return (
        f"Round {round_.round} has {round_.left} absorbers left, and at most "
        f"{round_.left + MISCOUNTED} can be found. Count again."
    )


@rule.register
def _(fact: f.RemainderShut, state: State, at: datetime) -> str:
    if fact.count and fact.remainder in state.book.remainders:
        return f"Jar {fact.remainder} is in the book already. Take the next number."
    if state.session is None or fact.session != state.session.session:
        return ""
    round_ = state.session.rounds.get(fact.round)
    if round_ is None or round_.shut_up or not (round_.left or fact.count):
        return "No absorbers lie open. There is nothing to shut up."
    if not 0 <= fact.count <= round_.left + MISCOUNTED:
        return _not_so_many(round_)
    return not_before(at, round_.last_at, "the last absorber went into a pouch")
