from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from packdesk.desk.ports import Trouble
from packdesk.session.commands import LookAtLot, ReceiveLot
from packdesk.session.terms import LotVerdict, Stage
from packdesk.ui.pages.plan_form import PlanForm
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A session with wheat and beans received, the plan open."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.walk.opened().received()
    bench.window.show_stage(Stage.BEFORE)
    yield bench
    bench.close()


def plan(bench: Bench) -> PlanForm:
    """The plan as it is typed."""
    return bench.page.forms["plan"]


def takes(bench: Bench) -> list[str]:
    """What each line says it takes."""
    return [row._takes.text for row in plan(bench).rows]


def test_every_lot_of_the_session_has_a_line_with_its_figures(bench: Bench) -> None:
    """Two lots, two lines, each with pouches and absorbers worked out at once."""
    assert [row.lot for row in plan(bench).rows] == ["2610-1", "2610-2"]
    assert all("pouches of" in words for words in takes(bench))


def test_figures_follow_what_is_typed(bench: Bench) -> None:
    """A smaller fill makes more pouches before anything is agreed."""
    before = takes(bench)[0]
    bench.fill_in("fill 2610-1", "300")
    assert takes(bench)[0] == "30 pouches of 300\N{NO-BREAK SPACE}g"
    assert takes(bench)[0] != before
    assert bench.session.plan is None


def test_supplies_stand_where_no_clock_runs_yet(bench: Bench) -> None:
    """The shopping list stands in the place of the clocks and follows the plan."""
    card = bench.window.supplies.card
    assert card.isVisible()
    count = next(row.count for row in card.rows if "pouch" in row.name)
    bench.fill_in("fill 2610-1", "300")
    assert next(row.count for row in card.rows if "pouch" in row.name) != count


def test_an_unfit_food_is_refused_in_its_line_and_can_be_taken_off(bench: Bench) -> None:
    """Peanuts hold the plan up with a reason; taken off, the rest can be agreed."""
    bench.walk.do(ReceiveLot("peanuts", "peanuts, shelled", 2000.0))
    row = plan(bench).rows[-1]
    assert "oily" in row.refusal.objection.what.lower()
    assert bench.page.main.face.missing == "Settle the peanuts first"
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Space)
    assert bench.session.plan is None
    bench.page.scroll.ensureWidgetVisible(row.refusal.cure)
    QApplication.processEvents()
    bench.click(row.refusal.cure)
    assert [each.lot for each in plan(bench).rows] == ["2610-1", "2610-2"]
    bench.key(Qt.Key.Key_Space)
    assert [line.food for line in bench.session.plan.lines] == ["hard_wheat", "black_beans"]


def test_a_lot_taken_off_can_be_put_back(bench: Bench) -> None:
    """What left the plan stands in the list of lots that may join it."""
    bench.page._leave("2610-2")
    assert [row.lot for row in plan(bench).rows] == ["2610-1"]
    join = plan(bench).inputs["join"]
    assert [join.box.itemData(i) for i in range(join.box.count())] == ["2610-2"]
    join.chosen.emit("2610-2")
    assert [row.lot for row in plan(bench).rows] == ["2610-1", "2610-2"]


def test_a_packing_day_says_when_the_cold_must_begin(bench: Bench) -> None:
    """With day and time typed the page says by when the freezer has to be loaded, or the cure."""
    bench.fill_in("day", "2026-10-25 at ten")
    text = bench.page.freezer.text
    assert text.startswith("To pack on Sunday 25 October at 10:00, begin the cold by ")
    assert bench.page.freezer.isVisible()
    assert bench.page.sentence.text.startswith("Begin the cold by ")
    bench.fill_in("day", "2026-10-13")
    assert bench.page.sentence.text.startswith("Too late for that day: pack on ")
    assert "Too late" in bench.page.freezer.text
    assert "pack on " in bench.page.freezer.text.splitlines()[1]


def test_the_calendar_is_saved_where_the_person_says(bench: Bench, tmp_path: Path) -> None:
    """K asks where, and writes what is to come; its entries say when to load the freezer."""
    out = tmp_path / "cold.ics"
    bench.page.freezer.calendar.ask_where = lambda parent, suggested: out
    bench.fill_in("day", "2026-10-25")
    bench.page.focus_main()
    bench.key("K")

    ((entries, name, stamp),) = bench.window.tools.papers.calendars
    assert out.exists()
    assert name == bench.session.name
    assert stamp == bench.clock.reading().utc
    assert [e.summary for e in entries if e.summary.startswith("Into the freezer by now")]


def test_a_calendar_that_cannot_be_written_says_so_and_tries_again(
    bench: Bench, tmp_path: Path
) -> None:
    """The trouble stands beside the main control; Try again writes the same file."""
    papers, out = bench.window.tools.papers, tmp_path / "cold.ics"
    written = papers.calendar

    def full(*_: object) -> None:
        raise Trouble("The disk is full.", "Make room on it.")

    papers.calendar = full
    bench.page.freezer.calendar.ask_where = lambda parent, suggested: out
    bench.fill_in("day", "2026-10-25")
    bench.page.freezer.calendar.save()
    assert bench.page.refusal.objection is not None
    assert "The disk is full." in bench.page.refusal.objection.figure

    papers.calendar = written
    bench.page.refusal.cure_asked.emit()
    assert out.exists()
    assert bench.page.refusal.objection is None


def test_a_calendar_not_wanted_after_all_is_not_written(bench: Bench) -> None:
    """Leaving the system's window writes nothing and says nothing."""
    bench.page.freezer.calendar.ask_where = lambda parent, suggested: None
    bench.fill_in("day", "2026-10-25")
    bench.page.freezer.calendar.save()
    assert bench.window.tools.papers.calendars == []


def test_a_lot_that_is_not_accepted_needs_what_was_seen(bench: Bench) -> None:
    """Refusing a lot without a word is answered beside the field for what was seen."""
    bench.key("A")
    bench.pick("food", "lentils")
    bench.fill_in("mass", "3")
    bench.option("look", LotVerdict.REFUSED)
    bench.press_main()
    assert len(bench.desk.state.book.lots) == 2
    assert "Say what you saw." in bench.input("seen").refusal.objection.what
    bench.fill_in("seen", "live beetles")
    bench.press_main()
    lot = list(bench.desk.state.book.lots.values())[-1]
    assert (lot.verdict, lot.seen) == (LotVerdict.REFUSED, "live beetles")
    assert [row.lot for row in plan(bench).rows] == ["2610-1", "2610-2"]


def quarantined(bench: Bench) -> None:
    """Lentils stand apart, for webbing was seen."""
    bench.walk.do(
        ReceiveLot("lentils", "lentils", 3000.0, "", LotVerdict.QUARANTINED, "some webbing")
    )


def test_a_lot_in_quarantine_is_accepted_after_another_look(bench: Bench) -> None:
    """The page names the lot that stands apart; a look later it joins the plan, with the reason."""
    quarantined(bench)
    bench.on(hours=20)
    assert "quarantine: some webbing" in " ".join(bench.page.card.evidence)
    bench.press("Look again")
    assert bench.input("lot").key == "2610-3"
    bench.press_main()
    assert bench.desk.state.book.lots["2610-3"].verdict is LotVerdict.QUARANTINED
    bench.fill_in("seen", "sieved, nothing alive")
    bench.fill_in("when", "09:30")
    bench.key(Qt.Key.Key_Return)
    lot = bench.desk.state.book.lots["2610-3"]
    assert (lot.verdict, lot.seen) == (LotVerdict.ACCEPTED, "sieved, nothing alive")
    assert [row.lot for row in plan(bench).rows] == ["2610-1", "2610-2", "2610-3"]
    assert "stands apart" not in " ".join(bench.page.card.evidence)


def test_undo_puts_a_lot_back_into_quarantine(bench: Bench) -> None:
    """Taking back the second look restores what the first one found."""
    quarantined(bench)
    before = bench.desk.state
    bench.walk.do(LookAtLot("2610-3", LotVerdict.REFUSED, "live moths"))
    assert bench.desk.state.book.lots["2610-3"].verdict is LotVerdict.REFUSED
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Backspace)
    assert bench.desk.state == before


def test_a_planned_lot_found_damp_later_leaves_the_plan(bench: Bench) -> None:
    """With a plan agreed a lot can still be looked at; a refused one has no line any more."""
    bench.key(Qt.Key.Key_Space)
    bench.window.show_stage(Stage.BEFORE)
    third = next(b for b in bench.page.findChildren(SecondControl) if b.face.word == "Look again")
    bench.page.scroll.ensureWidgetVisible(third)
    bench.click(third)
    bench.pick("lot", "2610-2")
    bench.option("look", LotVerdict.REFUSED)
    bench.fill_in("seen", "mouldy at the bottom")
    bench.press_main()
    assert bench.desk.state.book.lots["2610-2"].verdict is LotVerdict.REFUSED
    bench.key("C")
    assert [row.lot for row in plan(bench).rows] == ["2610-1"]


def test_a_plan_can_be_changed_after_it_was_agreed(bench: Bench) -> None:
    """Change the plan opens it with what was agreed, and agreeing again replaces it."""
    bench.key(Qt.Key.Key_Space)
    count = bench.session.plan.lines[0].count
    bench.window.show_stage(Stage.BEFORE)
    bench.key("C")
    bench.fill_in("fill 2610-1", "300")
    bench.press_main()
    assert bench.session.plan.lines[0].count != count
    assert [line.line for line in bench.session.plan.lines] == [1, 2]


def test_numbered_working_is_part_of_the_plan(bench: Bench) -> None:
    """Numbered working is chosen with one click and agreed with the plan."""
    bench.option("working", "numbered")
    bench.press_main()
    assert bench.session.plan.numbered


def test_a_second_session_does_not_plan_the_lots_of_the_first(bench: Bench) -> None:
    """Lots of an earlier session do not crowd a new plan, but they may join it."""
    bench.key(Qt.Key.Key_Space)
    bench.window.show_start()
    bench.fill_in("name", "Rice for the winter")
    bench.key(Qt.Key.Key_Return)
    assert bench.page.stage is Stage.BEFORE
    assert bench.page.main.face.label == "This lot is received"
    bench.pick("food", "white_rice")
    bench.fill_in("mass", "4")
    bench.press_main()
    assert [row.lot for row in plan(bench).rows] == ["2610-3"]
    join = plan(bench).inputs["join"]
    assert [join.box.itemData(i) for i in range(join.box.count())] == ["2610-1", "2610-2"]


def test_us_units_are_spoken_and_understood(theme: Theme, tmp_path: Path) -> None:
    """A session in US units takes pounds and ounces, feet and degrees Fahrenheit."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    try:
        bench.type("Rice")
        bench.option("units", "us")
        bench.press_main()
        bench.pick("food", "white_rice")
        bench.fill_in("mass", "25")
        bench.press_main()
        assert bench.desk.state.book.lots[bench.walk.lots[0]].mass_g == pytest.approx(11339.8, 1e-5)
        assert "lb" in takes(bench)[0]
        bench.fill_in("elevation", "5200")
        bench.press_main()
        agreed = bench.session.plan
        assert agreed.elevation_m == pytest.approx(1584.96)
        assert agreed.packing_temp_c == pytest.approx(21.1, abs=0.1)
    finally:
        bench.close()


def test_changing_a_plan_begins_with_what_was_agreed(bench: Bench) -> None:
    """Masses, working and packing day of the agreed plan stand when it is opened again."""
    bench.fill_in("fill 2610-1", "450")
    bench.fill_in("day", "2026-10-25")
    bench.option("working", "numbered")
    bench.press_main()
    before = bench.session.plan
    bench.window.show_stage(Stage.BEFORE)
    bench.key("C")
    assert bench.input("fill 2610-1").text == "450"
    bench.press_main()
    after = bench.session.plan
    assert after.agreed_at == before.agreed_at
    assert (after.lines, after.numbered, after.pack_at) == (before.lines, True, before.pack_at)


def test_another_pouch_is_filled_anew(bench: Bench) -> None:
    """The mass agreed for one pouch is not carried into a larger one."""
    bench.fill_in("fill 2610-1", "450")
    bench.press_main()
    bench.window.show_stage(Stage.BEFORE)
    bench.key("C")
    bench.pick("pouch 2610-1", "zip-254x356")
    assert bench.input("fill 2610-1").text == ""
    bench.press_main()
    assert bench.session.plan.lines[0].fill_mass_g > 1000.0


def test_every_lot_is_looked_over(bench: Bench) -> None:
    """What to look for is said with every lot that is entered, not with the first alone."""
    assert "live insects" not in bench.page.evidence.text
    bench.key("A")
    assert bench.page.evidence.text.startswith("Look for live insects, webbing, damp")
    bench.key(Qt.Key.Key_Escape)
    assert "live insects" not in bench.page.evidence.text
