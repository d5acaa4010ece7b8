"""Whether the absorbers in a pouch are enough for its oxygen, with the figures it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from packdesk.session.figures import AgreedLine
from packdesk.session.pouch import Pouch
from packdesk.session.state import Plan


class Enough(StrEnum):
    """Whether the absorbers in a pouch can take up its oxygen."""

    ENOUGH = "enough"
    MARGINAL = "marginal"
    ADD_ONE = "add_one"
    NOT_NEEDED = "not_needed"


@dataclass(frozen=True, slots=True)
class PouchVerdict:
    """The verdict on one pouch with the figures it stands on (cc of oxygen).

    `fresh_cc` is what its absorbers had when they went in; `open_min` and `zip_min` how long the
    pouch stood open with them, or pressed shut and not sealed.
    """

    verdict: Enough
    need_cc: float
    low_cc: float
    likely_cc: float
    fresh_cc: float = 0.0
    open_min: float = 0.0
    zip_min: float = 0.0


def verdict(
    line: AgreedLine, pouch: Pouch, plan: Plan | None = None, at: datetime | None = None
) -> PouchVerdict | None:
    """Judge the absorbers in `pouch` as they stand at `at`; None while it has none.

    Enough: even on the fast end of the uptake band the need is met. Marginal: at the likely
    rate it is, at the fast end not. Add one: not even at the likely rate. Every stretch they lay
    in air counts; without `at` the one that goes on is left out. Of `plan` the height above the sea
    counts; without it the pouch stands there.
    """
    if not line.absorbers_cc:
        return PouchVerdict(Enough.NOT_NEEDED, 0.0, 0.0, 0.0)
    if not pouch.placed:
        return None
    from packdesk.session.account import account  # loads numpy
    from packdesk.session.exposure import pressure_of

    found = account(
        pouch.placed,
        pouch.turns,
        line.air_cc,
        pressure_of(plan),
        None if at is None or pouch.gas_tight else at.replace(second=0, microsecond=0),
    )
    if found.low_cc >= line.oxygen_need_cc:
        judged = Enough.ENOUGH
    elif found.likely_cc >= line.oxygen_need_cc:
        judged = Enough.MARGINAL
    else:
        judged = Enough.ADD_ONE
    return PouchVerdict(
        judged,
        line.oxygen_need_cc,
        found.low_cc,
        found.likely_cc,
        found.fresh_cc,
        found.open_min,
        found.zip_min,
    )
