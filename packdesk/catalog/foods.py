"""What is known of a food that decides how it is put up and for how long it keeps."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Grade, Measure, percent


class Suitability(StrEnum):
    """Whether a food may be shut up airtight for years."""

    SUITS = "suits"
    SHORT_LIVED = "short_lived"
    """Keeps for months or a few years whatever is done; not for long storage."""
    NEVER = "never"
    """Moist or oily: spoils, and without oxygen may become dangerous."""


class LowOxygen(StrEnum):
    """Whether oxygen absorbers belong in with a food."""

    ADVISED = "advised"
    OPTIONAL = "optional"
    NOT_NEEDED = "not_needed"
    REFUSED = "refused"


class Allergen(StrEnum):
    """Foods that must be named on a label in the United States, the European Union, or both.

    United States: nine (bibliography: fda_faster). European Union: the fourteen groups of
    Regulation (EU) No 1169/2011, Annex II, gluten cereals told apart. Labels name all of them.
    """

    MILK = "milk"
    EGGS = "eggs"
    FISH = "fish"
    CRUSTACEANS = "crustaceans"
    TREE_NUTS = "tree nuts"
    PEANUTS = "peanuts"
    WHEAT = "wheat"
    SOYBEANS = "soybeans"
    SESAME = "sesame"
    RYE = "rye"
    BARLEY = "barley"
    OATS = "oats"
    CELERY = "celery"
    MUSTARD = "mustard"
    SULPHITES = "sulphites"
    LUPIN = "lupin"
    MOLLUSCS = "molluscs"


_CONDUCTIVITY = Measure("W/(m K)", 0.02, 1.0)
_HEAT_CAPACITY = Measure("J/(kg K)", 500.0, 4200.0, also=("kJ/(kg K)",))
_DENSITY = Measure("g/cc", 0.02, 3.0, also=("kg/L", "kg/m3", "g/cup", "lb/gal", "lb/qt", "lb/ft3"))

DEFAULT_BED_CONDUCTIVITY = Figure(
    0.13, "W/(m K)", "asabe_d243", Grade.MEMORY, 0.10, 0.16,
    note="grain beds at about 12 % moisture; stands in where the food itself was not measured",
)  # fmt: skip
DEFAULT_HEAT_CAPACITY = Figure(
    1750.0, "J/(kg K)", "asabe_d243", Grade.MEMORY, 1550.0, 1950.0,
    note="grain beds at about 12 % moisture; stands in where the food itself was not measured",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Food(Description):
    """One dry food as it is bought."""

    suitability: Suitability
    suitability_reason: str
    low_oxygen: LowOxygen
    allergens: tuple[Allergen, ...]
    caution: str = ""
    """For whoever packs it, shown with the plan and at the counter."""
    label_caution: str = ""
    """For whoever opens the pouch years later, printed on labels and pail cards."""
    dusty: bool = False
    """A powder: wipe the seam band, and never draw off air over it."""

    bulk_density: Annotated[Figure, _DENSITY]
    solid_density: Annotated[Figure, _DENSITY]
    settling: Annotated[Figure, Measure("1", 0.8, 1.5)]
    moisture: Annotated[Figure, percent()]
    fat: Annotated[Figure, percent()]
    energy: Annotated[Figure, Measure("kcal/100g", 0.0, 900.0, also=("kJ/100g",))]
    quality_life: Annotated[Figure, Measure("years", 0.05, 100.0, also=("months",))]
    bed_conductivity: Annotated[Figure, _CONDUCTIVITY] = DEFAULT_BED_CONDUCTIVITY
    heat_capacity: Annotated[Figure, _HEAT_CAPACITY] = DEFAULT_HEAT_CAPACITY

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together."""
        found = []
        if self.bulk_density.value * self.settling.value >= self.solid_density.value:
            found.append("has a settled bulk density that is not below the density of its solids")
        if self.moisture.value + self.fat.value > 100.0:
            found.append("has more than 100 % of moisture and fat together")
        if self.suitability is Suitability.NEVER and self.low_oxygen is not LowOxygen.REFUSED:
            found.append('must never be stored, so low_oxygen must be "refused"')
        if self.suitability is not Suitability.SUITS and not self.suitability_reason:
            found.append("does not suit, so suitability_reason must say why")
        return tuple(found)

    @property
    def bulk_density_g_per_cc(self) -> float:
        """Mass over the space the food takes as poured, air between the grains included."""
        return self.bulk_density.value

    @property
    def solid_density_g_per_cc(self) -> float:
        """Mass over the space of the food's own substance, without the air between grains."""
        return self.solid_density.value

    @property
    def settling_factor(self) -> float:
        """How many times denser the food lies once tapped down."""
        return self.settling.value

    @property
    def moisture_percent(self) -> float:
        """Water in the food as sold, of its whole mass."""
        return self.moisture.value

    @property
    def fat_percent(self) -> float:
        """Fat in the food as sold, of its whole mass."""
        return self.fat.value

    @property
    def quality_years(self) -> tuple[float, float]:
        """Years of good quality at a steady 21 °C when put up as advised: least and most."""
        return self.quality_life.low, self.quality_life.high

    @property
    def bed_conductivity_w_m_k(self) -> float:
        """Heat conducted through the filled bed, air between the grains included."""
        return self.bed_conductivity.value

    @property
    def heat_capacity_j_kg_k(self) -> float:
        """Heat that warms one kilogram by one kelvin."""
        return self.heat_capacity.value
