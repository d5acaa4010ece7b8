"""How many pouches suit one round: the pace of the hands, and how long a packet may lie open."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from math import floor

from packdesk.session.figures import AgreedLine
from packdesk.session.once import once
from packdesk.session.state import Round, SessionState

USUAL_S = 30.0
"""Seconds one person takes to drop absorbers in, press the air out and shut a pouch (common
practice, no source)."""

ENOUGH_SHUT = 3
"""So many pouches tell the pace of this session; fewer may have been a slow start."""

LONGEST_EACH_S = 300.0
"""A round that took longer for each of its pouches was left lying, and tells no pace (own
judgement)."""


@dataclass(frozen=True, slots=True)
class Pace:
    """Seconds a pouch takes, and whether that was measured in this session."""

    each_s: float
    measured: bool


@dataclass(frozen=True, slots=True)
class RoundSize:
    """How many pouches can be shut (`most_in_time`) in the minutes a packet may lie open."""

    pace: Pace
    limit_min: float
    most_in_time: int
    each: int

    def suits(self, absorbers: int) -> int:
        """How many pouches a packet of so many absorbers is good for in one round."""
        return min(self.most_in_time, absorbers // self.each)


@once
def pace(session: SessionState, hands: int = 1) -> Pace:
    """The seconds a pouch takes with `hands` people (1 or more), from this session's own rounds.

    Measured is from opening to the last absorber in, times the people who were to work at it; it
    is spread over other hands evenly. Without pouches enough the usual figure stands, and a round
    that was left lying does not count.
    """
    rounds = {number: each for number, each in session.rounds.items() if not _left_lying(each)}
    placed = [
        each.round
        for pouch in session.pouches.values()
        for each in (*pouch.placed, *pouch.spent)
        if each.round in rounds
    ]
    if len(placed) < ENOUGH_SHUT:
        return Pace(USUAL_S / hands, measured=False)
    person_s = sum(
        (rounds[number].last_at - rounds[number].started.utc).total_seconds() * rounds[number].hands
        for number in set(placed)
    )
    if person_s <= 0.0:
        return Pace(USUAL_S / hands, measured=False)
    return Pace(round(person_s / len(placed) / hands, 1), measured=True)


def _left_lying(round_: Round) -> bool:
    passed_s = (round_.last_at - round_.started.utc).total_seconds()
    return passed_s > LONGEST_EACH_S * max(1, round_.served)


def one_by_one(session: SessionState, line: AgreedLine) -> bool:
    """Whether every pouch of `line` is done with by a press of its own."""
    return line.liner or (session.plan is not None and session.plan.numbered)


def still_in_time(
    session: SessionState, line: AgreedLine, round_: Round, waiting: int, at: datetime
) -> int:
    """How many more pouches of `line` can be shut while the absorbers of `round_` may lie open.

    At the pace of the round's own pouches once they are enough to tell it, else at the usual one.
    Reckoned from the last absorber in for as long as the `waiting` pouches that fit take, so that
    it stands still while they are worked at as a group; after that nobody is at work, and it is
    reckoned from `at`.
    """
    passed_s = (round_.last_at - round_.started.utc).total_seconds()
    measured = round_.served >= ENOUGH_SHUT and passed_s > 0.0
    each_s = passed_s / round_.served if measured else pace(session, round_.hands).each_s
    fit = max(0, floor((round_.limit_min * 60.0 - passed_s) / each_s))
    group = min(1 if one_by_one(session, line) else fit, fit, waiting)
    since_s = (at - round_.last_at).total_seconds()
    if since_s <= group * each_s:
        return fit
    return max(0, floor((round_.limit_min * 60.0 - passed_s - since_s) / each_s))


def round_size(session: SessionState, line: AgreedLine, hands: int = 1) -> RoundSize:
    """How many pouches of `line` one round can take with `hands` people, in the room as read."""
    from packdesk.session.exposure import open_limit  # loads numpy

    found = pace(session, max(1, hands))
    if not line.absorbers_cc:
        return RoundSize(found, 0.0, 0, 1)
    rating = line.absorbers_cc[0]
    readings, plan = session.room_readings, session.plan
    planned_c = plan.packing_temp_c if plan is not None else 21.0
    room_c = readings[-1].temp_c if readings else planned_c
    _, limit_min = open_limit(plan, rating, 0.0, room_c)
    return RoundSize(
        pace=found,
        limit_min=limit_min,
        most_in_time=floor(limit_min * 60.0 / found.each_s),
        each=line.absorbers_cc.count(rating),
    )
