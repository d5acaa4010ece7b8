"""How fast an absorber takes up oxygen: in open air, shut in, and behind a zip that leaks.

The law: an absorber with C reference cc of capacity left takes dC/dt = −κ(T) C p / p₀, where p is
the pressure of oxygen around it and p₀ that of dry air at sea level. First order in oxygen between
20 % and 0.05 % as measured by Tewari et al. (2002), Int. J. Food Sci. Technol. 37:209 (the abstract
was read; its authors and year are from memory).

Shut in with V of gas the same uptake empties it: with O the oxygen in there, dO/dt = dC/dt =
−β C O and β = κ / (0.2095 V), all in reference cc, at constant V. A soft pouch gives way by up to a
fifth, which speeds the end by less than the band of κ is wide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import overload

import numpy as np

from packdesk.physics.air import REFERENCE_TEMP_C, ZERO_C_IN_K
from packdesk.physics.ranges import Floats, Quantity, plain, within

ACTIVATION_ENERGY_J_PER_MOL = 50_000.0
"""From half-lives of oxygen of 1.0 h at 25 °C and 7.1 h at −1.5 °C, one type of absorber (Tewari et
al. 2002, abstract): R ln 7.1 / (1/271.65 − 1/298.15) = 49.8 kJ/mol, worked by hand."""

_GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA


@dataclass(frozen=True, slots=True)
class UptakeBand:
    """κ at 25 °C, per hour, as a band: what types of absorber were seen to do, not one number.

    ``low`` is cautious where the question is how soon a pouch is drawn down, ``high`` where it is
    how long a packet may lie open.
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        """Refuse a band that is out of order."""
        within("uptake_low_per_h", self.low, 0.01, self.likely, "1/h")
        within("uptake_likely_per_h", self.likely, self.low, self.high, "1/h")
        within("uptake_high_per_h", self.high, self.likely, 10.0, "1/h")


PUBLISHED_UPTAKE = UptakeBand(low=0.15, likely=0.31, high=0.69)
"""Low and likely: mean rates of decay of oxygen, 0.153 1/h for moisture-activated and 0.306 1/h for
self-activated sachets between 10 and 40 °C (Int. J. Food Sci. Technol., doi 10.1111/ijfs.12100,
abstract). High: ln 2 / 1.0 h for the fastest half-life at 25 °C in Tewari et al. (2002). A rate of
decay in a bag equals κ if the sachet could take just what the bag held; neither abstract says so,
and a sachet that could take more has a smaller κ."""


@overload
def uptake_per_h(uptake_25_per_h: float, temp_c: float) -> float: ...
@overload
def uptake_per_h(uptake_25_per_h: Quantity, temp_c: Quantity) -> Quantity: ...
def uptake_per_h(uptake_25_per_h: Quantity, temp_c: Quantity) -> Quantity:
    """How fast an absorber works at a temperature, as the share of its capacity lost per hour.

    Symbols: ``uptake_25_per_h`` κ at 25 °C in dry air at sea level, 0 to 10 1/h; ``temp_c`` of the
    absorber, °C, −20 to 45.
    Source: Arrhenius' law with 50 kJ/mol, from Tewari et al. (2002).
    Example: a half-life of 1.0 h at 25 °C is one of 7.1 h at −1.5 °C (the same abstract), so κ
    falls from 0.693 to 0.693 / 7.1 = 0.098 1/h.

    >>> f"{uptake_per_h(0.693, -1.5):.2f}"
    '0.10'

    Limits: measured on one type between −1.5 and 25 °C. Dry air slows a type that brings no water.
    """
    kappa = within("uptake_25_per_h", uptake_25_per_h, 0.0, 10.0, "1/h")
    t = within("temp_c", temp_c, -20.0, 45.0, "°C")
    colder = 1.0 / (t + ZERO_C_IN_K) - 1.0 / (REFERENCE_TEMP_C + ZERO_C_IN_K)
    return plain(kappa * np.exp(-ACTIVATION_ENERGY_J_PER_MOL / _GAS_CONSTANT * colder))


# The laws below take figures that were checked where they came in (``absorber``).


def taken_in_open(capacity_cc: Quantity, rate_per_h: Quantity, hours: Quantity) -> Quantity:
    """How much oxygen is taken up where that around does not run out, in reference cc.

    Symbols: ``capacity_cc`` before, reference cc; ``rate_per_h`` κ p/p₀, 1/h; ``hours``; each 0 or
    more.
    Source: the law above with p constant, C (1 − exp(−rate t)).
    Example: two half-lives of an hour each take three quarters of 50 cc, 37.5, worked by hand.

    >>> f"{taken_in_open(50.0, math.log(2.0), 2.0):.1f}"
    '37.5'

    Limits: as ``uptake_per_h``.
    """
    return plain(capacity_cc * -np.expm1(-np.asarray(rate_per_h) * hours))


def taken_shut_in(
    capacity_cc: Quantity, oxygen_cc: Quantity, beta_per_cc_h: Quantity, hours: Quantity
) -> Quantity:
    """How much oxygen is taken up in a tight vessel of constant volume, in reference cc.

    Symbols: ``capacity_cc`` C and ``oxygen_cc`` O at the start, reference cc; ``beta_per_cc_h`` β,
    1/(cc h); ``hours``; each 0 or more.
    Source: dO/dt = dC/dt = −β C O keeps C − O, so it integrates in closed form. With m and M the
    lesser and the greater of C and O and q = (1 − exp(−β (M − m) t)) / (M − m), taken is
    m M q / (1 + m q).
    Example: with just as much capacity as oxygen both fall as 1 / (1 + β O t): of 200 cc half is
    taken in 2 h where β O is 0.5 1/h, worked by hand.

    >>> f"{taken_shut_in(200.0, 200.0, 0.5 / 200.0, 2.0):.1f}"
    '100.0'

    Limits: as the module's: gas well mixed, volume constant.
    """
    lesser = np.minimum(capacity_cc, oxygen_cc)
    greater = np.maximum(capacity_cc, oxygen_cc)
    reach = np.asarray(beta_per_cc_h) * hours
    gap = greater - lesser
    # Where the two are all but equal q is β t.
    apart = gap * reach > 1e-12
    q = np.where(apart, -np.expm1(-gap * reach) / np.where(apart, gap, 1.0), reach)
    return plain(np.minimum(lesser, lesser * greater * q / (1.0 + lesser * q)))


def hours_shut_in(
    capacity_cc: Quantity, oxygen_cc: Quantity, beta_per_cc_h: Quantity, oxygen_left_cc: Quantity
) -> Quantity:
    """How many hours until a tight vessel is down to so much oxygen: the inverse.

    Symbols: as ``taken_shut_in``, β above 0; ``oxygen_left_cc`` at the end, above 0. The answer is
    infinite if the capacity falls short.
    Source: ``taken_shut_in`` solved for the time: with D = C − O and a dash for the end,
    β t = (ln(1 + D/O′) − ln(1 + D/O)) / D, or 1/O′ − 1/O where D is nothing.
    Example: the 200 cc of ``taken_shut_in`` are down to 100 after 2 h.

    >>> f"{hours_shut_in(200.0, 200.0, 0.5 / 200.0, 100.0):.1f}"
    '2.0'

    Limits: as ``taken_shut_in``.
    """
    oxygen = np.asarray(oxygen_cc)
    left = np.minimum(oxygen_left_cc, oxygen)
    surplus = capacity_cc - oxygen
    enough = surplus + left > 0.0
    apart = enough & (np.abs(surplus) > 1e-9 * oxygen)
    d = np.where(apart, surplus, 1.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        uneven = (np.log1p(d / left) - np.log1p(d / oxygen)) / d
        even = 1.0 / left - 1.0 / oxygen
        hours = np.where(apart, uneven, even) / beta_per_cc_h
    return plain(np.where(left >= oxygen, 0.0, np.where(enough, hours, math.inf)))


_STEP = 0.01  # share of the capacity left that one step of the leaky vessel should take
_SPENT = 1e-6  # share of the first capacity below which an absorber counts as spent


def taken_behind_leak(
    capacity_cc: Quantity,
    oxygen_cc: Quantity,
    beta_per_cc_h: Quantity,
    exchange_per_h: Quantity,
    oxygen_outside_cc: Quantity,
    hours: float,
) -> tuple[Quantity, Quantity]:
    """How much is taken up, and left in the gas, in a vessel that exchanges gas with the room.

    Symbols: as ``taken_shut_in``; ``exchange_per_h`` λ the share of the gas exchanged in an hour,
    1/h; ``oxygen_outside_cc`` A the oxygen that the vessel would hold of the room's air, reference
    cc; each 0 or more.
    Source: dO/dt = −β C O + λ (A − O) and dC/dt = −β C O. C is the slow one of the two: each step
    holds it at its middle value and follows O exactly, and is as long as it takes to use up some
    1 % of C, so a tiny vessel with a great absorber costs no more steps than any other.
    Example: a vessel aired a million times an hour is as good as open, so 50 cc with a half-life of
    an hour lose 37.5 in two and 50 cc of oxygen stay around them, worked by hand.

    >>> taken, left = taken_behind_leak(50.0, 50.0, math.log(2.0) / 50.0, 1e6, 50.0, 2.0)
    >>> f"{taken:.1f} {left:.1f}"
    '37.5 50.0'

    Limits: within 0.1 % of an adaptive solver; the room's air does not change.
    """
    shape = np.broadcast_shapes(
        *(np.shape(x) for x in (capacity_cc, oxygen_cc, beta_per_cc_h, exchange_per_h))
    )
    capacity = np.broadcast_to(np.asarray(capacity_cc, dtype=np.float64), shape)
    oxygen = np.broadcast_to(np.asarray(oxygen_cc, dtype=np.float64), shape)
    inflow = np.asarray(exchange_per_h) * oxygen_outside_cc

    def advance(held: Floats, present: Floats, h: float) -> tuple[Floats, Floats]:
        """Follow O for h hours at the capacity held: what it becomes, what was taken meanwhile."""
        uptake = beta_per_cc_h * held
        speed = uptake + exchange_per_h
        steady = inflow / np.where(speed > 0.0, speed, 1.0)
        decay = np.exp(-speed * h)
        swift = speed * h > 1e-9
        mean_decay = np.where(swift, -np.expm1(-speed * h) / np.where(swift, speed * h, 1.0), 1.0)
        present_mean = steady + (present - steady) * mean_decay
        return steady + (present - steady) * decay, uptake * present_mean * h

    left, done_h, step_h = capacity.copy(), 0.0, hours
    while done_h < hours:
        step_h = min(step_h, hours - done_h)
        _, first_half = advance(left, oxygen, step_h / 2.0)
        after, taken = advance(np.maximum(left - first_half, 0.0), oxygen, step_h)
        counting = left > _SPENT * capacity
        # A step far too long may take all in its first half and so nothing with what is then held.
        most = np.maximum(taken, first_half)[counting]
        share = float(np.max(most / left[counting], initial=0.0))
        if share > 2.0 * _STEP:
            step_h *= max(0.1, _STEP / share)
            continue
        left, oxygen, done_h = np.maximum(left - taken, 0.0), after, done_h + step_h
        step_h *= min(4.0, _STEP / max(share, 1e-9))
    return plain(capacity - left), plain(oxygen)
