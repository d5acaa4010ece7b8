"""Figures that facts carry so that a record explains itself without today's settings."""

from __future__ import annotations

from datetime import datetime

import msgspec

from packdesk.session.terms import LidRule, Stands


class Span(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """An uncertain instant: nine in ten say not before `early`, nine in ten not after `late`."""

    early: datetime
    likely: datetime
    late: datetime


class ColdForecast(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """When the core of a load is cold enough and when its hold is complete.

    `treat_c` is the treatment temperature of the core (°C), `hold_h` the hours it must be held
    there. None: not within the time looked ahead, with the freezer as it is. `dose_done` is when
    `dose_stage`, the life stage that takes longest, has had its whole dose (empty: not reckoned).
    `widened` is what the errors of the readings were multiplied by because they contradict each
    other or what is reckoned.
    """

    treat_c: float
    hold_h: float
    cold_from: Span | None
    hold_done: Span | None
    core_now_c: float
    effective_members: float = 0.0
    dose_done: Span | None = None
    dose_stage: str = ""
    widened: float = 1.0


class ThawForecast(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """When the lid may come off a warming load, by which rule and above which temperature (°C).

    `dry`: food that warm is certain to stay dry. Not so without a humidity reading, nor in a
    room so damp that food as warm as the room still sweats.
    """

    rule: LidRule
    room_c: float
    room_relative_humidity: float | None
    dew_point_c: float | None
    open_above_c: float
    lid_off: Span | None
    dry: bool = True


class LoadOutlook(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A forecast renewed by a reading that concerns several loads.

    `held_h`, and `dose` for `dose_stage`, is what the cold of a load taken out came to after all;
    None: as it was said then.
    """

    load: str
    cold: ColdForecast | None = None
    thaw: ThawForecast | None = None
    held_h: float | None = None
    dose: float | None = None
    dose_stage: str = ""


class FreezerOutlook(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What the loads in one freezer do to it from now on: its air, and food frozen with them (°C).

    `settled_c` is its air at rest. `labours_until`: until when its air is more than a kelvin
    warmer than that; None where it is not.
    """

    freezer: int
    settled_c: float
    warmest_air_c: float
    warmest_frozen_c: float
    labours_until: datetime | None = None


class KillFigures(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How long cold takes to kill one life stage: hours by temperature (°C), coldest first."""

    name: str
    temps_c: tuple[float, ...]
    kill_hours: tuple[float, ...]
    grade: str
    source: str

    @property
    def dosed(self) -> bool:
        """Only measured kills are put on record."""
        return True


class LoadFigures(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What the heat calculation of a load rests on: shape, filling, surroundings, insects.

    `freezer_temp_c` is the freezer's air at rest. `spare_power_w` is what that freezer draws out
    of warm loads beyond its own losses, and `frozen_food_kg` what lies frozen in it already; None:
    the loads are not reckoned to warm it; `capacity_g` is the freezing capacity in 24 hours that
    the former was worked out from, None where it was not said. Heights are None where they were not
    asked; the container's is outside, lid on. `life_stages` are those the dose is reckoned for.
    """

    radius_mm: float
    fill_height_mm: float
    conductivity_w_m_k: float
    heat_capacity_j_kg_k: float
    bulk_density_kg_m3: float
    freezer_coefficient_w_m2_k: float
    room_coefficient_w_m2_k: float
    start_temp_c: float
    freezer_temp_c: float
    freezer: int = 1
    stands: Stands = Stands.FREE_AIR
    container_height_mm: float | None = None
    freezer_height_mm: float | None = None
    spare_power_w: float | None = None
    capacity_g: float | None = None
    frozen_food_kg: float = 0.0
    life_stages: tuple[KillFigures, ...] = ()


class AgreedLine(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One plan line as agreed: this food into this pouch, with every figure it relied on.

    `last_fill_mass_g` is what the last pouch holds; `years_to_one_percent` the film's own limit,
    None where it is beyond reckoning; `absorbers_cc` the ratings that go into each pouch.
    `caution` is for whoever packs the food, `label_caution` for whoever opens a pouch; where that
    is None the plan is older than the difference, and `caution` was for both. `never` is what
    stands against sealing this food at all, `against_advice` why it is done; both else empty.
    `refill_mass_g` is what pouches to come hold since the count was revised by what those before
    held; None: `fill_mass_g`, which air and oxygen are reckoned for.
    """

    line: int
    food: str
    food_name: str
    lot: str
    mass_g: float
    pouch: str
    pouch_name: str
    liner: bool
    zip: bool
    count: int
    fill_mass_g: float
    capacity_l: float
    bulk_density_g_per_cc: float
    solid_density_g_per_cc: float
    residual_gas_cc: float
    air_cc: float
    oxygen_need_cc: float
    recommended_cc: float
    absorbers_cc: tuple[int, ...]
    quality_years_low: float
    quality_years_high: float
    dusty: bool
    allergens: tuple[str, ...] = ()
    caution: str = ""
    film: str = ""
    last_fill_mass_g: float | None = None
    years_to_one_percent: float | None = None
    low_oxygen: str = ""
    warnings: tuple[str, ...] = ()
    label_caution: str | None = None
    never: str = ""
    against_advice: str = ""
    refill_mass_g: float | None = None

    @property
    def to_hold_g(self) -> float:
        """What a pouch to come is filled with (g)."""
        return self.refill_mass_g or self.fill_mass_g
