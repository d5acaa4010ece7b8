"""How many of the absorbers that lie open a pouch takes, where one is not all that it should be."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache

from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, lying_in_turn
from packdesk.session.pouch import Pouch
from packdesk.session.state import Plan, Round, SessionState
from packdesk.session.verdicts import own_need, verdict

MOST_FOLD = 3
"""Beyond this many for each planned one another packet is the better way (own judgement)."""

ROUNDED = timedelta(minutes=0.05)
"""A round's time is kept to the tenth of a minute: by so much it may end too late."""

ROUNDED_CC = 0.1
"""What an absorber has left is kept to a tenth, rounded down."""


@dataclass(frozen=True, slots=True)
class Supply:
    """What a round has for one pouch: `planned` absorbers that it lacks, or `sure` where so many
    make sure; more than `most` are not sensible.

    One of them is counted on for `low_cc` when it goes in last (cc of oxygen; not asked, and 0,
    where the round is sound), what goes in beside them of other ratings for `beside_cc`; the
    pouch needs `need_cc`.
    """

    planned: int
    sure: int
    most: int
    low_cc: float = 0.0
    beside_cc: float = 0.0
    need_cc: float = 0.0

    @property
    def more(self) -> bool:
        """Whether more than planned make sure."""
        return self.sure > self.planned

    def taken(self, left: int) -> int:
        """How many the pouch is to get of `left`; 0 where too few are left, or too many wanted."""
        return self.sure if self.sure <= min(self.most, left) else 0


def supply(
    session: SessionState, line: AgreedLine, pouch: Pouch, round_: Round, at: datetime
) -> Supply:
    """How many absorbers of a round meet what `pouch` lacks, from `at` until its time is over.

    So what is said of it holds until then. As many as planned where those do, and where neither
    the round nor the pouch is to blame: its absorbers had their full rating, and their margin is
    not used up, or there never was any; and the pouch is as planned, or has enough with them now.
    What is in the pouch already is counted as it will be then; another rating of its set as the
    packet that lies open has it then, or whole while none does.
    """
    lacked = lacking(line, pouch)
    planned = lacked[round_.rating_cc]
    if not planned:
        return Supply(planned, planned, planned)
    if not_to_blame(round_, at):
        if _as_planned(line, pouch) or _plainly_enough(session, line, pouch, round_, at):
            return Supply(planned, planned, planned)
        low_cc, beside_cc, need_cc = _with_others(session, line, pouch, round_, at, lacked)
        if planned * (low_cc + ROUNDED_CC) + beside_cc >= need_cc:
            return Supply(planned, planned, planned)
    low_cc, beside_cc, need_cc = _with_others(
        session, line, pouch, round_, _over(round_, at), lacked
    )
    agreed = line.absorbers_cc.count(round_.rating_cc)
    already = agreed - planned
    most = agreed * MOST_FOLD - already
    wanted_cc = need_cc - beside_cc
    if low_cc <= 0.0:
        sure = planned if wanted_cc <= 0.0 else most + 1
    else:
        sure = max(planned, math.ceil(wanted_cc / (low_cc + ROUNDED_CC)))
    return Supply(planned, sure, most, low_cc, beside_cc, need_cc)


def more_for_sure(
    session: SessionState, line: AgreedLine, pouch: Pouch, round_: Round, at: datetime
) -> Supply:
    """How many more of a round a pouch takes that has its whole set and is not surely enough.

    From `at` until the round's time is over; one is `planned`.
    """
    low_cc, has_cc, need_cc = _counted_on(session, line, pouch, round_, _over(round_, at))
    sure = math.ceil((need_cc - has_cc) / (low_cc + ROUNDED_CC))
    return Supply(1, max(1, sure), MOST_FOLD, low_cc, has_cc, need_cc)


def served(
    session: SessionState,
    line: AgreedLine,
    pouches: Iterable[Pouch],
    round_: Round,
    at: datetime,
) -> tuple[Pouch, ...]:
    """Those of `pouches`, in order, whose set what is left of the round makes whole for its rating.

    None where the first cannot have as many as make sure.
    """
    found, left = [], round_.left
    for pouch in pouches:
        per_pouch = supply(session, line, pouch, round_, at)
        if not per_pouch.planned:
            continue
        each = per_pouch.taken(left)
        if not each:
            break
        found.append(pouch)
        left -= each
    return tuple(found)


def still_wanted(
    session: SessionState, pouches: Iterable[Pouch], rating_cc: int, at: datetime
) -> int:
    """How many sound absorbers of a rating `pouches` of all foods lack beyond what lies open.

    Of a doubted round a pouch takes as many as make sure, and what does not do for one is no help.
    """
    lines = {line.line: line for line in session.plan.lines} if session.plan is not None else {}
    pouches = tuple(pouch for pouch in pouches if pouch.line in lines)
    wanted = {p.number: lacking(lines[p.line], p)[rating_cc] for p in pouches}
    for round_ in lying_in_turn(session, at):
        if round_.rating_cc != rating_cc:
            continue
        left = round_.left
        for pouch in pouches:
            if not wanted[pouch.number]:
                continue
            per_pouch = supply(session, lines[pouch.line], pouch, round_, at)
            if per_pouch.more:
                each = per_pouch.taken(left)
                if not each:
                    break
                wanted[pouch.number] = 0
            else:
                each = min(left, wanted[pouch.number])
                wanted[pouch.number] -= each
            left -= each
    return sum(wanted.values())


def not_to_blame(round_: Round, at: datetime) -> bool:
    """Whether its absorbers had their full rating, and their margin, if any, is not used up."""
    if round_.capacity_low_cc < round_.rating_cc:
        return False
    margin_min = round_.margin_min
    return not margin_min or at <= round_.started.utc + timedelta(minutes=margin_min)


def _as_planned(line: AgreedLine, pouch: Pouch) -> bool:
    """Nothing is in it that may have been used up, and it needs no more than the plan says."""
    return not pouch.placed and (pouch.net_mass_g or 0.0) <= line.fill_mass_g


def _plainly_enough(
    session: SessionState, line: AgreedLine, pouch: Pouch, round_: Round, at: datetime
) -> bool:
    """Whether the round's absorbers alone meet the pouch's need and more: the year's leak does
    not grow with its mass."""
    if pouch.placed or pouch.net_mass_g is None:
        return False
    most_cc = line.oxygen_need_cc * pouch.net_mass_g / line.fill_mass_g
    planned = line.absorbers_cc.count(round_.rating_cc)
    return planned * _left_cc(session.plan, round_, at) >= most_cc


def _with_others(
    session: SessionState,
    line: AgreedLine,
    pouch: Pouch,
    round_: Round,
    then: datetime,
    lacked: Counter[int],
) -> tuple[float, float, float]:
    """As `_counted_on`, with the other ratings that are still to come beside what is in it."""
    low_cc, beside_cc, need_cc = _counted_on(session, line, pouch, round_, then)
    for rating_cc, many in lacked.items():
        if rating_cc != round_.rating_cc:
            beside_cc += many * _other_cc(session, rating_cc, then)
    return low_cc, beside_cc, need_cc


def _over(round_: Round, at: datetime) -> datetime:
    """When the round's time is over, or `at` once it is."""
    return max(at, round_.due - ROUNDED)


def _counted_on(
    session: SessionState, line: AgreedLine, pouch: Pouch, round_: Round, then: datetime
) -> tuple[float, float, float]:
    """What one absorber of the round, and all that is in the pouch, are counted on for at `then`.

    With what the pouch needs; all in cc of oxygen.
    """
    found = verdict(line, pouch, session.plan, then)
    in_it_cc = found.low_cc if found is not None else 0.0
    need_cc = own_need(line, pouch, session.plan)[1]
    return _left_cc(session.plan, round_, then), in_it_cc, need_cc


def _left_cc(plan: Plan | None, round_: Round, at: datetime) -> float:
    """As little as one absorber of a round may have left at `at` (cc of oxygen)."""
    from packdesk.session.exposure import pressure_of  # loads numpy

    return _low_left(round_, at, pressure_of(plan))


@lru_cache(maxsize=64)
def _low_left(round_: Round, at: datetime, pressure_pa: float) -> float:
    """Asked for each pouch that waits, and for all of them the same."""
    from packdesk.session.exposure import capacity_left  # loads numpy

    return capacity_left(round_, at, pressure_pa)[0]


def _other_cc(session: SessionState, rating_cc: int, at: datetime) -> float:
    """What one absorber of another rating, which is still to come, is counted on for at `at`."""
    lying = [r for r in lying_in_turn(session, at) if r.rating_cc == rating_cc]
    return _left_cc(session.plan, lying[0], at) if lying else float(rating_cc)
