"""How many of the absorbers that lie open a pouch takes, where one is not all that it should be."""

from __future__ import annotations

import math

from packdesk.session.figures import AgreedLine
from packdesk.session.state import Round

MOST_FOLD = 3
"""Beyond this many for each planned one another packet is the better way (own judgement)."""


def each_for_sure(line: AgreedLine, round_: Round) -> int:
    """How many absorbers of a round meet a pouch's need, as little as they may have at opening.

    As many as planned where those do, and where the round is not to blame: its absorbers have
    their full rating. 0 where the plan line takes none of this rating.
    """
    planned = line.absorbers_cc.count(round_.rating_cc)
    low_cc = round_.capacity_low_cc
    if not planned or low_cc >= round_.rating_cc:
        return planned
    others_cc = sum(line.absorbers_cc) - planned * round_.rating_cc
    wanted_cc = line.oxygen_need_cc - others_cc
    if low_cc <= 0.0:
        return planned if wanted_cc <= 0.0 else planned * MOST_FOLD + 1
    return max(planned, math.ceil(wanted_cc / low_cc - 1e-9))


def within_reach(planned: int, each: int, round_: Round) -> bool:
    """Whether `each` in every pouch is sensible, and one pouch at least can have them."""
    return each <= planned * MOST_FOLD and each <= round_.left


def each_taken(line: AgreedLine, round_: Round) -> int:
    """How many absorbers of a round the next pouch is to get: as planned, or more where doubted."""
    planned, sure = line.absorbers_cc.count(round_.rating_cc), each_for_sure(line, round_)
    return sure if within_reach(planned, sure, round_) else planned
