"""What absorbers lose while they lie open, and how long they may.

Importing this loads numpy, so `decide` imports it where it is needed.
"""

from __future__ import annotations

from datetime import datetime

from packdesk.physics import absorber, air
from packdesk.physics.absorber import PRACTICE_CAP_MINUTES, LimitedBy
from packdesk.physics.uptake import PUBLISHED_UPTAKE
from packdesk.session.state import Plan, Round
from packdesk.session.terms import OpenLimit

LONGEST_MIN = 100_000.0
"""Ten weeks: absorbers forgotten for longer have nothing left that could be reckoned with."""


def open_limit(
    plan: Plan | None, rating_cc: int, spent_cc: float, room_c: float
) -> tuple[OpenLimit, float]:
    """Which limit comes first for opened absorbers of `rating_cc`, and after how many minutes.

    `spent_cc` is what one of them has lost already. The plan line with the least margin among
    those that use this rating decides; with none, the practice cap stands alone.
    """
    users = [
        line for line in (plan.lines if plan is not None else ()) if rating_cc in line.absorbers_cc
    ]
    pressure_pa = float(air.pressure_at_elevation_pa(plan.elevation_m)) if plan else 101_325.0
    limits = [
        absorber.open_limit(
            max(0.0, sum(line.absorbers_cc) - spent_cc * line.absorbers_cc.count(rating_cc)),
            line.oxygen_need_cc,
            room_c,
            pressure_pa=pressure_pa,
        )
        for line in users
    ]
    if not limits:
        return OpenLimit.PRACTICE_CAP, PRACTICE_CAP_MINUTES
    first = min(limits, key=lambda limit: limit.minutes)
    margin = first.limited_by is LimitedBy.MARGIN
    return (
        OpenLimit.MARGIN if margin else OpenLimit.PRACTICE_CAP,
        round(first.minutes, 1),
    )


def capacity_left(round_: Round, at: datetime) -> tuple[float, float]:
    """What one absorber of the round has left at `at` (cc of oxygen): low, likely."""
    minutes = (at - round_.started.utc).total_seconds() / 60.0
    minutes = min(max(0.0, minutes), LONGEST_MIN)
    low = absorber.capacity_after_open_cc(
        round_.capacity_low_cc, minutes, round_.room_c, uptake_25_per_h=PUBLISHED_UPTAKE.high
    )
    likely = absorber.capacity_after_open_cc(
        round_.capacity_likely_cc, minutes, round_.room_c, uptake_25_per_h=PUBLISHED_UPTAKE.likely
    )
    return round(low, 1), round(likely, 1)
