"""What was planned and what came of it: figures, lots, and who wrote it down."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.instants import Reading, local
from packdesk.present.label_text import (
    absorber_words,
    food_title,
    quality_years,
)
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection
from packdesk.present.record_front import net_total_g
from packdesk.present.tally_board import progress
from packdesk.session.book_state import Lot
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact
from packdesk.session.state import Plan, SessionState, State
from packdesk.session.tally import LineTally, tallies
from packdesk.units import Dimension, System, say


def _came_to(session: SessionState, tally: LineTally, measures: Measures) -> str:
    """How far the pouches of a line have come, and the food that is in them."""
    if not tally.filled:
        return progress(tally)
    mass_g = net_total_g(session, session.working_pouches(tally.line.line))
    return f"{progress(tally)}; {measures.mass(mass_g)}"


def plan_and_outcome(session: SessionState, measures: Measures) -> OutlineSection:
    """What was agreed beside what came of it."""
    rows = tuple(
        (
            food_title(tally.line.food_name),
            tally.line.pouch_name,
            f"{tally.line.count} × {measures.mass(tally.line.fill_mass_g)}",
            absorber_words(tally.line),
            _came_to(session, tally, measures),
        )
        for tally in tallies(session)
    )
    plan = session.plan
    if plan is None:
        return OutlineSection("Plan and outcome", ("No plan was agreed.",))
    working = "one by one (numbered)" if plan.numbered else "in groups that are alike (counted)"
    return OutlineSection(
        "Plan and outcome",
        (
            (
                f"Packed at {_elevation(plan.elevation_m, measures)} above sea level, planned for "
                f"{measures.reading(plan.packing_temp_c)}; pouches were worked {working}."
            ),
            *_allergens(plan),
        ),
        ("Food", "Pouch", "Planned", "Absorbers in each", "Outcome") if rows else (),
        rows,
    )


def _elevation(elevation_m: float, measures: Measures) -> str:
    return say(elevation_m, Dimension.ELEVATION, System(measures.system), 1.0)


def _allergens(plan: Plan) -> tuple[str, ...]:
    """What somebody may be allergic to, and in which food it is."""
    found = [
        f"{' and '.join(line.allergens)} (in {line.food_name})"
        for line in plan.lines
        if line.allergens
    ]
    return (f"Allergens: {', '.join(found)}.",) if found else ()


def figures_of_the_plan(session: SessionState, measures: Measures) -> OutlineSection:
    """What the plan rests on, as it was recorded when it was agreed."""
    lines = session.plan.lines if session.plan is not None else ()
    rows = tuple(
        (
            food_title(line.food_name),
            f"{line.capacity_l:.2f} L",
            f"{line.bulk_density_g_per_cc:.2f} g/cc",
            f"{line.air_cc:.0f} cc",
            f"{line.oxygen_need_cc:.0f} cc" if line.absorbers_cc else "–",
            f"{line.recommended_cc:.0f} cc" if line.absorbers_cc else "–",
            _film(line.years_to_one_percent),
            f"{quality_years(line)} years",
        )
        for line in lines
    )
    said = (
        (
            "Density: of the food once settled. Air is what a full pouch shuts in between the "
            "grains and above them; oxygen is that of this air with a year's leakage through the "
            "film, and absorber how much of it is advised. Film: how long it keeps the pouch below "
            "1 % oxygen by its own figure."
        ),
        *(f"{food_title(line.food_name)}: {each}" for line in lines for each in line.warnings),
    )
    return OutlineSection(
        "What the plan rests on",
        said if rows else (),
        ("Food", "Pouch holds", "Density", "Air", "Oxygen", "Absorber", "Film", "Quality")
        if rows
        else (),
        rows,
    )


def _film(years: float | None) -> str:
    if years is None:
        return "–"
    return "100+ years" if years >= 100.0 else f"{years:.0f} years"


def lots(state: State, session: SessionState, measures: Measures, now: Reading) -> OutlineSection:
    """The purchases that went into it."""
    used = {line.lot for line in session.plan.lines} if session.plan is not None else set()
    used |= {load.lot for load in session.loads.values()} | set(session.bypassed)
    used |= {lot.lot for lot in state.book.lots.values() if _came_in(session, lot)}
    rows = tuple(
        (
            lot.lot,
            food_title(lot.food_name),
            measures.mass(lot.mass_g),
            lot.supplier_lot or "none",
            f"{local(lot.received_at, now.offset_min_at):%Y-%m-%d}",
            lot.verdict + (f", {lot.seen}" if lot.seen else ""),
        )
        for lot in state.book.lots.values()
        if lot.lot in used
    )
    return OutlineSection(
        "Lots",
        tuple(
            f"Lot {lot} went without cold treatment: {reason}."
            for lot, reason in session.bypassed.items()
        ),
        ("Lot", "Food", "Mass", "Supplier's lot", "Received", "Look") if rows else (),
        rows,
    )


def _came_in(session: SessionState, lot: Lot) -> bool:
    """Whether a lot was received while the session was open, used in it or not."""
    closed_at = session.closed_at or lot.received_at
    return session.opened_at <= lot.received_at <= closed_at


def written_by(entries: Sequence[Entry]) -> OutlineSection:
    """Who wrote the record, when, and how much of it only afterwards."""
    if not entries:
        return OutlineSection("Who wrote this down")
    by_name: dict[str, list[Entry]] = {}
    by_itself = 0
    for entry in entries:
        if isinstance(entry.fact, Fact) and not entry.fact.by_person:
            by_itself += 1
        else:
            by_name.setdefault(entry.who or "somebody who gave no name", []).append(entry)

    def day(entry: Entry) -> str:
        return f"{local(entry.recorded.utc, entry.recorded.utc_offset_min):%Y-%m-%d}"

    late = sum(
        (entry.recorded.utc - entry.happened_at).total_seconds() >= 300.0 for entry in entries
    )
    stations = len({entry.station for entry in entries})
    said = [
        f"{len(each)} {'entry' if len(each) == 1 else 'entries'} by {who}, "
        f"{day(each[0])} to {day(each[-1])}."
        for who, each in by_name.items()
    ]
    if by_itself:
        said.append(f"{by_itself} noted by PackDesk itself: alarms that rang or were stopped.")
    said.append(
        f"They were written on {stations} computer{'s' if stations > 1 else ''}; "
        f"{late or 'none'} of them more than five minutes after the event."
    )
    return OutlineSection("Who wrote this down", tuple(said))
