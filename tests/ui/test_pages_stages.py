from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from packdesk.desk.ports import Trouble
from packdesk.session import facts as f
from packdesk.session.terms import PouchStage, Probe, Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

PLANNED = ("opened", "received", "planned")
OUT = (*PLANNED, "frozen", "cold_enough", "taken_out")
OPEN = (*OUT, "uncovered")


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def bring(bench: Bench, stage: Stage, *steps: str) -> None:
    """Bring the session to a stage and show its page."""
    for step in steps:
        getattr(bench.walk, step)()
    bench.window.show_stage(stage)


# Cold ---------------------------------------------------------------------------------------------


def test_a_load_put_in_last_night_is_noted_as_such(bench: Bench) -> None:
    """A load noted later happened when the person says, with about as wide as they say."""
    bring(bench, Stage.COLD_TREATMENT, *PLANNED)
    bench.fill_in("when", "about 21:30 yesterday")
    bench.key(Qt.Key.Key_Return)
    entry = bench.desk.entries[-1]
    assert isinstance(entry.fact, f.LoadFrozen)
    assert entry.happened_at.strftime("%d %H:%M") == "11 19:30"
    assert entry.about_min == 15.0


def test_the_next_load_of_a_divided_lot_is_offered_with_what_is_left(bench: Bench) -> None:
    """After part of a lot went in, the form offers the rest of it."""
    bring(bench, Stage.COLD_TREATMENT, *PLANNED)
    bench.fill_in("mass", "4")
    bench.press_main()
    bench.pick("lot", "2610-1")
    QApplication.processEvents()
    assert bench.input("mass").value() == pytest.approx(5000.0)


def test_more_than_a_pail_holds_is_refused_beside_the_mass(bench: Bench) -> None:
    """A mass the pail cannot take is answered with what it takes, beside the field."""
    bring(bench, Stage.COLD_TREATMENT, *PLANNED)
    bench.fill_in("mass", "60")
    bench.press_main()
    assert "more than this pail takes" in bench.input("mass").refusal.objection.what
    assert not bench.session.loads


def test_readings_go_where_they_were_taken(bench: Bench) -> None:
    """Core, wall, freezer and room each become their own fact."""
    bring(bench, Stage.COLD_TREATMENT, *PLANNED, "frozen")
    bench.clock.on(hours=20)
    for where, temp in (("core", "-14"), ("wall", "-14"), ("freezer", "-19"), ("room", "20")):
        bench.type(temp)
        bench.option("where", where)
        bench.press_main()
    facts = [entry.fact for entry in bench.desk.entries[-4:]]
    assert [type(fact) for fact in facts] == [f.CoreRead, f.CoreRead, f.FreezerRead, f.RoomRead]
    assert [fact.probe for fact in facts[:2]] == [Probe.CORE, Probe.WALL]


def test_the_load_chooser_says_which_load_is_meant(bench: Bench) -> None:
    """A reading goes to the load whose plot is shown, and another is one click away."""
    bring(bench, Stage.COLD_TREATMENT, *PLANNED, "frozen")
    bench.clock.on(hours=20)
    tabs = bench.page.core.tabs
    wheat = next(b for b in tabs.buttons if b.option.tag == "A")
    bench.click(wheat)
    bench.type("-14")
    bench.key(Qt.Key.Key_Return)
    assert bench.desk.entries[-1].fact.load == "A"
    assert bench.page.core.plot.curve.readings


def test_a_load_taken_out_early_needs_a_reason(bench: Bench) -> None:
    """Taking a load out before its time is refused without a reason and kept with one."""
    bring(bench, Stage.COLD_TREATMENT, *PLANNED, "frozen")
    bench.clock.on(hours=10)
    bench.key("O")
    bench.press_main()
    assert "Say why" in bench.page.refusal.objection.what
    bench.fill_in("reason", "the freezer failed")
    bench.press_main()
    assert any(load.short_reason for load in bench.session.loads.values())


def test_a_lot_may_go_without_cold_for_a_reason(bench: Bench) -> None:
    """A lot that needs no cold is noted with its reason and asks for no freezer."""
    bring(bench, Stage.COLD_TREATMENT, *PLANNED)
    bench.key("B")
    bench.pick("lot", "2610-2")
    bench.fill_in("reason", "treated by the mill")
    bench.press_main()
    assert dict(bench.session.bypassed) == {"2610-2": "treated by the mill"}


# Thaw ---------------------------------------------------------------------------------------------


def test_a_lid_off_too_early_asks_why(bench: Bench) -> None:
    """Pressing the main control before its time asks for a reason instead of opening."""
    bring(bench, Stage.THAW_EQUILIBRATION, *OUT)
    assert bench.page.main.not_yet
    bench.key(Qt.Key.Key_Space)
    assert QApplication.focusWidget() is bench.input("reason").box
    bench.type("guests at the door")
    bench.key(Qt.Key.Key_Return)
    assert any(load.uncover_reason for load in bench.session.loads.values())


def test_a_room_reading_moves_the_time_the_lid_comes_off(bench: Bench) -> None:
    """A damp room moves the opening: the clocks follow the reading at once."""
    bring(bench, Stage.THAW_EQUILIBRATION, *OUT)
    before = bench.window.clocks.cards[0].row.time_of_day
    bench.key("R")
    bench.type("24")
    bench.fill_in("damp", "80")
    bench.press_main()
    assert isinstance(bench.desk.entries[-1].fact, f.RoomRead)
    assert bench.window.clocks.cards[0].row.time_of_day != before


# Filling and sealing ------------------------------------------------------------------------------


def test_another_food_is_filled_by_choosing_it(bench: Bench) -> None:
    """The food in hand is chosen with one click, and its pouches get the next numbers."""
    bring(bench, Stage.FILLING, *OPEN)
    beans = next(b for b in bench.page._lines.buttons if b.option.key == "2")
    bench.click(beans)
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Space)
    assert [pouch.line for pouch in bench.session.working_pouches()] == [2]


def test_a_jar_shut_up_before_starts_the_next_round(bench: Bench) -> None:
    """What was left of a packet is offered for the next round and taken from the jar."""
    bring(bench, Stage.FILLING, *OPEN, "filled", "in_round", "all_shut", "filled", "made_ready")
    bench.key("P")
    bench.pick("source", "R1")
    bench.press_main()
    assert bench.session.rounds[2].source == "R1"


def test_numbered_pouches_are_shut_one_by_one(bench: Bench) -> None:
    """In numbered working one press shuts one pouch, named by its number."""
    bench.walk.opened().received().planned(numbered=True)
    bring(bench, Stage.FILLING, "frozen", "cold_enough", "taken_out", "uncovered", "filled",
          "in_round")  # fmt: skip
    assert bench.page.main.face.label == "Pouch 1 is shut"
    bench.key(Qt.Key.Key_Space)
    assert bench.page.main.face.label == "Pouch 2 is shut"


def test_the_packets_time_runs_as_a_ribbon_with_the_pace(bench: Bench) -> None:
    """During a round the ribbon shows pouches shut and to come, and a sentence the pace."""
    bring(bench, Stage.FILLING, *OPEN, "filled", "in_round")
    bench.walk.shut(3)
    ribbon = bench.page._ribbon
    assert ribbon.isVisible()
    assert (len(ribbon._face.done), len(ribbon._face.forecast)) == (3, 3)
    assert bench.page.standing.text.startswith("3 left at ")


def test_a_pouch_set_aside_comes_back_and_is_sealed(bench: Bench) -> None:
    """A pouch set aside is brought back into work and stands before the iron again."""
    bring(bench, Stage.SEALING, *OPEN, "filled", "in_round", "all_shut", "one_aside")
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[2].stage is PouchStage.SET_ASIDE
    bench.key("B")
    bench.type("2")
    bench.key(Qt.Key.Key_Return)
    assert not bench.session.pouches[2].aside


# Labelling and after ------------------------------------------------------------------------------


def test_a_touch_on_the_sheet_says_where_the_labels_begin(bench: Bench) -> None:
    """The first free place is chosen on the picture of the sheet, and the print starts there."""
    bring(bench, Stage.LABELLING, *OPEN, "filled", "in_round", "all_shut", "sealed")
    bench.page.laid_out.sheet.first_free_chosen.emit(4)
    assert bench.page.laid_out.used.text == "4 labels are gone from this sheet."
    bench.key(Qt.Key.Key_Space)
    assert not any(pouch.labelled for pouch in bench.session.pouches.values())
    bench.key(Qt.Key.Key_Space)
    printed = next(e.fact for e in bench.desk.entries if isinstance(e.fact, f.LabelsPrinted))
    assert printed.first_cell == 4
    assert all(pouch.labelled for pouch in bench.session.pouches.values())


def test_the_next_print_starts_where_the_last_one_ended(bench: Bench) -> None:
    """The book remembers the sheet on top: the labels gone are shown as gone."""
    bring(bench, Stage.LABELLING, *OPEN, "filled", "in_round", "all_shut", "sealed", "labelled")
    bench.key("R")
    bench.type("2")
    assert bench.page.laid_out.sheet.face.used == 6
    bench.key(Qt.Key.Key_Return, times=2)
    last = [e.fact for e in bench.desk.entries if isinstance(e.fact, f.LabelsPrinted)][-1]
    assert (last.pouches, last.first_cell, last.reprint) == ((2,), 6, True)


def test_labels_that_could_not_be_written_are_not_on_record(bench: Bench) -> None:
    """A folder that takes no file leaves the record as it was and offers to try again."""
    bring(bench, Stage.LABELLING, *OPEN, "filled", "in_round", "all_shut", "sealed")

    def refuses(*_args: object, **_how: object) -> None:
        raise Trouble("The file was not written: the disk is full.", "Make room on it.")

    writes, bench.papers.labels = bench.papers.labels, refuses
    bench.key(Qt.Key.Key_Space)
    assert bench.page.refusal.objection.what == "Not made"
    assert not any(pouch.labelled for pouch in bench.session.pouches.values())
    bench.papers.labels = writes
    bench.click(bench.page.refusal.cure)
    bench.key(Qt.Key.Key_Space)
    assert all(pouch.labelled for pouch in bench.session.pouches.values())


def test_the_record_is_made_and_laid_on_the_page(bench: Bench) -> None:
    """The session record is a file in the folder for papers, seen on the page after the iron."""
    bring(bench, Stage.AFTER, *OPEN, "filled", "in_round", "all_shut", "sealed")
    bench.key("R")
    assert bench.papers.records == 1
    assert bench.page.shelf.isVisible()
    assert bench.page.shelf.paper.file.name.startswith("K7M2-record-")
    bench.key(Qt.Key.Key_Space)
    assert bench.page.sentence.text == "Put pouches 1 to 6 into pail 1."


# The story ----------------------------------------------------------------------------------------


def test_an_entry_is_voided_with_all_that_rests_on_it(bench: Bench) -> None:
    """Voiding names what rests on the entry first; the second press voids them together."""
    bring(bench, Stage.FILLING, *OPEN, "filled", "in_round", "all_shut")
    bench.key("H")
    filled = next(e for e in bench.desk.entries if isinstance(e.fact, f.PouchesFilled))
    place = len(bench.desk.entries) - 1 - bench.desk.entries.index(filled)
    bench.page.list.setCurrentRow(place)
    bench.key("V")
    bench.type("counted the wrong sack")
    bench.key(Qt.Key.Key_Return)
    assert "rest on this one" in bench.page.refusal.objection.what
    assert "absorber in" in bench.page._rests.text
    assert len(bench.session.pouches) == 6
    bench.key(Qt.Key.Key_Return)
    assert len(bench.session.pouches) == 0
    assert bench.desk.entries[-1].fact.reason == "counted the wrong sack"
    assert any(bench.page.list.item(i).font().strikeOut() for i in range(bench.page.list.count()))


def test_a_note_and_a_count_by_hand_are_put_on_record(bench: Bench) -> None:
    """The page of the story takes notes, and counts that may differ from the tally."""
    bring(bench, Stage.FILLING, *OPEN, "filled")
    bench.key("H")
    bench.fill_in("text", "a hot day")
    bench.key(Qt.Key.Key_Return)
    assert bench.session.notes == ("a hot day",)
    bench.key("C")
    bench.pick("what", PouchStage.FILLED)
    bench.fill_in("counted", "5")
    bench.press_main()
    count = bench.session.counts[-1]
    assert (count.counted, count.tallied) == (5, 6)


def test_a_count_typed_once_is_not_typed_again(bench: Bench) -> None:
    """What was typed for one round is gone by the next, though another form is shown by then."""
    bring(bench, Stage.FILLING, *OPEN, "filled", "in_round")
    bench.type("6")
    bench.key(Qt.Key.Key_Return)
    bench.key(Qt.Key.Key_Space)
    bench.walk.filled().in_round()
    bench.type("2")
    assert bench.page.main.face.label == "All 2 are shut"


def test_the_rest_of_a_lot_is_frozen_before_the_next(bench: Bench) -> None:
    """A lot that fills two pails is asked for, and offered, until all of it is in the freezer."""
    bring(bench, Stage.COLD_TREATMENT, "opened", "received", "planned")
    bench.fill_in("mass", "5")
    bench.press_main()
    assert bench.page.sentence.text.startswith("Put the rest of the hard wheat")
    assert bench.input("lot").key == "2610-1"
    bench.press_main()
    assert bench.page.sentence.text.startswith("Put black beans")
    assert bench.input("lot").key == "2610-2"
    assert sum(load.mass_g for load in bench.session.loads.values()) == 9000.0
