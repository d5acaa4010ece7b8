"""The run on paper: what to do in order, with boxes to check and room to write times.

What is written on it is entered afterwards as having happened then.
"""

from __future__ import annotations

from collections.abc import Iterator

from packdesk.catalog.foods import LowOxygen
from packdesk.catalog.read import Catalog
from packdesk.instants import Reading, date_and_time, local, span
from packdesk.present.freezer_plan import (
    FREEZER_HEADER,
    HOLD_H,
    TREAT_C,
    FreezerPlan,
    Waiting,
    freezer_plan,
)
from packdesk.present.known_freezers import known_freezers
from packdesk.present.label_text import absorber_words, food_title, identities, identity
from packdesk.present.measures import Measures
from packdesk.present.papers import RunBlank, RunPart, RunSheet, RunStep, RunTable
from packdesk.session.figures import AgreedLine
from packdesk.session.load import Load
from packdesk.session.numbering import numbers_by_line
from packdesk.session.state import Plan, SessionState

CAUTIONS = (
    (
        "Only dry, lean food is shut up without oxygen: moist or oily food can grow the germ of "
        "botulism. Your local food-safety authority has the last word."
    ),
    (
        "The iron burns. Absorbers are not food. Pouches, liners and pails are no toys: keep "
        "children away. Lift pails close to the body, from 16 kg (35 lb) on with two."
    ),
)

FOOT = (
    "Times as HH:MM; a time you did not read from a clock: write “about”. Afterwards enter each "
    "line with its own time; PackDesk takes “yesterday 21:30” and “about 21:30”."
)

_READING_ROWS, _ROUND_ROWS, _SEAL_ROWS, _PAIL_ROWS, _NOTE_ROWS = 6, 3, 4, 3, 5
_MASSES_ACROSS = 4
_NOTED = "What was different, and why: seams that failed, pouches set aside, counts by hand"


def run_sheet(session: SessionState, now: Reading, catalog: Catalog) -> RunSheet:
    """Set out the whole run of a session with an agreed plan.

    Raises `ValueError`, in words, without a plan.
    """
    plan = session.plan
    if plan is None:
        raise ValueError("This session has no plan yet. Agree one; the run sheet follows it.")
    measures = Measures(session.units)
    pack = (
        f", packing on {local(plan.pack_at, now.utc_offset_min):%Y-%m-%d}" if plan.pack_at else ""
    )
    rows = tuple(_load_rows(session, plan, measures, now, catalog))
    parts = (
        _cold(session, plan, rows, measures, now, catalog),
        _thaw(session, len(rows), measures),
        _filling(session, plan, measures),
        _absorbers(plan),
        _sealing(plan, catalog),
        _labels(session),
        _pails(session),
        _checks(),
        RunPart(
            "Notes",
            steps=(RunStep("This sheet was written by", _blanks("name", "from", "to")),),
            tables=(RunTable(("When", _NOTED), (("", ""),) * _NOTE_ROWS),),
        ),
    )
    return RunSheet(
        title=f"Run sheet: {session.name}",
        subtitle=f"Packing session {session.code}{pack}",
        cautions=(*CAUTIONS, *_against_advice(plan)),
        parts=tuple(part for part in parts if part is not None),
        foot=FOOT,
    )


def _against_advice(plan: Plan) -> tuple[str, ...]:
    """The foods that are never to be sealed and are all the same, with the reason given."""
    return tuple(
        f"Put up against advice: {line.food_name}. {line.never} No absorber goes "
        f"in. Reason given: {line.against_advice}."
        for line in plan.lines
        if line.never
    )


# Cold treatment and thaw equilibration ------------------------------------------------------------


def _cold(
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
    hold_h = loads[0].forecast.hold_h if loads else HOLD_H
    treat_c = loads[0].forecast.treat_c if loads else TREAT_C
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


def _load_rows(
    session: SessionState, plan: Plan, measures: Measures, now: Reading, catalog: Catalog
) -> Iterator[tuple[str, ...]]:
    """The loads there are, then those that the plan still asks for."""
    for load in session.loads.values():
        yield (
            load.load,
            f"{food_title(load.food_name)}, {load.lot}",
            measures.mass(load.mass_g),
            date_and_time(load.frozen.utc, now.utc_offset_min),
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
    return date_and_time(out.utc, now.utc_offset_min) if out is not None else ""


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


def _thaw(session: SessionState, of_them: int, measures: Measures) -> RunPart | None:
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
            RunStep("The room was read", _blanks("at", "temperature", "humidity %")),
            *(
                RunStep(f"Load {load.load}: wipe lid and rim dry, then open", _blanks("opened at"))
                for load in shut
            ),
            *(RunStep("Wipe lid and rim dry, then open", _blanks("load", "opened at")),) * to_come,
        ),
    )


# Filling and sealing ------------------------------------------------------------------------------


def _filling(session: SessionState, plan: Plan, measures: Measures) -> RunPart:
    steps = []
    coming = numbers_by_line(session)
    tables = []
    for line in plan.lines:
        last = (
            f", the last to {measures.mass(line.last_fill_mass_g)}"
            if line.last_fill_mass_g not in (None, line.fill_mass_g)
            and line.last_fill_mass_g is not None
            else ""
        )
        dust = " Wipe the seam band: it is a powder." if line.dusty else ""
        caution = f" {line.caution}" if line.caution else ""
        steps.append(
            RunStep(
                f"{line.count} × {line.food_name} into {line.pouch_name}: "
                f"{measures.mass(line.fill_mass_g)} each{last}. Lot {line.lot}.{dust}{caution}",
                _blanks("begun", "done", "filled"),
            )
        )
        if plan.numbered and coming[line.line]:
            tables.append(_masses(session, line, coming[line.line]))
    return RunPart("Filling", steps=tuple(steps), tables=tuple(tables))


def _masses(session: SessionState, line: AgreedLine, numbers: tuple[int, ...]) -> RunTable:
    """A place for the mass of each pouch that has a number."""
    names = [identity(session, number) for number in numbers]
    names += [""] * (-len(names) % _MASSES_ACROSS)
    rows = len(names) // _MASSES_ACROSS
    header = (food_title(line.food_name), "Mass", *("Pouch", "Mass") * (_MASSES_ACROSS - 1))
    columns = [names[start : start + rows] for start in range(0, len(names), rows)]
    return RunTable(
        header,
        tuple(
            tuple(cell for column in columns for cell in (column[row], "")) for row in range(rows)
        ),
    )


def _absorbers(plan: Plan) -> RunPart | None:
    ratings = sorted({rating for line in plan.lines for rating in line.absorbers_cc})
    if not ratings:
        return None
    from packdesk.session.exposure import open_limit  # loads numpy

    limits: dict[str, list[str]] = {}
    for rating in ratings:
        _, minutes = open_limit(plan, rating, 0.0, plan.packing_temp_c)
        limits.setdefault(span(minutes * 60.0), []).append(f"{rating} cc")
    said = [
        f"{' and '.join(which)}: at most {limit} from opening to the last one shut in"
        for limit, which in limits.items()
    ]
    each = [
        f"{food_title(line.food_name)}: {absorber_words(line)}"
        for line in plan.lines
        if line.absorbers_cc
    ]
    return RunPart(
        "Absorbers",
        (f"{'; '.join(said)}.", f"{'. '.join(each)}."),
        (
            RunStep(
                "Pouches stand open and filled, the iron is hot, a jar with its lid is at hand."
            ),
        ),
        (
            RunTable(
                ("Packet", "Bag", "Opened", "First in", "Last in", "Pouches", "Left", "Jar shut"),
                (("", "tight / slack", "", "", "", "", "", ""),) * _ROUND_ROWS,
            ),
        ),
    )


def _sealing(plan: Plan, catalog: Catalog) -> RunPart:
    films = dict.fromkeys(line.film for line in plan.lines)
    return RunPart(
        "Sealing",
        tuple(
            f"{food_title(film.name)}: {film.iron_advice}"
            for key in films
            if (film := catalog.films.get(key)) is not None
        ),
        (RunStep("The first seam was tried on an empty pouch, and held."),),
        (RunTable(("Pouches", "Seams", "At", "Remarks"), (("", "", "", ""),) * _SEAL_ROWS),),
    )


# After --------------------------------------------------------------------------------------------


def _labels(session: SessionState) -> RunPart:
    done = [pouch.number for pouch in session.working_pouches() if pouch.labelled]
    had = (f"Labelled already: {identities(session, done)}.",) if done else ()
    return RunPart(
        "Labels",
        had,
        (
            RunStep(
                "Labels are on, each on the pouch whose number it bears",
                _blanks("at", "first", "last"),
            ),
        ),
    )


def _pails(session: SessionState) -> RunPart:
    filled = tuple(
        (pail.pail, identities(session, pail.pouches), "", "on" if pail.lidded else "")
        for pail in session.pails.values()
        if pail.pouches
    )
    return RunPart(
        "Pails",
        tables=(
            RunTable(
                ("Pail", "Pouches", "Stowed at", "Lid on at"),
                (*filled, *(("", "", "", ""),) * _PAIL_ROWS),
            ),
        ),
    )


def _checks() -> RunPart:
    looks = ("after a day", "after a week", "after half a year")
    return RunPart(
        "Seal checks",
        ("A swollen pouch is not opened: discard it.",),
        tables=(
            RunTable(
                ("Look", "At", "Tight", "Snug", "Soft", "Swollen"),
                tuple((look, "", "", "", "", "") for look in looks),
            ),
        ),
    )


def _blanks(*labels: str) -> tuple[RunBlank, ...]:
    return tuple(RunBlank(label) for label in labels)
