"""What absorbers lose while they lie open, and how long they may.

Importing this loads numpy, so `decide` imports it where it is needed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

import numpy as np

from packdesk.physics import absorber, air
from packdesk.physics.absorber import PRACTICE_CAP_MINUTES, BehindZip, LimitedBy, ShutIn, Stretch
from packdesk.physics.uptake import PUBLISHED_UPTAKE
from packdesk.session.account import in_pieces
from packdesk.session.book_state import Remainder
from packdesk.session.figures import AgreedLine
from packdesk.session.state import Plan, Round
from packdesk.session.supply import MOST_FOLD
from packdesk.session.terms import OpenLimit, Vessel

LONGEST_MIN = 100_000.0
"""Ten weeks: absorbers forgotten for longer have nothing left that could be reckoned with."""

WORTH_SHARE = 0.5
"""A time in the open that is shorter than this share of a sound packet's is too short to work in:
more absorbers go into each pouch, so that it is longer (own judgement)."""


@dataclass(frozen=True, slots=True)
class OpenTime:
    """How long opened absorbers may lie, and which limit that is.

    `margin_min` is the margin's own limit (None: no plan line uses them, or it needs nothing);
    `more_each` whether it takes more of them in a pouch than planned.
    """

    limit: OpenLimit
    limit_min: float
    margin_min: float | None
    more_each: bool = False


def open_limit(
    plan: Plan | None, rating_cc: int, spent_cc: float, room_c: float
) -> tuple[OpenLimit, float]:
    """Which limit comes first for opened absorbers of `rating_cc`, and after how many minutes."""
    found = open_time(plan, rating_cc, spent_cc, room_c)
    return found.limit, found.limit_min


def open_time(plan: Plan | None, rating_cc: int, spent_cc: float, room_c: float) -> OpenTime:
    """How long opened absorbers of `rating_cc` may lie open.

    `spent_cc` is what one of them has lost already, or is not counted on for. As many go into a
    pouch as planned, or more where those would have too little time. The plan line with the least
    margin among those that use this rating decides; with none, the practice cap stands alone. So
    it does where no number is enough: a margin that was never there is said, but rings no alarm.
    """
    users = [
        line for line in (plan.lines if plan is not None else ()) if rating_cc in line.absorbers_cc
    ]
    pressure_pa = pressure_of(plan)
    found = [_few_that_last(line, rating_cc, spent_cc, room_c, pressure_pa) for line in users]
    limits = [limit for limit, _ in found]
    if not limits:
        return OpenTime(OpenLimit.PRACTICE_CAP, PRACTICE_CAP_MINUTES, None)
    margin_min = min(limit.margin_minutes for limit in limits)
    # Rounded as they are kept: a margin of two seconds is none.
    there = [limit for limit in limits if round(limit.margin_minutes, 1) > 0.0]
    first = min(there, key=lambda limit: limit.minutes, default=None)
    margin = first is not None and first.limited_by is LimitedBy.MARGIN
    return OpenTime(
        limit=OpenLimit.MARGIN if margin else OpenLimit.PRACTICE_CAP,
        limit_min=round(first.minutes, 1) if first is not None else PRACTICE_CAP_MINUTES,
        margin_min=round(margin_min, 1) if math.isfinite(margin_min) else None,
        more_each=any(more_each for _, more_each in found),
    )


def _few_that_last(
    line: AgreedLine, rating_cc: int, spent_cc: float, room_c: float, pressure_pa: float
) -> tuple[absorber.OpenLimit, bool]:
    """How long the absorbers of one pouch may lie, and whether they are more than planned.

    So few of them as leave a time worth working in: just these `supply` asks for until it is over.
    Sound ones go in as planned.
    """
    planned = line.absorbers_cc.count(rating_cc)

    def lies(each: int, spent_cc: float) -> absorber.OpenLimit:
        holds_cc = sum(line.absorbers_cc) + (each - planned) * rating_cc - each * spent_cc
        return absorber.open_limit(
            max(0.0, holds_cc), line.oxygen_need_cc, room_c, pressure_pa=pressure_pa
        )

    worth_min = WORTH_SHARE * lies(planned, 0.0).minutes
    for each in range(planned, planned * MOST_FOLD):
        found = lies(each, spent_cc)
        worth = found.minutes >= worth_min and round(found.margin_minutes, 1) > 0.0
        if worth or not spent_cc:
            return found, each > planned
    return lies(planned * MOST_FOLD, spent_cc), True


def pressure_of(plan: Plan | None) -> float:
    """The pressure of the air where the plan is carried out (Pa); of sea level without one."""
    return air.STANDARD_PRESSURE_PA if plan is None else _pressure_at(plan.elevation_m)


@lru_cache(maxsize=16)
def _pressure_at(elevation_m: float) -> float:
    return float(air.pressure_at_elevation_pa(elevation_m))


def capacity_left(
    round_: Round, at: datetime, pressure_pa: float = air.STANDARD_PRESSURE_PA
) -> tuple[float, float]:
    """What one absorber of the round has left at `at` (cc of oxygen): low, likely."""
    minutes = (at - round_.started.utc).total_seconds() / 60.0
    minutes = min(max(0.0, minutes), LONGEST_MIN)
    low = absorber.capacity_after_open_cc(
        round_.capacity_low_cc,
        minutes,
        round_.room_c,
        uptake_25_per_h=PUBLISHED_UPTAKE.high,
        pressure_pa=pressure_pa,
    )
    likely = absorber.capacity_after_open_cc(
        round_.capacity_likely_cc,
        minutes,
        round_.room_c,
        uptake_25_per_h=PUBLISHED_UPTAKE.likely,
        pressure_pa=pressure_pa,
    )
    return _tenth_down(low), _tenth_down(likely)


AIR_IN_VESSEL_CC = {
    Vessel.PINT_JAR: 450.0,
    Vessel.QUART_JAR: 950.0,
    Vessel.SEALED_POUCH: 200.0,
    Vessel.PRESSED_POUCH: 200.0,
}
"""The air that is shut up with a remainder: of a jar all it holds, since a few absorbers take next
to no room; of a pouch pressed flat what stays (own judgement, no source)."""


def left_in_vessel(
    remainder: Remainder, at: datetime, room_c: float, pressure_pa: float
) -> tuple[float, float]:
    """What one absorber of a remainder has left when it is taken out at `at`: low, likely.

    All of them share the air that was shut up with them; where that is not known nothing is
    taken off for it.
    """
    if not remainder.gas_cc:
        return remainder.capacity_low_cc, remainder.capacity_likely_cc
    minutes = max(0.0, (at - remainder.shut_at).total_seconds() / 60.0)
    leaky = remainder.vessel is Vessel.PRESSED_POUCH
    kind: type[ShutIn] | type[BehindZip] = BehindZip if leaky else ShutIn
    history: list[Stretch] = []
    for piece in in_pieces(minutes):
        still = bool(history)
        history.append(
            kind(piece, room_c, remainder.gas_cc, still_shut=still, pressure_pa=pressure_pa)
        )
    each = np.array([remainder.capacity_low_cc, remainder.capacity_likely_cc])
    uptake = np.array([PUBLISHED_UPTAKE.high, PUBLISHED_UPTAKE.likely])
    found = absorber.exposure(each * remainder.count, history, uptake_25_per_h=uptake)
    low, likely = np.asarray(found.left_cc) / remainder.count
    return _tenth_down(float(low)), _tenth_down(float(likely))


def _tenth_down(figure: float) -> float:
    """One figure after the point, never rounded up: a record must not make capacity."""
    return math.floor(figure * 10.0 + 1e-6) / 10.0
