"""Masses and temperatures in the units the session speaks, never more digits than known."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.units import Dimension, System, say

_OUNCE_G = 28.349523125
"""Exact: the international avoirdupois ounce."""

GRAMS_BELOW_G = 5000.0
"""A kitchen scale shows single grams up to here."""


@dataclass(frozen=True, slots=True)
class Measures:
    """How figures are said; `system` is metric or us."""

    system: str = "metric"

    def mass(self, mass_g: float) -> str:
        """Say a mass as a kitchen scale knows it: `1.25 kg`, or `2 lb 12 oz`."""
        return _mass(mass_g, System(self.system))

    def weighed(self, mass_g: float) -> str:
        """Say a mass as a scale showed it, every gram below 5 kg: `1.006 kg`."""
        if System(self.system) is System.METRIC and mass_g < GRAMS_BELOW_G:
            return say(mass_g, Dimension.MASS, System.METRIC, 1.0)
        return self.mass(mass_g)

    def both_masses(self, mass_g: float, *, weighed: bool = False) -> str:
        """Say a mass in both systems, the session's own first."""
        other = System.US if self.system == System.METRIC else System.METRIC
        first, second = (
            each.weighed(mass_g) if weighed else each.mass(mass_g)
            for each in (self, Measures(other))
        )
        return f"{first} ({second})"

    def temperature(self, temp_c: float, known_to_k: float = 0.5) -> str:
        """Say a temperature: `−18 °C`, or `0 °F`."""
        return say(temp_c, Dimension.TEMPERATURE, System(self.system), known_to_k)

    def reading(self, temp_c: float) -> str:
        """Say a temperature as it was typed: `−8.5 °C`, but `−19 °C` where no tenths were."""
        tenths, whole = self.temperature(temp_c, 0.05), self.temperature(temp_c)
        return whole if ".0" in tenths else tenths


def _mass(mass_g: float, system: System) -> str:
    if system is System.METRIC:
        return say(mass_g, Dimension.MASS, system, 1.0 if mass_g < 1000.0 else 10.0)
    ounces = mass_g / _OUNCE_G
    whole = abs(ounces - round(ounces)) < 0.05
    return say(mass_g, Dimension.MASS, system, _OUNCE_G if whole else _OUNCE_G / 10.0)
