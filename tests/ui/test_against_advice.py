"""Risky steps by keys and clicks: each needs a typed reason, which goes on record and on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.present.label_text import label_texts
from packdesk.present.measures import Measures
from packdesk.present.pouch_table import COLUMNS, pouch_rows
from packdesk.present.record_deviations import deviations
from packdesk.present.run_sheet import run_sheet
from packdesk.session import facts as f
from packdesk.session.commands import BypassCold, ReceiveLot
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, catalog

WHY = "eaten within a month"


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def went_otherwise(bench: Bench) -> list[str]:
    """The report's rows of what went otherwise, each with its reason."""
    state, desk = bench.desk.state, bench.desk
    section = deviations(state, bench.session, desk.entries, Measures("metric"), desk.now())
    return [" | ".join(row[1:]) for row in section.rows]


def test_a_load_taken_out_and_opened_too_early_says_why_to_the_end(bench: Bench) -> None:
    """Without a reason neither is done; with it both stand on record, label, row and report."""
    bench.walk.opened().received().planned().frozen()
    bench.on(hours=30)
    bench.window.show_stage(Stage.COLD_TREATMENT)
    bench.page.choose(load="A")
    bench.key("O")
    bench.press_main()
    assert bench.session.loads["A"].taken_out is None
    bench.fill_in("reason", "the freezer is wanted")
    bench.press_main()
    assert bench.session.loads["A"].short_reason == "the freezer is wanted"

    bench.window.show_stage(Stage.THAW_EQUILIBRATION)
    bench.press_main()
    bench.press_main()
    assert bench.session.loads["A"].uncovered is None
    bench.on(hours=2)
    bench.fill_in("reason", "guests tonight")
    bench.fill_in("when", "04:00")
    bench.key(Qt.Key.Key_Return)
    fact = bench.desk.entries[-1].fact
    assert isinstance(fact, f.LoadUncovered)
    assert (fact.reason, fact.core_c < fact.open_above_c) == ("guests tonight", True)
    assert bench.desk.entries[-1].happened_at < bench.desk.now().utc

    bench.window.show_stage(Stage.FILLING)
    bench.press_main()
    code = label_texts(bench.session, (1,))[0].code
    assert "COLD SHORT" in code
    assert "OPENED COLD" in code
    row = dict(zip(COLUMNS, pouch_rows(bench.session)[0], strict=True))
    assert "the freezer is wanted" in row["departures"]
    assert "guests tonight" in row["departures"]
    said = went_otherwise(bench)
    assert any("left the cold early" in each and "freezer is wanted" in each for each in said)
    assert any("opened, coldest food about" in each and "guests tonight" in each for each in said)


def peanuts_planned(bench: Bench) -> None:
    """Peanuts are received and planned with a typed reason; without one the plan is refused."""
    bench.walk.opened()
    bench.walk.do(ReceiveLot("peanuts", catalog().foods["peanuts"].name, 2000.0))
    bench.window.show_stage(Stage.BEFORE)
    row = bench.page.forms["plan"].rows[0]
    assert bench.page.main.face.missing
    assert "type the reason" in row._warnings.text
    assert "botulism" in row._caution.text
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Space)
    assert bench.session.plan is None
    bench.fill_in("reason 2610-1", WHY)
    assert row.refusal.objection is None
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Space)
    line = bench.session.plan.lines[0]
    assert (line.against_advice, line.absorbers_cc) == (WHY, ())
    assert "oily" in line.never


def first_one_sealed(bench: Bench) -> None:
    """Their first pouch is filled, shut and sealed with a typed reason; not without one."""
    bench.walk.do(BypassCold("2610-1", "roasted"))
    fill_and_shut(bench)
    assert bench.page.sentence.text == "Never seal peanuts: set pouch 1 aside."
    assert "botulism" in bench.page.caution.text
    bench.press_main()
    assert bench.session.pouches[1].sealed is None
    bench.fill_in("reason", "the jar is broken")
    bench.press_main()
    assert bench.session.pouches[1].against_advice == "the jar is broken"


def fill_and_shut(bench: Bench) -> None:
    """One more pouch is filled and pressed shut, and the page of the iron is shown."""
    bench.window.show_stage(Stage.FILLING)
    bench.press_main()
    bench.press("All 1 are shut")
    bench.window.show_stage(Stage.SEALING)


def test_a_food_marked_never_is_put_up_only_with_reasons(bench: Bench) -> None:
    """Refused in its line until a reason is typed, asked again at the iron, said on every paper."""
    peanuts_planned(bench)
    first_one_sealed(bench)

    label = label_texts(bench.session, (1,))[0]
    assert "against advice" in label.caution
    assert "SEALED AGAINST ADVICE" in label.code
    said = went_otherwise(bench)
    assert any("planned" in each and WHY in each for each in said)
    assert any("never to be sealed" in each and "the jar is broken" in each for each in said)
    assert any(
        WHY in each for each in run_sheet(bench.session, bench.desk.now(), catalog()).cautions
    )


def test_the_reason_is_offered_again_for_the_next_pouch(bench: Bench) -> None:
    """The same reason need not be typed for every pouch of the food, but it is shown each time."""
    peanuts_planned(bench)
    first_one_sealed(bench)
    fill_and_shut(bench)
    assert bench.input("reason").text == "the jar is broken"
    bench.press_main()
    assert bench.session.pouches[2].against_advice == "the jar is broken"


def test_a_lid_that_came_off_earlier_is_entered_with_its_time(bench: Bench) -> None:
    """A warm load opened at breakfast is entered in the evening as of breakfast."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    bench.on(hours=60)
    bench.window.show_stage(Stage.THAW_EQUILIBRATION)
    before = bench.desk.now().utc
    bench.fill_in("when", "yesterday 23:30")
    bench.key(Qt.Key.Key_Return)
    entry = bench.desk.entries[-1]
    assert isinstance(entry.fact, f.LoadUncovered)
    assert entry.happened_at < before


def test_the_alarm_is_tested_while_pouches_are_filled(bench: Bench) -> None:
    """While a part group stands open the alarm can be heard before any packet is cut."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    bench.walk.filled(3)
    bench.window.show_stage(Stage.FILLING)
    heard: list[bool] = []
    bench.page.alarm_test_asked.connect(lambda: heard.append(True))
    bench.click(bench.page.third)
    (test,) = (b for b in bench.page.further.rows.buttons if b.face.word == "Test the alarm")
    bench.click(test)
    bench.key("t")
    assert heard == [True, True]
