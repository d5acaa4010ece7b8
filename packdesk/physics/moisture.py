"""How available a food's water is: water activity at a moisture content.

Water activity is the relative humidity of air shut in with the food, as a small hygrometer reads
it. Two equations with constants for the same crops stand side by side; where they differ the
moister answer is the cautious one.

Nothing grows below an activity of 0.60; the germ of botulism needs more than 0.93 (Beuchat 1981;
ICMSF 1996, from memory). Moist food without oxygen is dangerous all the same: ask the local
food-safety authority.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from packdesk.physics.ranges import within


@dataclass(frozen=True, slots=True)
class Isotherm:
    """Constants of one crop in the modified Henderson and the Chung-Pfost equation.

    With M the moisture in per cent of dry matter, m the same as a fraction, t in °C:
    Henderson: activity = 1 − exp(−A (t + C) M^B); Chung-Pfost: exp(−A / (t + C) exp(−B m)).
    """

    henderson: tuple[float, float, float]
    chung_pfost: tuple[float, float, float]


ISOTHERMS: dict[str, Isotherm] = {
    "corn": Isotherm((8.6541e-5, 1.8634, 49.810), (312.30, 16.958, 30.205)),
    "rough rice": Isotherm((1.9187e-5, 2.4451, 51.161), (594.61, 21.733, 35.703)),
    "hard wheat": Isotherm((2.3007e-5, 2.2857, 55.815), (529.43, 17.609, 50.998)),
    "soft wheat": Isotherm((1.2299e-5, 2.5558, 64.346), (726.49, 23.607, 35.662)),
    "durum wheat": Isotherm((2.5738e-5, 2.2110, 70.318), (921.65, 18.077, 112.350)),
    "beans": Isotherm((2.0899e-5, 1.8812, 254.230), (962.58, 15.975, 160.629)),
    "soybeans": Isotherm((30.5327e-5, 1.2164, 134.136), (328.30, 13.917, 100.288)),
    "barley": Isotherm((2.2919e-5, 2.0123, 195.267), (761.66, 19.889, 91.323)),
    "sorghum": Isotherm((0.8532e-5, 2.4757, 113.725), (1099.67, 19.644, 102.849)),
}
"""Constants of ASABE D245 (corn seen in public code; the others from memory, of which the
standard's second form of each Chung-Pfost row agrees with the first). Milled rice, flour and oats
have none: milled rice lies about one per cent of moisture above rough rice at the same activity
(from memory)."""


@dataclass(frozen=True, slots=True)
class WaterActivity:
    """A food's water activity by either equation."""

    henderson: float
    chung_pfost: float

    @property
    def cautious(self) -> float:
        """The moister of the two."""
        return max(self.henderson, self.chung_pfost)


def dry_basis_percent(moisture_percent: float) -> float:
    """Moisture in per cent of the dry matter, for moisture in per cent of the whole.

    Symbols: ``moisture_percent`` of the whole mass, 0 to 60.
    Source: definition, 100 w / (100 − w).
    Example: 20 g of water in 100 g of grain stand beside 80 g of dry matter: 25 %.

    >>> dry_basis_percent(20.0)
    25.0

    Limits: none.
    """
    wet = within("moisture_percent", moisture_percent, 0.0, 60.0, "%")
    return 100.0 * wet / (100.0 - wet)


def water_activity(
    isotherm: Isotherm, moisture_percent: float, temp_c: float = 20.0
) -> WaterActivity:
    """How available the water of a food is at a moisture content and a temperature.

    Symbols: ``isotherm`` of the crop; ``moisture_percent`` of the whole mass, 3 to 20;
    ``temp_c`` 0 to 50 °C.
    Source: modified Henderson and Chung-Pfost equations, ASABE D245.
    Example: corn with 12 % at 20 °C, so M = 13.636 % of dry matter. Henderson: 8.6541e-5 × 69.81 ×
    13.636^1.8634 = 0.786, 1 − exp(−0.786) = 0.544; Chung-Pfost: 312.30 / 50.205 × exp(−16.958 ×
    0.13636) = 0.616, exp(−0.616) = 0.540; worked by hand.

    >>> corn = water_activity(ISOTHERMS["corn"], 12.0)
    >>> f"{corn.henderson:.3f} {corn.chung_pfost:.3f}"
    '0.544 0.540'

    Limits: good to some 0.03; food that is drying out differs from food that is taking up water.
    """
    m = dry_basis_percent(within("moisture_percent", moisture_percent, 3.0, 20.0, "%"))
    t = within("temp_c", temp_c, 0.0, 50.0, "°C")
    a, b, c = isotherm.henderson
    by_henderson = 1.0 - math.exp(-a * (t + c) * math.pow(m, b))
    a, b, c = isotherm.chung_pfost
    return WaterActivity(by_henderson, math.exp(-a / (t + c) * math.exp(-b * m / 100.0)))
