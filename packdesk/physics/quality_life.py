"""How long a food keeps its good quality at the temperature it is stored at.

Quality, not safety: dry staples that stay dry, intact and free of insects outlast their best
quality by years. Warmth is what ages them: each 10 K more divides the life by a factor, Q10.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from packdesk.physics.ranges import within

RATED_AT_C = 21.0
"""Temperature for which the lives of foods are given (70 °F)."""

LONGEST_STUDIED_YEARS = 30.0
"""Nobody studied staples much longer than this (Brigham Young University, wheat to 32 years, oats,
milk and rice to about 30), so no life beyond it is claimed."""

_COLDEST_C, _WARMEST_C = 0.0, 40.0


@dataclass(frozen=True, slots=True)
class Q10Band:
    """By how much each 10 K more shorten a life: least, most likely, most."""

    low: float
    likely: float
    high: float


USUAL_Q10 = Q10Band(low=2.0, likely=2.5, high=3.5)
"""Published pairs for dry food lie between 1.9 and 3.5: dried fruit 12 months at 15.6 °C and 6 at
26.7 (National Center for Home Food Preservation), dried apricots 24, 3 and 1 months at 4.4, 21.1
and 32.2 °C (Utah State University Extension). The figure to use is own judgement."""


@dataclass(frozen=True, slots=True)
class QualityLife:
    """Years of good quality: at least, most likely, at most.

    A figure never exceeds the longest storage anyone studied; ``beyond_studied`` tells that the
    likely one was cut there, to be shown as "30+".
    """

    low: float
    likely: float
    high: float
    beyond_studied: bool


def life_factor(temp_c: float, q10: float = USUAL_Q10.likely) -> float:
    """How many times longer than at 21 °C a food keeps at this temperature.

    Symbols: ``temp_c`` of the store, 0 to 40 °C; ``q10`` 1.2 to 6.
    Source: Q10 rule, factor = Q10^((21 − t) / 10) (Labuza, from memory).
    Example: at 32 °C and Q10 3 it is 3^(−1.1) = 0.30, at 10 °C and Q10 2 2^1.1 = 2.14; worked by
    hand.

    >>> f"{life_factor(32.0, 3.0):.2f} {life_factor(10.0, 2.0):.2f}"
    '0.30 2.14'

    Limits: a rule of thumb. Freezing, melting fat and moisture break it, hence its range.
    """
    t = within("temp_c", temp_c, _COLDEST_C, _WARMEST_C, "°C")
    return math.pow(within("q10", q10, 1.2, 6.0), (RATED_AT_C - t) / 10.0)


def quality_life_years(
    years_low: float, years_high: float, temp_c: float, band: Q10Band = USUAL_Q10
) -> QualityLife:
    """How many years a food keeps its good quality in a store of this temperature.

    Symbols: ``years_low`` 0.05 to 100 and ``years_high`` from it to 100, at 21 °C; ``temp_c`` of
    the store, 0 to 40 °C; ``band`` of Q10.
    Source: Q10 rule; each end with the Q10 that is worse or better for it, the likely one from the
    geometric mean of the two.
    Example: 8 to 12 years at 21 °C are at 31 °C 8/3.5 = 2.3 to 12/2 = 6.0, most likely √96/2.5 =
    3.9; worked by hand.

    >>> life = quality_life_years(8.0, 12.0, 31.0)
    >>> f"{life.low:.1f} {life.likely:.1f} {life.high:.1f}"
    '2.3 3.9 6.0'

    Limits: never more than the longest storage anyone studied.
    """
    low = within("years_low", years_low, 0.05, 100.0, "years")
    high = within("years_high", years_high, low, 100.0, "years")
    factors = [life_factor(temp_c, q10) for q10 in (band.low, band.high)]
    likely = math.sqrt(low * high) * life_factor(temp_c, band.likely)
    cut = LONGEST_STUDIED_YEARS
    return QualityLife(
        low=min(low * min(factors), cut),
        likely=min(likely, cut),
        high=min(high * max(factors), cut),
        beyond_studied=likely >= cut,
    )
