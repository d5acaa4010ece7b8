"""How many of the absorbers that lie open a pouch takes, where one is not all that it should be."""

from __future__ import annotations

import math
from datetime import datetime

from packdesk.session.figures import AgreedLine
from packdesk.session.state import Plan, Round

MOST_FOLD = 3
"""Beyond this many for each planned one another packet is the better way (own judgement)."""


def lasting_low_cc(plan: Plan | None, round_: Round, at: datetime) -> float:
    """As little as one absorber may have left (cc) at the end of its round's time, or at a later
    `at`: so what is said of it holds until then."""
    from packdesk.session.exposure import capacity_left, pressure_of  # loads numpy

    return capacity_left(round_, max(at, round_.due), pressure_of(plan))[0]


def each_for_sure(line: AgreedLine, round_: Round, plan: Plan | None, at: datetime) -> int:
    """How many absorbers of a round meet a pouch's need at `at` and until the round's time is over.

    As many as planned where those do, and where the round is not to blame: its absorbers have
    their full rating. 0 where the plan line takes none of this rating.
    """
    planned = line.absorbers_cc.count(round_.rating_cc)
    if not planned or round_.capacity_low_cc >= round_.rating_cc:
        return planned
    low_cc = lasting_low_cc(plan, round_, at)
    others_cc = sum(line.absorbers_cc) - planned * round_.rating_cc
    wanted_cc = line.oxygen_need_cc - others_cc
    if low_cc <= 0.0:
        return planned if wanted_cc <= 0.0 else planned * MOST_FOLD + 1
    return max(planned, math.ceil(wanted_cc / low_cc - 1e-9))


def within_reach(planned: int, each: int, round_: Round) -> bool:
    """Whether `each` in every pouch is sensible, and one pouch at least can have them."""
    return each <= planned * MOST_FOLD and each <= round_.left


def each_taken(line: AgreedLine, round_: Round, plan: Plan | None, at: datetime) -> int:
    """How many absorbers of a round the next pouch is to get: as planned, or more where doubted."""
    planned = line.absorbers_cc.count(round_.rating_cc)
    sure = each_for_sure(line, round_, plan, at)
    return sure if within_reach(planned, sure, round_) else planned
