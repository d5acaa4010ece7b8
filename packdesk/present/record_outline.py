"""The session record from title to sources, for somebody who was not there."""

from __future__ import annotations

import statistics
from collections.abc import Sequence

from packdesk.instants import Reading, date_and_time, local, span
from packdesk.present.cards import OutlineSection, RecordOutline
from packdesk.present.label_text import absorber_words, best_quality, identity, packed_on
from packdesk.present.measures import Measures
from packdesk.present.story import story_lines
from packdesk.present.tally_board import progress
from packdesk.present.words import LATE_S, alarm_said, fact_words
from packdesk.session.envelope import Entry
from packdesk.session.figures import Span, ThawForecast
from packdesk.session.net_mass import net_mass_g
from packdesk.session.state import Load, SessionState, State
from packdesk.session.tally import tallies
from packdesk.session.terms import LidRule
from packdesk.session.verdicts import Enough, verdict

VERDICT_WORDS = {
    Enough.ENOUGH: "enough",
    Enough.MARGINAL: "marginal",
    Enough.ADD_ONE: "add one more",
    Enough.NOT_NEEDED: "not needed",
}

CAUTIONS = (
    (
        "Only dry food, about 10 % moisture or less and low in fat, may be stored without oxygen. "
        "Moist or oily food without oxygen can grow the germ of botulism, which cannot be smelt."
    ),
    "Take the absorber out before cooking; it is not food. Discard a swollen pouch unopened.",
    (
        "Dates are for best quality at about 21 °C. What your local food-safety authority says "
        "comes before anything that stands here."
    ),
)


def record_outline(state: State, entries: Sequence[Entry], now: Reading) -> RecordOutline:
    """Set out everything the record knows of the open session."""
    session = state.session
    assert session is not None, "a record is made of an open session"
    measures = Measures(session.units)
    opened = local(session.opened_at, now.utc_offset_min)
    sections = [
        _plan(session, measures),
        _lots(state, session, measures, now),
        *_loads(session, measures, now),
        _rounds(session, now),
        _pouches(session, measures, now),
        _checks(session, now),
        _deviations(state, session, entries, measures),
        OutlineSection(
            title="Every entry",
            sentences=("In the order recorded; what was voided is struck through.",),
            facts=story_lines(entries, measures),
        ),
        OutlineSection(title="Cautions", sentences=CAUTIONS),
    ]
    closed = "closed" if session.closed_at is not None else "still open"
    return RecordOutline(
        title=session.name,
        subtitle=f"Packing session {session.code}, begun {opened:%Y-%m-%d}, {closed}",
        sections=tuple(section for section in sections if _says_something(section)),
        foot=(
            f"Made {date_and_time(now.utc, now.utc_offset_min)} from "
            f"{len(entries)} entries by PackDesk"
        ),
    )


def _says_something(section: OutlineSection) -> bool:
    return bool(section.sentences or section.rows or section.facts)


def _plan(session: SessionState, measures: Measures) -> OutlineSection:
    rows = []
    for tally in tallies(session):
        line = tally.line
        rows.append(
            (
                line.food_name,
                line.pouch_name,
                f"{line.count} × {measures.mass(line.fill_mass_g)}",
                f"{line.oxygen_need_cc:.0f} cc",
                absorber_words(line),
                progress(tally),
            )
        )
    if not rows:
        return OutlineSection(title="Plan and outcome")
    assert session.plan is not None, "tallies come from a plan"
    return OutlineSection(
        title="Plan and outcome",
        sentences=(
            (
                "Oxygen to take up is that of the air in one pouch at "
                f"{session.plan.elevation_m:.0f} m above sea level, with a year's leakage."
            ),
        ),
        header=("Food", "Pouch", "Planned", "Oxygen", "Absorbers", "Outcome"),
        rows=tuple(rows),
    )


def _lots(state: State, session: SessionState, measures: Measures, now: Reading) -> OutlineSection:
    used = {line.lot for line in session.plan.lines} if session.plan is not None else set()
    used |= {load.lot for load in session.loads.values()} | set(session.bypassed)
    rows = tuple(
        (
            lot.lot,
            lot.food_name,
            measures.mass(lot.mass_g),
            lot.supplier_lot or "none",
            f"{local(lot.received_at, now.utc_offset_min):%Y-%m-%d}",
            lot.verdict + (f", {lot.seen}" if lot.seen else ""),
        )
        for lot in state.book.lots.values()
        if lot.lot in used
    )
    bypassed = tuple(
        f"Lot {lot} went without cold treatment: {reason}."
        for lot, reason in session.bypassed.items()
    )
    return OutlineSection(
        title="Lots",
        sentences=bypassed,
        header=("Lot", "Food", "Mass", "Supplier's lot", "Received", "Look") if rows else (),
        rows=rows,
    )


def _loads(session: SessionState, measures: Measures, now: Reading) -> tuple[OutlineSection, ...]:
    return tuple(_load(load, measures, now) for load in session.loads.values())


def _load(load: Load, measures: Measures, now: Reading) -> OutlineSection:
    offset = now.utc_offset_min
    said = [
        (
            f"{measures.mass(load.mass_g)} of lot {load.lot} in {load.container_name}, "
            f"into a freezer at {measures.temperature(load.figures.freezer_temp_c)} on "
            f"{date_and_time(load.frozen.utc, offset)}."
        ),
    ]
    if load.forecast.cold_from is not None:
        said.append(
            f"The core was reckoned to reach {measures.temperature(load.forecast.treat_c)} "
            f"{_between(load.forecast.cold_from, offset)}."
        )
    if load.taken_out is not None:
        short = f" Ended early: {load.short_reason}." if load.short_reason else ""
        said.append(
            f"Taken out, lid on, {date_and_time(load.taken_out.utc, offset)}: held "
            f"{load.held_h:.0f} h of {load.forecast.hold_h:.0f} h, the lag in the closed pail "
            f"counted.{short}"
        )
    if load.thaw is not None:
        said.append(
            f"The lid was to stay on until the food was above "
            f"{measures.temperature(load.thaw.open_above_c)}: {_rule(load.thaw, measures)}."
        )
    if load.uncovered is not None:
        early = f" Opened early: {load.uncover_reason}." if load.uncover_reason else ""
        said.append(f"Opened {date_and_time(load.uncovered.utc, offset)}.{early}")
    rows = tuple(
        (date_and_time(reading.at, offset), reading.probe, measures.temperature(reading.temp_c))
        for reading in load.readings
    )
    return OutlineSection(
        title=f"Load {load.load}: {load.food_name}",
        sentences=tuple(said),
        header=("Read", "Where", "Temperature") if rows else (),
        rows=rows,
    )


def _rule(thaw: ThawForecast, measures: Measures) -> str:
    if thaw.rule is LidRule.ROOM or thaw.dew_point_c is None:
        return "3 K below the room, no humidity being read"
    dew_point = f"the room's dew point of {measures.temperature(thaw.dew_point_c)}"
    if thaw.rule is LidRule.DEW_POINT:
        return f"{dew_point} plus 2 K"
    sweats = "" if thaw.dry else "; food that warm may still have sweated"
    return f"as warm as the room makes it, so close was {dew_point}{sweats}"


def _between(band: Span, offset_min: int) -> str:
    """A range with its dates: a record is read years later."""
    early, late = date_and_time(band.early, offset_min), date_and_time(band.late, offset_min)
    return f"between {early} and {late}"


def _rounds(session: SessionState, now: Reading) -> OutlineSection:
    rows = []
    for round_ in session.rounds.values():
        placed = [
            placed
            for pouch in session.pouches.values()
            for placed in (*pouch.spent, *pouch.placed)
            if placed.round == round_.round
        ]
        lows = [each.capacity_low_cc for each in placed]
        left = f"{min(lows):.0f} to {max(lows):.0f} cc" if lows else "none placed"
        rows.append(
            (
                str(round_.round),
                round_.source,
                f"{round_.count} × {round_.rating_cc} cc",
                date_and_time(round_.started.utc, now.utc_offset_min),
                f"{round_.limit_min:.0f} min, {round_.limit.replace('_', ' ')}",
                left,
            )
        )
    return OutlineSection(
        title="Rounds of absorbers",
        sentences=(
            "What an absorber had left when it was shut in, at the fast end of published uptake.",
        )
        if rows
        else (),
        header=("Round", "From", "Absorbers", "Opened", "Limit", "Left in each") if rows else (),
        rows=tuple(rows),
    )


def _pouches(session: SessionState, measures: Measures, now: Reading) -> OutlineSection:
    rows = []
    for pouch in session.pouches.values():
        line = session.plan.line(pouch.line) if session.plan is not None else None
        if line is None:
            continue
        found = verdict(line, pouch)
        packed = packed_on(pouch, now.utc_offset_min)
        mass = (
            measures.mass(pouch.net_mass_g)
            if pouch.net_mass_g is not None
            else f"about {measures.mass(net_mass_g(session, line, pouch))}"
        )
        rows.append(
            (
                identity(session, pouch.number),
                line.food_name,
                mass,
                VERDICT_WORDS[found.verdict] if found is not None else "none yet",
                f"emptied: {pouch.aside}" if pouch.emptied else pouch.stage.replace("_", " "),
                pouch.pail or "–",
                best_quality(line, packed),
            )
        )
    if not rows:
        return OutlineSection(title="Pouches")
    weighed = [p.net_mass_g for p in session.working_pouches() if p.net_mass_g is not None]
    said = ["Absorbers judged against the oxygen of the pouch."]
    if len(weighed) > 1:
        said.append(
            f"{len(weighed)} weighed: mean {measures.mass(statistics.fmean(weighed))}, "
            f"from {measures.mass(min(weighed))} to {measures.mass(max(weighed))}."
        )
    if any(not pouch.told_apart for pouch in session.pouches.values()):
        said.append("Pouches were worked in groups: times and verdicts hold for the group.")
    return OutlineSection(
        title="Pouches",
        sentences=tuple(said),
        header=("Pouch", "Food", "Mass", "Absorbers", "State", "Pail", "Best until"),
        rows=tuple(rows),
    )


def _checks(session: SessionState, now: Reading) -> OutlineSection:
    rows = tuple(
        (
            date_and_time(check.at, now.utc_offset_min),
            identity(session, pouch.number),
            str(check.verdict),
        )
        for pouch in session.pouches.values()
        for check in (*pouch.earlier_checks, *pouch.checks)
    )
    return OutlineSection(
        title="Seal checks",
        header=("When", "Pouch", "Felt") if rows else (),
        rows=tuple(sorted(rows)),
    )


def _deviations(
    state: State, session: SessionState, entries: Sequence[Entry], measures: Measures
) -> OutlineSection:
    said = [
        f"An entry did not fit what came before it and is not counted: "
        f"{fact_words(entry.fact, measures)}."
        for entry in entries
        if entry.id in state.disputed
    ]
    if state.newer_kinds:
        said.append("A newer PackDesk wrote entries that this one cannot read.")
    said += [
        f"Load {load.load} left the cold early: {load.short_reason}."
        for load in session.loads.values()
        if load.short_reason
    ]
    said += [
        f"Load {load.load} was opened while its food was too cold: {load.uncover_reason}."
        for load in session.loads.values()
        if load.uncover_reason
    ]
    said += [
        f"Pouch {identity(session, pouch.number)} was "
        f"{'emptied' if pouch.emptied else 'set aside'}: {pouch.aside}."
        for pouch in session.pouches.values()
        if pouch.aside
    ]
    said += [
        f"A count by hand found {count.counted} {count.what.replace('_', ' ')}, "
        f"the tally {count.tallied}."
        for count in session.counts
        if count.counted != count.tallied
    ]
    said += [
        f"{alarm_said(alarm.clock)}, {span(alarm.late_s)} late."
        for alarm in session.alarms.values()
        if alarm.late_s >= LATE_S
    ]
    return OutlineSection(title="What went otherwise", sentences=tuple(said))
