"""Whether the absorbers in a pouch are enough for its oxygen, with the figures it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from packdesk.session.figures import AgreedLine
from packdesk.session.packing_room import planned_room_c
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
    pouch stood open with them, or pressed shut and not sealed; `air_cc` the air in it.
    """

    verdict: Enough
    need_cc: float
    low_cc: float
    likely_cc: float
    fresh_cc: float = 0.0
    open_min: float = 0.0
    zip_min: float = 0.0
    air_cc: float = 0.0


def verdict(
    line: AgreedLine, pouch: Pouch, plan: Plan | None = None, at: datetime | None = None
) -> PouchVerdict | None:
    """Judge the absorbers in `pouch` as they stand at `at`; None while it has none.

    Enough: even on the fast end of the uptake band the need is met. Marginal: at the likely
    rate it is, at the fast end not. Add one: not even at the likely rate. Every stretch they lay
    in air counts; without `at` the one that goes on is left out. Of `plan` the height above the sea
    counts; without it the pouch stands there. A pouch that was weighed is judged by its own mass.
    """
    if not line.absorbers_cc:
        return PouchVerdict(Enough.NOT_NEEDED, 0.0, 0.0, 0.0)
    if not pouch.placed:
        return None
    from packdesk.session.account import account  # loads numpy
    from packdesk.session.exposure import pressure_of

    air_cc, need_cc = own_need(line, pouch, plan)
    found = account(
        pouch.placed,
        pouch.turns,
        air_cc,
        pressure_of(plan),
        None if at is None or pouch.gas_tight else at.replace(second=0, microsecond=0),
    )
    if found.low_cc >= need_cc:
        judged = Enough.ENOUGH
    elif found.likely_cc >= need_cc:
        judged = Enough.MARGINAL
    else:
        judged = Enough.ADD_ONE
    return PouchVerdict(
        judged,
        need_cc,
        found.low_cc,
        found.likely_cc,
        found.fresh_cc,
        found.open_min,
        found.zip_min,
        air_cc,
    )


def own_need(line: AgreedLine, pouch: Pouch, plan: Plan | None) -> tuple[float, float]:
    """The air in a pouch and the oxygen to be taken up (cc), by its own mass where that is known.

    All air in the plan is in proportion to the mass: between the grains, and the tenth of the
    settled food's volume that stays above it. The year's leak through the film does not change.
    """
    if pouch.net_mass_g is None or pouch.net_mass_g == line.fill_mass_g:
        return line.air_cc, line.oxygen_need_cc
    from packdesk.physics import oxygen
    from packdesk.session.exposure import pressure_of

    own_cc = line.air_cc * pouch.net_mass_g / line.fill_mass_g
    temp_c, pressure_pa = planned_room_c(plan), pressure_of(plan)
    own, planned = (
        float(oxygen.oxygen_need_cc(each, temp_c=temp_c, pressure_pa=pressure_pa))
        for each in (own_cc, line.air_cc)
    )
    return own_cc, max(0.0, line.oxygen_need_cc + own - planned)
