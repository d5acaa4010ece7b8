"""What is said of a load whose cold is complete by the dose of the toughest insect."""

from __future__ import annotations

import dataclasses
from datetime import datetime

import msgspec
import pytest

from packdesk.catalog.read import read_catalog
from packdesk.instants import day_and_time
from packdesk.present.calendar_entries import calendar_entries
from packdesk.present.chosen import Chosen
from packdesk.present.cold_evidence import cold_evidence, out_now
from packdesk.present.core_curve import core_curve
from packdesk.present.core_table import core_rows
from packdesk.present.curves import CoreCurve
from packdesk.present.freezer_plan import FreezerPlan
from packdesk.present.measures import Measures
from packdesk.present.record_outline import record_outline
from packdesk.present.words import fact_words
from packdesk.present.work_cold import cold_card
from packdesk.session.clocks import ClockKind, running
from packdesk.session.commands import FreezeLoad
from packdesk.session.figures import KillFigures
from packdesk.session.load import Load
from packdesk.session.terms import Stands
from packdesk.units import NO_BREAK_SPACE
from tests.script import Script, tell

METRIC = Measures("metric")
LARVA = KillFigures(
    name="an invented larva",
    temps_c=(-20.0, -15.0, -10.0),
    kill_hours=(10.0, 40.0, 80.0),
    grade="invented",
    source="invented",
)


def frozen(freezer_c: float, then: str = "", **figure: object) -> Script:
    """Wheat in a freezer at rest at `freezer_c`, the dose reckoned, then the steps of `then`."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg")
    order = told.order("freeze wheat")
    assert isinstance(order, FreezeLoad)
    figures = msgspec.structs.replace(
        order.figures, freezer_temp_c=freezer_c, life_stages=(LARVA,), **figure
    )
    told.desk.submit(dataclasses.replace(order, figures=figures, confirmed=True))
    return told.do(then)


def load(told: Script) -> Load:
    """Load A."""
    return told.session.loads["A"]


def curve(told: Script) -> CoreCurve:
    """Its plot."""
    return core_curve(told.session, load(told), told.desk.now(), METRIC)


def due(told: Script) -> datetime:
    """When the clock of its cold is due."""
    return next(c.due_at for c in running(told.session) if c.kind is ClockKind.COLD)


def evidence(told: Script) -> str:
    """What its page says first."""
    return cold_evidence(told.session, load(told), told.desk.now(), METRIC)[0]


@pytest.fixture(scope="module")
def chosen() -> Script:
    """The dose governs, in a freezer cold enough for the plain rule, which would take longer."""
    told = frozen(-18.0, "cold rule dose; +40 h")
    forecast = load(told).forecast
    assert forecast.dose_done is not None
    assert forecast.hold_done is not None
    assert forecast.dose_done.late < forecast.hold_done.early
    return told


@pytest.fixture(scope="module")
def weak() -> Script:
    """The dose governs, in a freezer too warm for the plain rule ever to be met."""
    told = frozen(-14.0, "cold rule dose; +20 h")
    assert load(told).forecast.cold_from is None
    return told


def test_the_plot_ends_its_hold_where_the_dose_is_complete(chosen: Script) -> None:
    """The bar runs to the time of the clock, its words name the dose, hours are not asked."""
    found = curve(chosen)

    assert found.hold is not None
    assert found.hold[1] == due(chosen)
    assert found.hold_words.startswith("dose complete ")
    assert "of 72 h" not in found.threshold_words
    assert found.points[-1].at > due(chosen)


def test_the_table_names_the_dose_its_insect_and_that_it_governs(chosen: Script) -> None:
    """One row stands at the time of the clock and says what is complete there, and for whom."""
    rows = core_rows(curve(chosen), METRIC)
    (row,) = (row for row in rows if row.at == due(chosen))

    assert "dose complete for an invented larva (this governs), between" in row.what
    assert row.core != "–"


def test_while_the_plain_rule_governs_the_dose_is_told_for_comparison() -> None:
    """Both have their row in the table; the hours are said to govern, and the clock keeps them."""
    told = frozen(-18.0)
    said = {row.at: row.what for row in core_rows(curve(told), METRIC)}
    forecast = load(told).forecast

    assert forecast.dose_done is not None
    assert "72 h complete (this governs)" in said[due(told)]
    assert "(for comparison)" in said[forecast.dose_done.likely]


def test_a_core_never_so_cold_has_its_due_time_on_its_own_line(weak: Script) -> None:
    """Without a hold the plot reaches beyond the time of the clock, marks it and names it."""
    found = curve(weak)

    assert found.hold is None
    assert found.cold_done == due(weak)
    assert found.points[0].at < due(weak) < found.points[-1].at
    assert found.hold_words.startswith("dose complete ")
    assert any("dose complete" in row.what for row in core_rows(found, METRIC))


def test_the_first_sentence_goes_by_the_rule_that_governs(chosen: Script, weak: Script) -> None:
    """Whoever picked the dose reads when it is complete, and no advice of the other rule."""
    for told in (chosen, weak):
        assert evidence(told).startswith("The dose of the toughest insect is complete ")
        words = " ".join(cold_evidence(told.session, load(told), told.desk.now(), METRIC))
        assert "does not reach" not in words
        assert "The plain rule governs" not in words


def test_out_now_begins_with_the_rule_that_governs(chosen: Script) -> None:
    """How far the dose is comes first, the hours of the plain rule after it."""
    first, second, _ = out_now(chosen.session, load(chosen), chosen.desk.now(), METRIC)

    assert "% of the dose complete, lag in the closed pail included" in first
    assert "an invented larva, would not be covered" in first
    assert second.startswith("By the plain rule ")


def test_the_calendar_tells_the_band_of_the_dose(chosen: Script) -> None:
    """The time of the entry lies within the range that its description gives."""
    found = load(chosen).forecast.dose_done
    assert found is not None
    without = load(chosen).forecast.hold_done
    assert without is not None
    (entry,) = (
        each
        for each in calendar_entries(chosen.session, chosen.desk.now(), FreezerPlan())
        if each.summary.startswith("Out of the freezer")
    )
    offset = chosen.desk.now().offset_min_at

    assert entry.start == found.likely
    assert day_and_time(found.early, offset) in entry.description
    assert day_and_time(without.early, offset) not in entry.description


def test_a_load_that_never_gets_cold_enough_is_told_so() -> None:
    """No sentence is made of a time that there is none of."""
    told = frozen(-5.0)
    card = cold_card(told.book, told.session, Chosen(), told.desk.now())

    assert card.sentence == (
        "Keep the lids on. Load A does not get cold enough in this freezer within ten days."
    )


def test_a_dose_out_of_sight_says_what_would_bring_it() -> None:
    """In a freezer in which nothing dies the person is told to set it colder."""
    told = frozen(-5.0, "cold rule dose")

    assert evidence(told) == (
        "The dose is not complete within ten days in this freezer. "
        "Set the freezer colder or take other loads out."
    )


def recorded(told: Script) -> str:
    """What the printed record says of load A, on ordinary blanks."""
    outline = record_outline(told.desk.state, told.entries, told.desk.now(), read_catalog()[0])
    section = next(each for each in outline.sections if each.title == "Load A: Wheat")
    return " ".join(section.sentences).replace(NO_BREAK_SPACE, " ")


def test_record_and_story_tell_a_cold_that_the_dose_made_complete() -> None:
    """Out before the hours of the plain rule, and not early: dose and insect stand first."""
    told = frozen(-18.0, "cold rule dose; +90 h; out A 21 C")
    went = load(told)
    assert went.dose is not None
    assert went.dose >= 1.0
    assert went.held_h < went.forecast.hold_h

    assert fact_words(told.facts[-1], METRIC) == (
        "Load A taken out, dose complete for an invented larva"
    )
    said = recorded(told)
    assert "By choice the dose governed" in said
    assert f"dose complete for an invented larva ({went.dose:.1f} times what kills it)" in said
    assert f"By the plain rule held {int(went.held_h)} h of 72 h." in said
    assert "Ended early" not in said


def test_record_and_story_tell_how_far_a_dose_cut_short_came() -> None:
    """Part of the dose is told in percent of it, with the reason."""
    told = frozen(-18.0, "cold rule dose; +35 h; out A 21 C: no room left")
    dose = load(told).dose
    assert dose is not None
    part = f"{int(dose * 100.0 + 1e-6)} % of the dose for an invented larva"

    assert fact_words(told.facts[-1], METRIC) == f"Load A taken out, {part}, early: no room left"
    assert part in recorded(told)
    assert "Ended early: no room left." in recorded(told)


def test_the_record_tells_freezer_place_height_and_the_plain_rule() -> None:
    """Where a load stood and what was asked of its cold is read years later."""
    told = frozen(-18.0, "+200 h", freezer=2, stands=Stands.STACKED, freezer_height_mm=900.0)

    assert fact_words(told.facts[-1], METRIC).startswith("Load A into freezer 2: ")
    said = recorded(told)
    assert "into freezer 2, at −18 °C at rest, 900 mm high inside, stacked, on " in said
    assert "By the plain rule the core was to be at −15 °C or below for 72 h." in said
    told.do("out A 21 C")
    assert f"held {int(load(told).held_h)} h, 72 h asked" in recorded(told)
