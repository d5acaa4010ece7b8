"""How many pouches suit one round: the pace of the hands, and how long a packet may lie open."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from math import floor

from packdesk.session.figures import AgreedLine
from packdesk.session.pace import Pace, pace, round_pace
from packdesk.session.packing_room import known_room_c
from packdesk.session.state import Round, SessionState

SLOWER = 1.5
"""Hands may be slower than reckoned by so much before their group is taken to be forgotten (own
judgement)."""


@dataclass(frozen=True, slots=True)
class RoundSize:
    """How many pouches can be shut (`most_in_time`) in the `limit_min` a packet may lie open.

    `each` absorbers of it go into a pouch, 1 or more.
    """

    pace: Pace
    limit_min: float
    most_in_time: int
    each: int

    def suits(self, absorbers: int) -> int:
        """How many pouches a packet of so many absorbers is good for in one round."""
        return min(self.most_in_time, absorbers // self.each)


def one_by_one(session: SessionState, line: AgreedLine) -> bool:
    """Whether every pouch of `line` is done with by a press of its own."""
    return line.liner or (session.plan is not None and session.plan.numbered)


def at_work_since(
    session: SessionState, line: AgreedLine, round_: Round, waiting: int, at: datetime
) -> datetime:
    """Since when the hands are at the group of `waiting` pouches of `line` that is entered next.

    Since the last absorber went in, for as long as those that fit may take slow hands too: so what
    is reckoned from it stands still while they are at work. After that nobody is: since `at`.
    """
    each_s = round_pace(session, round_).each_s
    group = min(1 if one_by_one(session, line) else waiting, _fit(round_, round_.last_at, each_s))
    since_s = (at - round_.last_at).total_seconds()
    return round_.last_at if since_s <= SLOWER * group * each_s else at


def still_in_time(
    session: SessionState, line: AgreedLine, round_: Round, waiting: int, at: datetime
) -> int:
    """How many more pouches of `line` can be shut while the absorbers of `round_` may lie open.

    `waiting` of them are entered next.
    """
    since = at_work_since(session, line, round_, waiting, at)
    return _fit(round_, since, round_pace(session, round_).each_s)


def _fit(round_: Round, since: datetime, each_s: float) -> int:
    return max(0, floor((round_.due - since).total_seconds() / each_s))


def round_size(session: SessionState, line: AgreedLine, hands: int = 1) -> RoundSize:
    """How many pouches of `line` one round can take with `hands` people, in the room as read."""
    from packdesk.session.exposure import open_limit  # loads numpy

    found = pace(session, max(1, hands))
    if not line.absorbers_cc:
        return RoundSize(found, 0.0, 0, 1)
    rating = line.absorbers_cc[0]
    _, limit_min = open_limit(session.plan, rating, 0.0, known_room_c(session))
    return RoundSize(
        pace=found,
        limit_min=limit_min,
        most_in_time=floor(limit_min * 60.0 / found.each_s),
        each=line.absorbers_cc.count(rating),
    )
