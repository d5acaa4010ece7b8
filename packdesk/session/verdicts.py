"""Whether the absorbers in a pouch are enough for its oxygen, with the figures it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from packdesk.session.figures import AgreedLine
from packdesk.session.state import Pouch


class Enough(StrEnum):
    """Whether the absorbers in a pouch can take up its oxygen."""

    ENOUGH = "enough"
    MARGINAL = "marginal"
    ADD_ONE = "add_one"
    NOT_NEEDED = "not_needed"


@dataclass(frozen=True, slots=True)
class PouchVerdict:
    """The verdict on one pouch with the figures it stands on (cc of oxygen)."""

    verdict: Enough
    need_cc: float
    low_cc: float
    likely_cc: float


def verdict(line: AgreedLine, pouch: Pouch) -> PouchVerdict | None:
    """Judge the absorbers in `pouch`; None while it has none.

    Enough: even on the fast end of the uptake band the need is met. Marginal: at the likely
    rate it is, at the fast end not. Add one: not even at the likely rate.
    """
    if not line.absorbers_cc:
        return PouchVerdict(Enough.NOT_NEEDED, 0.0, 0.0, 0.0)
    if not pouch.placed:
        return None
    low_cc = sum(placed.capacity_low_cc * placed.each for placed in pouch.placed)
    likely_cc = sum(placed.capacity_likely_cc * placed.each for placed in pouch.placed)
    if low_cc >= line.oxygen_need_cc:
        found = Enough.ENOUGH
    elif likely_cc >= line.oxygen_need_cc:
        found = Enough.MARGINAL
    else:
        found = Enough.ADD_ONE
    return PouchVerdict(found, line.oxygen_need_cc, low_cc, likely_cc)
