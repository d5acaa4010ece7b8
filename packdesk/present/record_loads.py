"""What each load went through: into the cold, its core, out, and when the lid came off."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.instants import Offset, Reading, date_and_time
from packdesk.present.cold_words import came_to, held, where_cold
from packdesk.present.core_curve import counted_anew
from packdesk.present.core_table import CORE_HEADER, core_rows
from packdesk.present.label_text import food_title
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection
from packdesk.present.record_plots import core_plot
from packdesk.session.clocks import governing
from packdesk.session.envelope import Entry
from packdesk.session.facts import LoadUncovered
from packdesk.session.figures import Span, ThawForecast
from packdesk.session.load import Load
from packdesk.session.state import SessionState
from packdesk.session.terms import ColdRule, LidRule
from packdesk.units import NO_BREAK_SPACE, System


def loads(
    session: SessionState, entries: Sequence[Entry], measures: Measures, now: Reading
) -> tuple[OutlineSection, ...]:
    """A section for each load; `entries` are those that count."""
    opened = {
        entry.fact.load: entry.fact for entry in entries if isinstance(entry.fact, LoadUncovered)
    }
    return tuple(
        _load(session, load, opened.get(load.load), measures, now)
        for load in session.loads.values()
    )


def _load(
    session: SessionState,
    load: Load,
    opened: LoadUncovered | None,
    measures: Measures,
    now: Reading,
) -> OutlineSection:
    plot = core_plot(session, load, now, measures)
    rows = core_rows(plot.curve, measures, dated=True, with_now=load.uncovered is None)
    return OutlineSection(
        title=f"Load {load.load}: {food_title(load.food_name)}",
        sentences=(
            " ".join(_course(session, load, opened, measures, now.offset_min_at)),
            " ".join(plot.said),
            _rests_on(load, measures),
        ),
        header=CORE_HEADER,
        rows=tuple(row.cells for row in rows),
        plots=(plot,),
    )


def _course(
    session: SessionState,
    load: Load,
    opened: LoadUncovered | None,
    measures: Measures,
    offset: Offset,
) -> list[str]:
    """What was done to a load, in the order it was done."""
    treat = measures.temperature(load.forecast.treat_c)
    said = [
        (
            f"{measures.mass(load.mass_g)} of lot {load.lot} in {load.container_name}, "
            f"into {where_cold(load.figures, measures)}, on "
            f"{date_and_time(load.frozen.utc, offset)}. {_asked(session, load, treat)}"
        )
    ]
    anew = counted_anew(load)
    if anew is not None and load.forecast.cold_from is not None:
        said.append(
            f"Its core read {measures.reading(anew.temp_c)} at {date_and_time(anew.at, offset)}, "
            f"warmer than was reckoned; from there it was to reach {treat} about "
            f"{date_and_time(load.forecast.cold_from.likely, offset)}: the hold counts from then."
        )
    elif load.forecast.cold_from is not None:
        said.append(
            f"It was reckoned to reach {treat} {_between(load.forecast.cold_from, offset)}."
        )
    if load.taken_out is None:
        return [*said, "It is still in the freezer."]
    why = "Reason given" if load.cold_complete else "Ended early"
    short = f" {why}: {load.short_reason}." if load.short_reason else ""
    said.append(
        f"Taken out, lid on, {date_and_time(load.taken_out.utc, offset)}: {_came_to(load)}{short}"
    )
    if load.thaw is not None:
        said.append(
            f"The lid was to stay on until the food was above "
            f"{measures.temperature(load.thaw.open_above_c)}: {_rule(load.thaw, measures)}."
        )
    if load.uncovered is None:
        return [*said, "Its lid is still on."]
    core = ""
    if opened:
        core = f" with its coldest food at about {measures.temperature(opened.core_c)}"
    early = f" Opened early: {load.uncover_reason}." if load.uncover_reason else ""
    said.append(f"Opened {date_and_time(load.uncovered.utc, offset)}{core}.{early}")
    return said


def _asked(session: SessionState, load: Load, treat: str) -> str:
    """What the rule that governed asked of the cold, and which it was."""
    plain = f"at {treat} or below for {load.forecast.hold_h:.0f} h"
    if governing(session, load) is ColdRule.DOSE:
        stage = load.dose_stage or load.forecast.dose_stage
        return (
            f"By choice the dose governed: enough cold for the toughest life stage, {stage}. The "
            f"plain rule asks for the core {plain}."
        )
    return f"By the plain rule the core was to be {plain}."


def _came_to(load: Load) -> str:
    """How far the cold came by the rule that governed, and by the other where both are known."""
    hold, lag = held(load.held_h, load.forecast.hold_h), "the lag in the closed pail counted"
    if load.dose is None or not load.dose_stage:
        return f"{hold}, {lag}."
    if load.rule is ColdRule.DOSE:
        cold = came_to(load.rule, load.held_h, load.forecast.hold_h, load.dose, load.dose_stage)
        return f"{cold} ({load.dose:.1f} times what kills it), {lag}. By the plain rule {hold}."
    return (
        f"{hold}, {lag}. Reckoned by dose, that is {load.dose:.1f} times what kills the toughest "
        f"life stage, {load.dose_stage}."
    )


def _rests_on(load: Load, measures: Measures) -> str:
    """The figures that the reckoning of a load rests on, as they were recorded."""
    figures = load.figures
    return (
        f"Reckoned as a cylinder of {figures.radius_mm:.0f} mm radius filled "
        f"{figures.fill_height_mm:.0f} mm high, from {measures.reading(figures.start_temp_c)}: "
        f"conductivity {figures.conductivity_w_m_k:.3g} W/(m K), heat capacity "
        f"{figures.heat_capacity_j_kg_k:.0f} J/(kg K), {figures.bulk_density_kg_m3:.0f} kg/m³, "
        f"surface {figures.freezer_coefficient_w_m2_k:.0f} W/(m² K) in the freezer and "
        f"{figures.room_coefficient_w_m2_k:.0f} in the room."
    )


def _rule(thaw: ThawForecast, measures: Measures) -> str:
    if thaw.rule is LidRule.ROOM or thaw.dew_point_c is None:
        return f"{_apart(3.0, measures)} below the room, no humidity being read"
    dew_point = f"the room's dew point of {measures.temperature(thaw.dew_point_c)}"
    if thaw.rule is LidRule.DEW_POINT:
        return f"{dew_point} plus {_apart(2.0, measures)}"
    sweats = "" if thaw.dry else "; food that warm may still have sweated"
    return f"as warm as the room makes it, so close was {dew_point}{sweats}"


def _apart(kelvin: float, measures: Measures) -> str:
    """A difference of temperatures in the units of the session."""
    if measures.system == System.US:
        return f"{kelvin * 1.8:.1f}{NO_BREAK_SPACE}°F"
    return f"{kelvin:.0f}{NO_BREAK_SPACE}K"


def _between(band: Span, offset: Offset) -> str:
    """A range with its dates: a record is read years later."""
    early, late = date_and_time(band.early, offset), date_and_time(band.late, offset)
    return f"between {early} and {late}"
