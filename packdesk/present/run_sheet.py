"""The run on paper: what to do in order, with boxes to check and room to write times.

What is written on it is entered afterwards as having happened then.
"""

from __future__ import annotations

from packdesk.catalog.read import Catalog
from packdesk.instants import Reading, local, span
from packdesk.present.label_text import absorber_words, food_title, identities, identity
from packdesk.present.measures import Measures
from packdesk.present.papers import RunPart, RunSheet, RunStep, RunTable
from packdesk.present.run_cold import blanks, cold, load_rows, thaw
from packdesk.session.figures import AgreedLine
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
    "Times as HH:MM, with the day where it is another; a time you did not read from a clock: write "
    "“about”. Afterwards enter each line with its own time; PackDesk takes “Fri 21:30”, "
    "“2026-11-20 21:30” and “about 21:30”."
)

_ROUND_ROWS, _SEAL_ROWS, _PAIL_ROWS, _NOTE_ROWS = 3, 4, 3, 5
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
    pack = f", packing on {local(plan.pack_at, now.offset_min_at):%Y-%m-%d}" if plan.pack_at else ""
    rows = tuple(load_rows(session, plan, measures, now, catalog))
    parts = (
        cold(session, plan, rows, measures, now, catalog),
        thaw(session, len(rows), measures),
        _filling(session, plan, measures),
        _absorbers(plan),
        _sealing(plan, catalog),
        _labels(session),
        _pails(session),
        _checks(),
        RunPart(
            "Notes",
            steps=(RunStep("This sheet was written by", blanks("name", "from", "to")),),
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
                blanks("begun", "done", "filled"),
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
                (
                    "Packet",
                    "Bag",
                    "Indicator",
                    "Absorbers",
                    "Opened",
                    "First in",
                    "Last in",
                    "Pouches",
                    "Left",
                    "Jar shut",
                ),
                (("", "tight / slack", "oxygen / no", "soft / hard", *("",) * 6),) * _ROUND_ROWS,
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
                blanks("at", "first", "last"),
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
