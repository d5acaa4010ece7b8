"""What is asked of a plan, and what it answers: requests, planned lines, lines that cannot be."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.catalog.foods import Food
from packdesk.catalog.pails import Pail
from packdesk.catalog.pouches import Pouch


@dataclass(frozen=True, slots=True)
class Site:
    """Where the packing is done; without a humidity reading (0 to 1) the air is taken as dry.

    Dry air holds a little more oxygen, which errs towards more absorber.
    """

    elevation_m: float = 0.0
    packing_temp_c: float = 21.0
    relative_humidity: float | None = None


@dataclass(frozen=True, slots=True)
class LineRequest:
    """This much of this food into this pouch.

    ``fill_mass_g`` None: as much as fits, spread evenly. The last five are a person's own: the
    ``pail`` a liner stands in (None: the one that suits it), what was measured of the lot, what
    pouches of this kind weighed when they were filled with this food before, and why a food that
    the catalogue marks never is put up all the same.
    """

    line: int
    food: Food
    lot: str
    mass_g: float
    pouch: Pouch
    fill_mass_g: float | None = None
    pail: Pail | None = None
    moisture_percent: float | None = None
    water_activity: float | None = None
    weighed_g: tuple[float, ...] = ()
    against_advice: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedLine:
    """One plan line with every figure it rests on.

    All pouches hold ``fill_mass_g`` but the last one. ``bulk_density_g_per_cc`` is that of the
    settled food. Oxygen is in cc at 25 °C and sea level, a year's leakage counted into the need;
    where no absorber goes in, need and recommendation are 0, and ``margin_ratio`` (capacity over
    need) and the years are None.

    ``years_to_one_percent`` is how long the film keeps the pouch below 1 % oxygen, not counted
    beyond 100. ``published_cc`` is the household figure for a container this size, to be shown
    beside ours. ``pail`` is the key of a liner's pail, else empty. ``never`` is what stands
    against a food that is put up all the same, ``against_advice`` why it is; both else empty.
    """

    line: int
    food: str
    food_name: str
    lot: str
    mass_g: float
    pouch: str
    pouch_name: str
    liner: bool
    pail: str
    zip: bool
    count: int
    fill_mass_g: float
    last_fill_mass_g: float
    capacity_l: float
    bulk_density_g_per_cc: float
    solid_density_g_per_cc: float
    residual_gas_cc: float
    air_cc: float
    oxygen_need_cc: float
    recommended_cc: float
    absorbers_cc: tuple[int, ...]
    published_cc: float | None
    margin_ratio: float | None
    quality_years_low: float
    quality_years_high: float
    film: str
    years_to_one_percent: float | None
    low_oxygen: str
    dusty: bool
    allergens: tuple[str, ...]
    caution: str
    label_caution: str
    warnings: tuple[str, ...]
    never: str = ""
    against_advice: str = ""


@dataclass(frozen=True, slots=True)
class Unfit:
    """A line that cannot be planned as asked: what, how far off, what to do instead.

    ``by_reason``: the catalogue marks the food never; with a stated reason it can be planned.
    """

    line: int
    food_name: str
    what: str
    figure: str
    advice: str
    caution: str = ""
    by_reason: bool = False
