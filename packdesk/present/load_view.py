"""The loads as a chooser shows them, and what the next one into the freezer would rest on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import msgspec

from packdesk.catalog.foods import Food
from packdesk.catalog.pails import Pail
from packdesk.catalog.read import Catalog
from packdesk.instants import Reading, day_and_time, span
from packdesk.present.measures import Measures
from packdesk.session.agreed_plan import recorded_figures
from packdesk.session.book_state import BookState
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.figures import KillFigures, LoadFigures
from packdesk.session.load import Load
from packdesk.session.state import SessionState
from packdesk.session.terms import Stands
from packdesk.units import Dimension, System, say


@dataclass(frozen=True, slots=True)
class LoadTab:
    """One load in the chooser: its letter, its food, and how it stands in a few words."""

    letter: str
    food: str
    note: str


@dataclass(frozen=True, slots=True)
class FreezerSaid:
    """What a person says of the freezer a load goes into, and of its place in it.

    `capacity_g` is the freezing capacity in 24 hours on its rating plate; None: what is known of it
    otherwise, `known_power_w`, or a usual one.
    """

    temp_c: float
    freezer: int = 1
    stands: Stands = Stands.FREE_AIR
    height_mm: float | None = None
    capacity_g: float | None = None
    known_power_w: float | None = None


def load_tabs(session: SessionState, loads: Iterable[Load], now: Reading) -> tuple[LoadTab, ...]:
    """Say how each of `loads` stands."""
    kinds = (ClockKind.COLD, ClockKind.THAW)
    clocks = {clock.subject: clock for clock in running(session) if clock.kind in kinds}
    tabs = []
    for load in loads:
        clock = clocks.get(load.load)
        if clock is None:
            opened = "opened early" if load.uncover_reason else "open"
            note = opened if load.uncovered is not None else "no end in sight"
        else:
            stands = standing(clock, now)
            if not stands.due:
                warming = "warming, " if clock.kind is ClockKind.THAW else ""
                note = f"{warming}{span(stands.remaining_s)} to go"
            elif clock.kind is ClockKind.COLD:
                note = "cold enough"
            else:
                note = f"ready since {day_and_time(stands.due_at, now.offset_min_at)}"
        tabs.append(LoadTab(load.load, short_food(load.food_name), note))
    return tuple(tabs)


def short_food(name: str) -> str:
    """A food as a sentence calls it: its name without what tells it from its kin."""
    return name.partition(",")[0]


def unfrozen_g(session: SessionState, book: BookState, lot: str) -> float:
    """How much of a lot has not gone into the freezer yet."""
    frozen = sum(load.mass_g for load in session.loads.values() if load.lot == lot)
    return max(0.0, book.lots[lot].mass_g - frozen) if lot in book.lots else 0.0


def usual_load_g(
    session: SessionState, book: BookState, catalog: Catalog, lot: str, pail: str
) -> float:
    """What the next pail of a lot usually takes: the rest, shared out evenly over its pails."""
    from packdesk.planning.loads import pail_loads  # loads numpy

    rest_g = unfrozen_g(session, book, lot)
    food = catalog.foods.get(book.lots[lot].food) if lot in book.lots else None
    if rest_g <= 0.0 or food is None or pail not in catalog.pails:
        return 0.0
    return pail_loads(rest_g, food, catalog.pails[pail])[0]


def fill_words(food: Food, pail: Pail, mass_g: float, measures: Measures) -> str:
    """How high a mass of a food stands in a pail, for the eye to check; empty if it does not fit.

    The heat of a load goes by its mass and the food's density; a pail that is filled otherwise
    than that holds another mass, or other food.
    """
    from packdesk.planning.loads import fill_height_mm  # loads numpy

    try:
        high_mm = fill_height_mm(food, pail, mass_g)
    except ValueError:
        return ""
    system = System(measures.system)
    high, inside = (
        say(each, Dimension.LENGTH, system, 5.0) for each in (high_mm, pail.inner_height_mm)
    )
    return f"{measures.mass(mass_g)} fills this pail to about {high} of its {inside}."


def load_figures_of(
    catalog: Catalog,
    food: str,
    pail: str,
    mass_g: float,
    start_temp_c: float,
    freezer: FreezerSaid,
) -> LoadFigures:
    """What the heat reckoning of a pail rests on; raises `ValueError` when it does not fit."""
    from packdesk.physics.freezer import spare_power_w  # these load numpy
    from packdesk.planning import loads

    found = loads.load_figures(
        catalog.foods[food],
        catalog.pails[pail],
        mass_g,
        start_temp_c=start_temp_c,
        freezer_temp_c=freezer.temp_c,
        freezer_coefficient_w_m2_k={
            Stands.FREE_AIR: loads.FREEZER_COEFFICIENT_W_M2_K,
            Stands.TOUCHING: loads.TOUCHING_COEFFICIENT_W_M2_K,
            Stands.STACKED: loads.STACKED_COEFFICIENT_W_M2_K,
        }[freezer.stands],
    )
    return msgspec.structs.replace(
        recorded_figures(found),
        freezer=freezer.freezer,
        stands=freezer.stands,
        freezer_height_mm=freezer.height_mm,
        capacity_g=freezer.capacity_g,
        spare_power_w=(
            freezer.known_power_w or loads.USUAL_SPARE_POWER_W
            if freezer.capacity_g is None
            else round(spare_power_w(freezer.capacity_g / 1000.0), 1)
        ),
        frozen_food_kg=loads.USUAL_FROZEN_KG,
        life_stages=kill_figures(catalog),
    )


def kill_figures(catalog: Catalog) -> tuple[KillFigures, ...]:
    """The toughest life stages of the catalogue, as a load's figures keep them."""
    from packdesk.planning.life_stages import toughest  # loads numpy

    return tuple(
        KillFigures(
            name=stage.name,
            temps_c=stage.temps_c,
            kill_hours=stage.kill_hours,
            grade=str(stage.grade),
            source=stage.source,
        )
        for stage in toughest(catalog.life_stages.values())
    )
