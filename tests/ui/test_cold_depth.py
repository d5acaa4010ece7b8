"""The page at the freezer in depth: two rules, odd readings, a full freezer, coming out early."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session import facts as f
from packdesk.session.clocks import ClockKind, running
from packdesk.session.terms import ColdRule, Stage, Stands
from packdesk.ui.pages.options import OptionButton
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """Wheat and beans are planned, nothing is in the freezer."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.walk.opened().received().planned()
    bench.window.show_stage(Stage.COLD_TREATMENT)
    yield bench
    bench.close()


def freeze(bench: Bench, mass: str) -> None:
    """Put the pail that is offered into the freezer, with this mass in it."""
    if not bench.page.main.face.label.endswith("is in the freezer"):
        bench.key("L")
    bench.fill_in("mass", mass)
    bench.press_main()


def rule_button(bench: Bench, rule: ColdRule) -> OptionButton:
    """The rule as it is offered under the controls."""
    shown = bench.page.findChildren(OptionButton)
    return next(b for b in shown if b.isVisible() and b.option.key == rule)


def asked(bench: Bench) -> str:
    """What the page asks about or objects to, in full."""
    objection = bench.page.refusal.objection
    return f"{objection.what} {objection.figure} {objection.advice}" if objection else ""


def due(bench: Bench) -> str:
    """When the cold of load A is complete, as its clock says."""
    return str(next(c.due_at for c in running(bench.session) if c.kind is ClockKind.COLD))


def test_the_person_picks_the_rule_that_governs(bench: Bench) -> None:
    """Both rules stand side by side; the one that is pressed moves the clock and is on record."""
    freeze(bench, "9")
    bench.key(Qt.Key.Key_Escape)
    bench.window.show_stage(Stage.COLD_TREATMENT)
    plain, before = rule_button(bench, ColdRule.PLAIN), due(bench)
    assert "72 h at −15" in plain.option.words
    assert "between" in plain.option.note
    bench.click(rule_button(bench, ColdRule.DOSE))
    assert bench.session.cold_rule is ColdRule.DOSE
    assert isinstance(bench.desk.entries[-1].fact, f.ColdRuleChosen)
    assert due(bench) < before
    bench.key(Qt.Key.Key_Backspace)
    assert due(bench) == before


def test_what_is_said_of_the_freezer_goes_on_record(bench: Bench) -> None:
    """Which freezer, where in it, how high it is inside: typed once, kept with the load."""
    bench.fill_in("capacity", "4 kg")
    bench.option("which", "2")
    assert bench.input("capacity").text == ""  # that was said of the first
    bench.option("stands", Stands.TOUCHING)
    bench.fill_in("height", "700 mm")
    bench.fill_in("capacity", "12 kg")
    freeze(bench, "4.5")
    figures = bench.session.loads["A"].figures
    assert (figures.freezer, figures.stands) == (2, Stands.TOUCHING)
    assert figures.freezer_height_mm == pytest.approx(700.0)
    assert figures.container_height_mm is not None
    assert figures.capacity_g == pytest.approx(12_000.0)
    assert figures.spare_power_w < 60.0


def test_what_was_said_of_a_freezer_holds_for_the_next_pail(bench: Bench) -> None:
    """A weak freezer is not a usual one again with the second pail: the first comes no earlier."""
    bench.fill_in("height", "800 mm")
    bench.fill_in("capacity", "4.5 kg")
    bench.option("stands", Stands.TOUCHING)
    freeze(bench, "4.5")
    if asked(bench):
        bench.keep_as_it_is()
    first, before = bench.session.loads["A"].figures, due(bench)
    bench.on(hours=1)

    bench.key("L")
    assert "fills this pail to about" in bench.page.foreword.text
    assert [bench.input(name).text for name in ("height", "capacity")] == ["800", "4.50"]
    assert bench.input("stands").key == Stands.TOUCHING
    bench.fill_in("capacity", "")
    freeze(bench, "4.5")
    if asked(bench):
        bench.keep_as_it_is()

    second = bench.session.loads["B"].figures
    assert (second.spare_power_w, second.stands) == (first.spare_power_w, first.stands)
    assert due(bench) >= before


def test_a_freezer_at_zero_is_asked_about_with_its_cure(bench: Bench) -> None:
    """Zero, which a household freezer is in Fahrenheit, is asked about before the pail goes in."""
    bench.fill_in("freezer", "0")
    freeze(bench, "9")
    assert "was the thermometer in Fahrenheit?" in asked(bench)
    assert not bench.session.loads
    bench.keep_as_it_is()
    assert "gets nothing cold enough" in bench.window.clocks._why
    assert "fills this pail to about 100" in bench.page.foreword.text
    out = next(each.face for each in bench.page.seconds if each.face.word == "Load A is out")
    assert "no end in sight" in repr(out)
    bench.fill_in("freezer", "14")
    freeze(bench, "5")
    assert "was the thermometer in Fahrenheit?" in repr(bench.input("freezer").refusal.objection)


def test_a_room_in_fahrenheit_is_told_its_cure_at_take_out(bench: Bench) -> None:
    """What the thermometer shows may be typed; it comes back with what it is in Celsius."""
    bench.walk.frozen().cold_enough()
    bench.window.heartbeat.tick()
    bench.key("O") if not bench.page.form_shown() else None
    bench.fill_in("room", "70")
    bench.press_main()
    assert "70 °F is 21" in asked(bench)
    bench.fill_in("room", "2")
    bench.press_main()
    assert "far from what is reckoned" in asked(bench)
    assert all(load.taken_out is None for load in bench.session.loads.values())


def test_a_pail_higher_than_the_freezer_is_asked_about(bench: Bench) -> None:
    """A pail that cannot stand in the freezer is not put in without a question."""
    bench.fill_in("height", "300 mm")
    freeze(bench, "9")
    assert "Does its door shut?" in asked(bench)
    assert not bench.session.loads
    bench.keep_as_it_is()
    assert bench.session.loads["A"].frozen is not None
    assert bench.desk.entries[-1].fact.confirmed


def test_a_full_freezer_is_asked_about_before_the_pail_goes_in(bench: Bench) -> None:
    """What a second warm pail would do to the freezer is said; who keeps it is believed."""
    freeze(bench, "15")
    assert len(bench.session.loads) == 1, "one pail alone is nothing to ask about"
    freeze(bench, "15")
    said = asked(bench)
    assert "would warm the freezer's air" in said
    assert "other freezer" in said
    known = len(bench.session.loads)
    bench.keep_as_it_is()
    assert len(bench.session.loads) == known + 1
    assert bench.page.refusal.isHidden()


def test_what_would_be_asked_is_said_while_it_is_typed(bench: Bench) -> None:
    """Worked out beside the window, said over the form, and taken back for a smaller pail."""
    freeze(bench, "15")
    bench.fill_in("mass", "15")
    bench.window.heartbeat.tick()
    bench.settle_all()
    assert "would warm the freezer's air" in bench.page.foreword.text
    bench.fill_in("mass", "2")
    bench.window.heartbeat.tick()
    bench.settle_all()
    assert "would warm the freezer's air" not in bench.page.foreword.text


def test_fahrenheit_typed_for_celsius_is_asked_about(bench: Bench) -> None:
    """A freezer at zero degrees is taken for zero Fahrenheit, and asked before it is kept."""
    bench.walk.frozen()
    bench.on(hours=10)
    bench.key(Qt.Key.Key_Space)
    bench.option("where", "freezer")
    bench.fill_in("temp", "0")
    bench.key(Qt.Key.Key_Return)
    assert "°F" in asked(bench), bench.desk.entries[-1].fact
    assert not bench.session.freezer_readings
    bench.keep_as_it_is()
    assert bench.session.freezer_readings[-1].temp_c == pytest.approx(0.0)


def test_the_core_of_a_warming_pail_is_not_opened_for_a_reading(bench: Bench) -> None:
    """Where a reading is typed it is said that no warming pail is opened for one."""
    bench.walk.frozen()
    bench.on(hours=10)
    bench.key(Qt.Key.Key_Space)
    assert "Never open a warming pail" in bench.page.foreword.text


def test_coming_out_early_says_what_is_complete(bench: Bench) -> None:
    """Who takes a load out early reads how far the cold has come, by both rules."""
    bench.walk.frozen()
    bench.on(hours=50)
    bench.press(bench.page.seconds[0].face.word)
    bench.press_main()
    said = bench.page.foreword.text
    assert "of the 72 h complete, lag in the closed pail included" in said
    assert "the toughest life stage, tobacco moth" in said
    assert all(load.taken_out is None for load in bench.session.loads.values())
    bench.fill_in("reason", "the freezer is needed")
    bench.press_main()
    fact = bench.desk.entries[-1].fact
    assert isinstance(fact, f.LoadTakenOut)
    assert fact.reason == "the freezer is needed"


def test_a_cooling_load_comes_out_early_while_another_lot_waits(bench: Bench) -> None:
    """By keys alone, with a reason, and told how far its cold has come; the other lot stays."""
    freeze(bench, "9")
    bench.on(hours=50)
    bench.key(Qt.Key.Key_Escape)
    assert "Put black beans" in bench.page.sentence.text, bench.page.sentence.text
    assert bench.page.third.isVisible()
    assert bench.page.third.face.key == "B"
    bench.key("O")
    assert bench.page.sentence.text == "Take load A out before its time: say why."
    assert "of the 72 h complete, lag in the closed pail included" in bench.page.foreword.text
    assert "the toughest life stage" in bench.page.foreword.text
    bench.fill_in("reason", "the freezer is needed")
    bench.key(Qt.Key.Key_Return)
    fact = bench.desk.entries[-1].fact
    assert isinstance(fact, f.LoadTakenOut)
    assert fact.reason == "the freezer is needed"
    assert fact.held_h < fact.needed_h
    assert "Put black beans" in bench.page.sentence.text


def test_heat_is_told_with_its_caution_where_no_cold_is_meant(bench: Bench) -> None:
    """A person without a freezer reads of the heat, and what it may do."""
    bench.key("B")
    assert "54 °C (130 °F)" in bench.page.foreword.text
    assert "local food-safety authority" in bench.page.foreword.text
