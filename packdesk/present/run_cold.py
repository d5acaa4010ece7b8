"""The freezer and the thaw on the run sheet: each load with room for what is read meanwhile."""

from __future__ import annotations

from collections.abc import Iterator

from packdesk.catalog.foods import LowOxygen
from packdesk.catalog.read import Catalog
from packdesk.instants import Reading, date_and_time
from packdesk.physics.plain_rule import RULE_AT_C, RULE_HELD_H
from packdesk.present.freezer_plan import (
    FREEZER_HEADER,
    FreezerPlan,
    Waiting,
    freezer_plan,
)
from packdesk.present.known_freezers import known_freezers
from packdesk.present.label_text import food_title
from packdesk.present.measures import Measures
from packdesk.present.papers import RunBlank, RunPart, RunStep, RunTable
from packdesk.session.figures import AgreedLine
from packdesk.session.load import Load
from packdesk.session.state import Plan, SessionState

_READING_ROWS = 6


def cold(
    session: SessionState,
    plan: Plan,
    rows: tuple[tuple[str, ...], ...],
    measures: Measures,
    now: Reading,
    catalog: Catalog,
) -> RunPart | None:
    """The loads there are and those to come (`rows`), with room for what is read meanwhile."""
    if not rows:
        return None
    loads = tuple(session.loads.values())
    hold_h = loads[0].forecast.hold_h if loads else RULE_HELD_H
    treat_c = loads[0].forecast.treat_c if loads else RULE_AT_C
    degrees = "°F" if session.units == "us" else "°C"
    freezer = _freezer(session, plan, now, catalog)
    by_when = (RunTable(FREEZER_HEADER, tuple(row.cells for row in freezer.rows)),)
    return RunPart(
        "Cold treatment",
        (
            (
                f"The core of each load is to be at {measures.temperature(treat_c)} or below for "
                f"{hold_h:.0f} h; the core follows the freezer by a day or more."
            ),
            *(said for said in (freezer.sentence, freezer.cure, *freezer.notes) if said),
        ),
        (
            RunStep("A probe stands in the middle of the fullest pail; every lid is on."),
            RunStep("No load is opened before it is warm again."),
        ),
        (
            *(by_when if freezer.rows else ()),
            RunTable(
                ("Load", "Food and lot", "Mass", "In the freezer", f"Freezer {degrees}", "Out"),
                rows,
            ),
            RunTable(
                ("Read at", "Load, or freezer", degrees),
                (("", "", ""),) * _READING_ROWS,
            ),
        ),
    )


def _freezer(session: SessionState, plan: Plan, now: Reading, catalog: Catalog) -> FreezerPlan:
    """By when the lots still outside go in, for the packing day agreed."""
    if plan.pack_at is None:
        return FreezerPlan()
    inside = {load.lot for load in session.loads.values()} | set(session.bypassed)
    waiting: dict[str, Waiting] = {}
    for line in plan.lines:
        if line.lot not in inside:
            before_g = waiting[line.lot].mass_g if line.lot in waiting else 0.0
            waiting[line.lot] = Waiting(line.lot, line.food, before_g + line.mass_g)
    return freezer_plan(
        waiting.values(),
        plan.pack_at,
        catalog,
        now,
        known=known_freezers(session),
        room_temp_c=plan.packing_temp_c,
        units=session.units,
    )


def load_rows(
    session: SessionState, plan: Plan, measures: Measures, now: Reading, catalog: Catalog
) -> Iterator[tuple[str, ...]]:
    """The loads there are, then those that the plan still asks for."""
    for load in session.loads.values():
        yield (
            load.load,
            f"{food_title(load.food_name)}, {load.lot}",
            measures.mass(load.mass_g),
            date_and_time(load.frozen.utc, now.offset_min_at),
            measures.reading(load.figures.freezer_temp_c),
            _out(load, now),
        )
    frozen = {load.lot for load in session.loads.values()} | set(session.bypassed)
    for line in plan.lines:
        if line.lot not in frozen:
            for mass_g in _load_masses(line, catalog):
                yield (
                    "",
                    f"{food_title(line.food_name)}, {line.lot}",
                    measures.mass(mass_g),
                    "",
                    "",
                    "",
                )


def _out(load: Load, now: Reading) -> str:
    out = load.taken_out
    return date_and_time(out.utc, now.offset_min_at) if out is not None else ""


def _load_masses(line: AgreedLine, catalog: Catalog) -> tuple[float, ...]:
    """How a lot is divided into pails; nothing for what needs no cold."""
    from packdesk.planning.loads import pail_loads  # loads numpy
    from packdesk.planning.plan import usual_pail

    food = catalog.foods.get(line.food)
    if food is None:
        return (line.mass_g,)
    if food.low_oxygen is LowOxygen.NOT_NEEDED:
        return ()
    return pail_loads(line.mass_g, food, usual_pail(catalog))


def thaw(session: SessionState, of_them: int, measures: Measures) -> RunPart | None:
    """A line for each load that is still shut, of `of_them` that go through the cold."""
    shut = [load for load in session.loads.values() if load.uncovered is None]
    to_come = of_them - len(session.loads)
    if not shut and not to_come:
        return None
    limits = [
        f"load {load.load} above {measures.temperature(load.thaw.open_above_c)}"
        for load in shut
        if load.thaw is not None
    ]
    limit = f" Open {', '.join(limits)}." if limits else ""
    return RunPart(
        "Thaw equilibration",
        (
            (
                "Lids stay on until the food is 2 K (4 °F) above the room's dew point, or within "
                f"3 K (5 °F) of the room where no humidity is read.{limit}"
            ),
        ),
        (
            RunStep("The room was read", blanks("at", "temperature", "humidity %")),
            *(
                RunStep(f"Load {load.load}: wipe lid and rim dry, then open", blanks("opened at"))
                for load in shut
            ),
            *(RunStep("Wipe lid and rim dry, then open", blanks("load", "opened at")),) * to_come,
        ),
    )


def blanks(*labels: str) -> tuple[RunBlank, ...]:
    """Places to write on, each with what goes there."""
    return tuple(RunBlank(label) for label in labels)
