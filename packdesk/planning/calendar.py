"""When a load must go into the freezer so that its food is ready on packing day.

Importing this loads numpy.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache

import numpy as np

from packdesk.physics import air, freezer, heat
from packdesk.physics.lid_on import lid_limit, lid_on_h
from packdesk.physics.ranges import within
from packdesk.planning.loads import USUAL_FROZEN_KG, USUAL_SPARE_POWER_W, PailLoad
from packdesk.units import Dimension, System, say

FIRST_CHECK_H = 24.0
"""How long a sealed pouch rests before its first seal check: 24 to 48 hours (common practice)."""

FROZEN_EXCHANGE_W_K_KG = 0.2
"""Between the air and food frozen already (a guess, no source; see ``physics.FrozenFood``)."""

LEAST_DIFFERENCE_K = 0.5
"""A core comes no closer than this to the air around it within a week or two."""

EASY_DIFFERENCE_K = 3.0
"""How much colder than the core the freezer had better be (common practice, no source)."""

_LONGEST_COOLING_H = 400.0
_LONGEST_THAW_H = 240.0
_PULL_DOWN_H = 200.0
_STEP_H = 0.5


class NeverReady(ValueError):
    """A load that does not get as cold, or as warm again, as asked; the message says what helps."""


@dataclass(frozen=True, slots=True)
class Cabinet:
    """What a freezer draws out beyond its own losses, and what lies frozen in it already.

    Its air at rest goes with the pails (`PailLoad.freezer_temp_c`).
    """

    spare_power_w: float = USUAL_SPARE_POWER_W
    frozen_kg: float = USUAL_FROZEN_KG

    def story(
        self, rest_temp_c: float, arrivals: Sequence[freezer.Arrival], until_h: float
    ) -> freezer.CabinetStory:
        """How warm it gets with these loads in it."""
        frozen_kg = max(self.frozen_kg, 0.01)
        return freezer.cabinet_story(
            freezer.Freezer(rest_temp_c, self.spare_power_w),
            arrivals,
            freezer.FrozenFood(frozen_kg, frozen_kg * FROZEN_EXCHANGE_W_K_KG),
            until_h,
            step_h=1.0,
        )


USUAL_CABINET = Cabinet()


@dataclass(frozen=True, slots=True)
class Calendar:
    """The instants of one load; of ten such loads nine are ready sooner.

    ``load_by`` the freezer shuts on it; ``cold_from`` its core is cold enough and the hold begins;
    ``hold_done`` it comes out, lid on; ``lid_off`` the lid may come off; ``pack_at`` the packing;
    ``first_check`` of the seals.
    """

    load_by: datetime
    cold_from: datetime
    hold_done: datetime
    lid_off: datetime
    pack_at: datetime
    first_check: datetime


@dataclass(frozen=True, slots=True)
class Spell:
    """How long one load takes on its late side, in hours: to get cold, to be held, to thaw."""

    cooling_h: float
    hold_h: float
    thaw_h: float

    @property
    def total_h(self) -> float:
        """From the freezer's door shutting on it to its lid coming off."""
        return self.cooling_h + self.hold_h + self.thaw_h


def calendar_of(found: Spell, load_at: datetime) -> Calendar:
    """The calendar of a load that goes in at ``load_at``: packing begins when its lid comes off."""
    cold_from = load_at + timedelta(hours=found.cooling_h)
    hold_done = cold_from + timedelta(hours=found.hold_h)
    pack_at = load_at + timedelta(hours=found.total_h)
    first_check = pack_at + timedelta(hours=FIRST_CHECK_H)
    return Calendar(load_at, cold_from, hold_done, pack_at, pack_at, first_check)


@lru_cache(maxsize=64)
def spell(
    figures: PailLoad,
    hold_h: float,
    treat_c: float,
    *,
    beside: tuple[PailLoad, ...] = (),
    cabinet: Cabinet = USUAL_CABINET,
    room_temp_c: float = 21.0,
    relative_humidity: float | None = None,
    units: System = System.METRIC,
) -> Spell:
    """How long a pail takes through cold and thaw, so that nine in ten such pails are ready.

    Symbols: ``hold_h`` hours, 0 to 1000, that the core is held at or below ``treat_c`` (°C, −40 to
    0); ``beside`` the pails that go into the same freezer with it and keep its air warm for some
    hours, and ``cabinet`` that freezer; the room of the thaw, 0 to 45 °C, with its relative
    humidity (0.01 to 1) if it was read: without it the lid stays on until the food is within 3 K
    of the room. ``units`` are those of the sentences. Each part is rounded up to a quarter of an
    hour.

    Of loads that differ in what nobody measured nine in ten are cold sooner, and of those taken
    out then nine in ten are warm sooner: to add the two is cautious. The hours that a closed pail
    stays cold after it came out are not counted towards the hold. Raises ``NeverReady``. Answers
    are kept: a plan is worked out anew at every key typed.
    """
    hold = within("hold_h", hold_h, 0.0, 1000.0, "h")
    treat = within("treat_c", treat_c, -40.0, 0.0, "°C")
    members = heat.ensemble(_shape(figures), _filling(figures))
    reached = treat >= figures.freezer_temp_c + LEAST_DIFFERENCE_K
    cooling_h = math.inf
    if reached:
        history = _freezer_air(figures, beside, cabinet)
        hours = np.arange(0.0, _LONGEST_COOLING_H + _STEP_H, _STEP_H)
        core_c = members.temperatures_c(figures.start_temp_c, history, hours).core_c
        cooling_h = members.first_time_h(hours, core_c, at_or_below=treat).late_h
    if not math.isfinite(cooling_h):
        core, air_now, better = (
            say(each, Dimension.TEMPERATURE, units, 0.5)
            for each in (treat, figures.freezer_temp_c, treat - EASY_DIFFERENCE_K)
        )
        raise NeverReady(
            f"A core of {core} is not reached in a freezer at {air_now}. Set the freezer to "
            f"{better} or colder."
        )
    cooling_h = _quarter_up(cooling_h)
    history.append(
        heat.Surroundings(cooling_h + hold, room_temp_c, figures.room_coefficient_w_m2_k)
    )
    dew_point_c = (
        None if relative_humidity is None else air.dew_point_c(room_temp_c, relative_humidity)
    )
    limit = lid_limit(room_temp_c, dew_point_c)
    thaw_h = lid_on_h(
        members, figures.start_temp_c, history, cooling_h + hold, limit,
        look_ahead_h=_LONGEST_THAW_H,
    ).late_h  # fmt: skip
    if not math.isfinite(thaw_h):
        open_above, room = (
            say(each, Dimension.TEMPERATURE, units, 0.5)
            for each in (limit.open_above_c, room_temp_c)
        )
        raise NeverReady(
            f"The food does not reach {open_above} in a room at {room} within "
            f"{_LONGEST_THAW_H / 24.0:.0f} days. Thaw it in a warmer or drier room."
        )
    return Spell(cooling_h, hold, _quarter_up(thaw_h))


def _freezer_air(
    figures: PailLoad, beside: Iterable[PailLoad], cabinet: Cabinet
) -> list[heat.Surroundings]:
    """The air around the first of some pails that go into one freezer together."""
    together = Counter([figures, *beside])
    arrivals = [arrival_of(each, count) for each, count in together.items()]
    story = cabinet.story(figures.freezer_temp_c, arrivals, _PULL_DOWN_H)
    return list(story.surroundings(0))


def arrival_of(figures: PailLoad, count: int = 1) -> freezer.Arrival:
    """So many pails alike that go into a freezer at hour 0."""
    return freezer.Arrival(
        0.0, count, _shape(figures), _filling(figures), figures.start_temp_c,
        figures.freezer_coefficient_w_m2_k,
    )  # fmt: skip


def _shape(figures: PailLoad) -> heat.Cylinder:
    return heat.Cylinder(figures.radius_mm / 1000.0, figures.fill_height_mm / 1000.0)


def _filling(figures: PailLoad) -> heat.Filling:
    return heat.Filling(
        figures.conductivity_w_m_k, figures.heat_capacity_j_kg_k, figures.bulk_density_kg_m3
    )


def _quarter_up(hours: float) -> float:
    """To the next quarter of an hour: a calendar is not known to the minute."""
    return math.ceil(hours * 4.0 - 1e-6) / 4.0
