"""The page at the scale: weighing by hand and by scale, questions, a revised plan, ready check."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from packdesk.desk.desk import Desk
from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.terms import ReadyItem, Stage
from packdesk.ui.theme.theme import Theme
from packdesk.ui.window import Window
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")
SPACE, ENTER = Qt.Key.Key_Space, Qt.Key.Key_Return


class HandTaps:
    """A clock for keys and taps that stands between two presses of one burst."""

    def __init__(self) -> None:
        self.seconds = 0.0

    def __call__(self) -> float:
        return self.seconds


@pytest.fixture
def taps() -> HandTaps:
    """The clock of taps."""
    return HandTaps()


@pytest.fixture
def bench(
    theme: Theme, tmp_path: Path, taps: HandTaps, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Bench]:
    """At the scale, the wheat open; taps are timed by hand."""
    monkeypatch.setattr("tests.ui.window_kit.EachTapCounts", lambda: taps)
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in OPEN:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.FILLING)
    yield bench
    bench.close()


def later(bench: Bench, taps: HandTaps, key: Qt.Key | str, *, times: int = 1) -> None:
    """Press a key, a second after the one before."""
    for _ in range(times):
        taps.seconds += 1.0
        bench.key(key)


def scale(bench: Bench, taps: HandTaps, text: str) -> None:
    """A scale types a text and its Enter, three milliseconds from key to key."""
    taps.seconds += 1.0
    for letter in text:
        taps.seconds += 0.003
        bench.send(letter)
    taps.seconds += 0.003
    bench.send(ENTER)
    bench.settle()


def masses(bench: Bench) -> list[float | None]:
    """What the pouches hold, as on record."""
    return [pouch.net_mass_g for pouch in bench.session.pouches.values()]


def facts(bench: Bench, kind: type) -> list:
    """The facts of a kind on record."""
    return [entry.fact for entry in bench.desk.entries if isinstance(entry.fact, kind)]


# The scale ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "mass_g"),
    [
        ("705", 705.0),
        ("+   704.5 g", 704.5),
        ("+   704,5 g  ", 704.5),
        ("0.7052 kg", 705.2),
        ("+1.5432lb", 699.98),
        ("  705 g", 705.0),
        (" 705 g", 705.0),
        ("ST,GS,+  0.7052 kg", 705.2),
        ("N   +  704.5 g", 704.5),
        ("  704.5 g ST", 704.5),
        ("S       705 g", 705.0),
    ],
)
def test_what_a_scale_types_is_the_mass_of_the_pouch_in_hand(
    bench: Bench, taps: HandTaps, text: str, mass_g: float
) -> None:
    """Marks, sign, blanks, decimal comma and unit of a scale that types fill one pouch, and no
    key of it is a shortcut."""
    before = len(bench.desk.entries)
    scale(bench, taps, text)

    assert masses(bench) == [pytest.approx(mass_g, abs=0.05)]
    kept = [entry.fact for entry in bench.desk.entries[before:]]
    assert {type(fact) for fact in kept} <= {f.PouchesFilled, f.FactVoided}
    assert bench.page.stage is Stage.FILLING
    assert not bench.page.needs_looking


def test_a_blank_before_the_figure_is_taken_for_the_space_bar_once_only(
    bench: Bench, taps: HandTaps
) -> None:
    """The first blank is taken back and told; from then on the Space bar waits for what follows."""
    scale(bench, taps, "   702 g")
    scale(bench, taps, "  699 g")

    assert masses(bench) == [702.0, 699.0]
    assert len(facts(bench, f.FactVoided)) == 1
    assert "The scale sends a blank before its figure" in "".join(bench.window.notices.sentences)
    later(bench, taps, SPACE)
    assert masses(bench) == [702.0, 699.0, None]


def test_a_hand_that_rolls_from_the_space_bar_to_a_figure_loses_nothing(
    bench: Bench, taps: HandTaps
) -> None:
    """One quick key after the Space bar is a hand's: the pouch counts, the figure is typed."""
    taps.seconds += 1.0
    bench.send(SPACE)
    taps.seconds += 0.030
    bench.send("7")
    later(bench, taps, "0")
    later(bench, taps, "1")
    later(bench, taps, ENTER)

    assert masses(bench) == [None, 701.0]
    assert not facts(bench, f.FactVoided)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("US,GS,+  0.705 kg", "not at rest"),
        ("ST,OL", "more or less than it can weigh"),
        ("XQ,  705 g", "no known mark of a scale"),
    ],
)
def test_a_line_that_is_no_mass_is_refused_in_words_and_the_next_one_counts(
    bench: Bench, taps: HandTaps, text: str, words: str
) -> None:
    """A figure not at rest, an overload, an unknown mark: nothing counts, and the words say why."""
    scale(bench, taps, text)
    objection = bench.page.forms["fill"].inputs["mass"].refusal.objection

    assert objection is not None
    assert words in f"{objection.what} {objection.figure}"
    assert not masses(bench)
    scale(bench, taps, "  704 g")
    assert masses(bench) == [704.0]


def test_where_nothing_takes_a_mass_a_line_does_nothing(bench: Bench, taps: HandTaps) -> None:
    """On a page without a field for figures no key of a scale is pressed, and that is said."""
    bench.walk.filled(3).in_round()
    bench.window.show_stage(Stage.AFTER)
    before = len(bench.desk.entries)
    scale(bench, taps, "ST,NT,+  705 g")

    assert len(bench.desk.entries) == before
    assert "Nothing here takes a mass now" in "".join(bench.window.notices.sentences)


def test_a_letter_pressed_by_hand_acts_by_itself(bench: Bench, taps: HandTaps) -> None:
    """Nobody has to press a second key: a letter acts once no line goes on from it."""
    taps.seconds += 1.0
    bench.send("E")
    assert not bench.page.form_opened("tare")
    waits = bench.window.keys.line.findChild(QTimer)
    assert waits.isActive()
    waits.timeout.emit()
    assert bench.page.form_opened("tare")


def test_the_same_mass_sent_twice_at_once_counts_once(bench: Bench, taps: HandTaps) -> None:
    """A scale that ends its line by two Enters fills one pouch; the second is shown as ignored."""
    scale(bench, taps, "705 g")
    taps.seconds += 0.003
    bench.key(ENTER)

    assert len(bench.session.pouches) == 1
    assert bench.page.main.tick_shown


def test_the_space_bar_still_counts_while_a_mass_stands_there(bench: Bench, taps: HandTaps) -> None:
    """A person's Space after a typed mass is the Space bar: it fills the pouch with that mass."""
    for letter in "702":
        later(bench, taps, letter)
    later(bench, taps, SPACE)

    assert masses(bench) == [702.0]


def test_one_pouch_after_the_other_from_the_scale(bench: Bench, taps: HandTaps) -> None:
    """Each line of the scale is the next pouch, without a key between them."""
    for mass in ("702 g", "699 g", "701 g"):
        scale(bench, taps, mass)

    assert masses(bench) == [702.0, 699.0, 701.0]


def test_an_empty_pouch_is_weighed_once_and_taken_off(bench: Bench, taps: HandTaps) -> None:
    """After E and 18 g the field says what comes off, the heading what the scale must show, and a
    question tells both."""
    later(bench, taps, "E")
    scale(bench, taps, "18 g")
    assert bench.page.forms["fill"].inputs["mass"].label.endswith("with the pouch of 18\u00a0g")
    assert "with 700\u00a0g of hard wheat (718\u00a0g on the scale with its pouch)" in (
        bench.page.sentence.text
    )

    scale(bench, taps, "720 g")
    assert masses(bench) == [702.0]

    scale(bench, taps, "500 g")
    assert "Is 482\u00a0g (500\u00a0g on the scale) right" in bench.page.sentence.text
    assert "that is 718\u00a0g on the scale" in bench.page.standing.text


# An unlikely mass ---------------------------------------------------------------------------------


def test_an_unlikely_mass_is_asked_about_and_confirmed_by_one_key(
    bench: Bench, taps: HandTaps
) -> None:
    """Nothing is on record before the answer; the Space bar confirms, and the record tells so."""
    scale(bench, taps, "900 g")
    assert bench.session.pouches == {}
    assert bench.page.sentence.text.startswith("Is 900\u00a0g right for pouch 1?")

    later(bench, taps, SPACE)

    assert masses(bench) == [900.0]
    assert facts(bench, f.PouchesFilled)[-1].confirmed


def test_a_new_mass_takes_the_place_of_one_asked_about(bench: Bench, taps: HandTaps) -> None:
    """Weighed anew, the scale's next line is the mass, and the question is gone."""
    scale(bench, taps, "900 g")
    scale(bench, taps, "703 g")

    assert masses(bench) == [703.0]
    assert not facts(bench, f.PouchesFilled)[-1].confirmed


def test_the_question_can_be_left(bench: Bench, taps: HandTaps) -> None:
    """W, or Esc, goes back to weighing with nothing on record."""
    for back in ("W", Qt.Key.Key_Escape):
        scale(bench, taps, "900 g")
        later(bench, taps, back)
        assert bench.page.main.face.label == "Pouch 1 is filled"

    assert bench.session.pouches == {}


def test_the_second_enter_of_a_scale_does_not_answer_the_question(
    bench: Bench, taps: HandTaps
) -> None:
    """What comes within the time of a double tap never confirms a mass nobody has looked at."""
    scale(bench, taps, "900 g")
    taps.seconds += 0.003
    bench.key(ENTER)

    assert bench.session.pouches == {}


# What is left -------------------------------------------------------------------------------------


def test_a_plan_that_will_not_come_out_is_revised_by_one_press(
    bench: Bench, taps: HandTaps
) -> None:
    """With 2 kg lost the offer says what is planned and what will come; U takes it, Backspace
    takes it back."""
    planned = bench.session.plan.lines[0].count
    later(bench, taps, "L")
    bench.fill_in("mass", "2000")
    bench.fill_in("reason", "the pail fell")
    later(bench, taps, ENTER)
    assert facts(bench, f.FoodLost)[-1].mass_g == 2000.0
    offered = next(each for each in bench.page.card.seconds if each.key == "U")
    total = offered.command.count
    assert f"makes {total} more, not {planned}" in bench.page.standing.text
    assert total < planned

    later(bench, taps, "U")
    assert bench.session.plan.lines[0].count == total

    later(bench, taps, Qt.Key.Key_Backspace)
    assert bench.session.plan.lines[0].count == planned


def test_a_rejected_pouch_gives_its_food_back(bench: Bench, taps: HandTaps) -> None:
    """R sets a torn pouch aside; emptied, its food is among what is left."""
    scale(bench, taps, "700 g")
    later(bench, taps, "R")
    bench.fill_in("pouches", "1")
    bench.fill_in("reason", "torn")
    bench.option("food", "emptied")
    taps.seconds += 1.0
    bench.press_main()

    assert bench.session.pouches[1].emptied
    assert bench.page.standing.text.startswith("0 of")


# The ready check ----------------------------------------------------------------------------------


def test_the_ready_check_is_a_press_for_each_thing(bench: Bench, taps: HandTaps) -> None:
    """Rims, jar, test seam, then the alarm, which sounds before it can be said to be heard; the
    last press records the whole."""
    later(bench, taps, SPACE, times=3)
    later(bench, taps, "P")
    words = []
    for _ in range(3):
        words.append(bench.page.main.face.label)
        later(bench, taps, SPACE)
    assert words == ["The rims are wiped", "The jar is out", "The test seam holds"]
    before = bench.strokes
    later(bench, taps, SPACE)
    assert bench.strokes > before
    assert bench.session.ready_for == ()
    later(bench, taps, SPACE)

    assert facts(bench, f.ReadyChecked)[-1].checked == tuple(ReadyItem)
    assert bench.session.ready_for == (1, 2, 3)
    bench.window.alarm.silence()


@pytest.mark.parametrize("size", [(1366, 768), (1093, 614)])
def test_before_the_iron_is_hot_its_caution_and_dots_are_in_sight(
    bench: Bench, taps: HandTaps, size: tuple[int, int]
) -> None:
    """At «Heat the iron» nobody scrolls to learn how hot, or that it burns, even on a small screen;
    the alarm is tested at its own step."""
    bench.window.resize(*size)
    later(bench, taps, SPACE, times=3)
    later(bench, taps, "P")
    later(bench, taps, SPACE, times=2)
    bench.settle()
    page = bench.page

    assert page.main.face.label == "The test seam holds"
    assert page.evidence.text.startswith("Dry iron, ")
    assert page.caution.text.startswith("The iron burns")
    for words in (page.evidence, page.caution):
        assert words.visibleRegion().boundingRect().height() == words.height() > 0
    assert not any(control.form == "alarm_test" for control in page.card.seconds)


def test_an_alarm_heard_is_not_asked_for_again(bench: Bench, taps: HandTaps) -> None:
    """In the next rounds of a session the check has one thing less."""
    bench.walk.filled(2)
    bench.walk.do(c.CheckReady(tuple(ReadyItem)))
    bench.walk.in_round().shut(2).jar_shut().filled(2)
    later(bench, taps, "P")
    later(bench, taps, SPACE, times=3)

    assert bench.session.ready_for == (3, 4)
    assert facts(bench, f.ReadyChecked)[-1].checked == tuple(ReadyItem)


def test_the_check_tells_how_many_suit_the_round_and_counts_hands(
    bench: Bench, taps: HandTaps
) -> None:
    """Pace, time and packet are told; with a second person twice as many fit."""
    later(bench, taps, SPACE, times=3)
    later(bench, taps, "P")
    assert "At 30 s a pouch (usual, not measured yet)" in bench.page.evidence.text
    later(bench, taps, "N")
    later(bench, taps, "2")
    later(bench, taps, ENTER)

    assert "At 15 s a pouch" in bench.page.evidence.text
    later(bench, taps, "P")
    assert facts(bench, f.ReadyChecked)[-1].hands == 2
    assert facts(bench, f.ReadyChecked)[-1].checked == ()


def test_the_check_can_be_left_for_more_filling(bench: Bench, taps: HandTaps) -> None:
    """Esc goes back to the scale with nothing on record."""
    later(bench, taps, SPACE)
    later(bench, taps, "P")
    later(bench, taps, SPACE)
    later(bench, taps, Qt.Key.Key_Escape)

    assert bench.page.main.face.label == "Pouch 2 is filled"
    assert facts(bench, f.ReadyChecked) == []


def test_what_rings_meanwhile_does_not_undo_the_ticks(bench: Bench, taps: HandTaps) -> None:
    """An entry made in between, such as a note, leaves the check where it was."""
    later(bench, taps, SPACE)
    later(bench, taps, "P")
    later(bench, taps, SPACE)
    bench.walk.do(c.AddNote("the bell"))

    assert bench.page.main.face.label == "The jar is out"


# Slips --------------------------------------------------------------------------------------------


def test_a_double_tap_is_shown_as_ignored_and_counts_once(bench: Bench, taps: HandTaps) -> None:
    """The second of two presses within 0.3 s fills nothing and is shown by its tick."""
    later(bench, taps, SPACE)
    taps.seconds += 0.29
    bench.key(SPACE)

    assert len(bench.session.pouches) == 1
    assert bench.page.main.tick_shown
    taps.seconds += 0.3
    bench.key(SPACE)
    assert len(bench.session.pouches) == 2


def test_a_held_key_counts_once(bench: Bench, taps: HandTaps) -> None:
    """However long the Space bar is held, one pouch is filled."""
    later(bench, taps, SPACE)
    for _ in range(40):
        taps.seconds += 0.03
        held = QKeyEvent(QEvent.Type.KeyPress, SPACE, Qt.KeyboardModifier.NoModifier, " ", True, 1)
        QApplication.sendEvent(QApplication.focusWidget(), held)

    assert len(bench.session.pouches) == 1


def test_one_press_takes_the_last_press_back(bench: Bench, taps: HandTaps) -> None:
    """Backspace after three pouches leaves two; again, one."""
    later(bench, taps, SPACE, times=3)
    later(bench, taps, Qt.Key.Key_Backspace)
    assert list(bench.session.pouches) == [1, 2]
    later(bench, taps, Qt.Key.Key_Backspace)
    assert list(bench.session.pouches) == [1]


def test_a_restart_asks_nothing_twice(bench: Bench, taps: HandTaps) -> None:
    """Tare, losses and ready check are on record: a desk opened anew knows them."""
    later(bench, taps, "E")
    scale(bench, taps, "18 g")
    later(bench, taps, SPACE, times=2)
    later(bench, taps, "P")
    later(bench, taps, "P")

    again = Desk(bench.book, bench.clock)
    again.resume(bench.desk.session_id)

    assert list(again.state.session.tares.values()) == [18.0]
    assert again.state.session.ready_for == (1, 2)
    assert isinstance(bench.window, Window)


# What is left over --------------------------------------------------------------------------------


def test_food_left_over_is_never_left_in_silence(bench: Bench, taps: HandTaps) -> None:
    """Of 9 kg twelve of 13 pouches filled at 650 g leave 1.2 kg: count, offer and heading tell of
    one more, the food stays to be chosen when all are shut, and U brings a last one of 550 g."""
    scale(bench, taps, "650 g")
    for _ in range(11):
        scale(bench, taps, "650 g")
    page = bench.page
    assert "12 of 13 filled; about 1.20\u00a0kg left makes 2 more, not 1" in page.standing.text
    assert any(each.key == "U" and each.label == "Plan 14, not 13" for each in page.card.seconds)
    assert "with 700\u00a0g" in page.sentence.text

    scale(bench, taps, "650 g")
    assert page.sentence.text.startswith(
        "About 550\u00a0g of hard wheat is left over: U plans 1 more."
    )

    bench.walk.in_round(100).shut(13).jar_shut()
    bench.window.refresh()
    bench.settle()
    wheat = next(b for b in page._lines.buttons if b.isVisible() and b.option.key == "1")
    bench.click(wheat)
    assert page.sentence.text.endswith("550\u00a0g of hard wheat is left over: U plans 1 more.")

    later(bench, taps, "U")
    assert bench.session.plan.lines[0].count == 14
    assert "Fill pouch 14 with 550\u00a0g" in page.sentence.text


def test_too_little_for_a_pouch_is_put_aside_by_name(bench: Bench, taps: HandTaps) -> None:
    """What no pouch is worth is told with the key that puts it aside; then no food is left."""
    bench.walk.do(c.NoteFoodLost(1, 400.0, "spilled"))
    for _ in range(13):
        scale(bench, taps, "650 g")
    assert "about 150\u00a0g is left over, too little for one more (L" in bench.page.standing.text

    later(bench, taps, "L")
    bench.fill_in("mass", "150")
    bench.fill_in("reason", "eaten")
    later(bench, taps, ENTER)
    assert "13 of 13 filled; no food is left. 550\u00a0g lost or put" in bench.page.standing.text


def test_a_number_that_was_rejected_is_told_to_be_gone(bench: Bench, taps: HandTaps) -> None:
    """After pouch 2 went back the next one is pouch 3, and the page says that 2 comes no more."""
    later(bench, taps, SPACE, times=2)
    bench.walk.do(c.SetAside((2,), "torn", True))

    assert "Number 2 is not given again." in bench.page.standing.text


def test_nothing_left_is_said_before_a_pouch_is_filled(bench: Bench, taps: HandTaps) -> None:
    """With all that was left lost the heading asks for no mass, near by and from afar."""
    scale(bench, taps, "700 g")
    bench.walk.do(c.NoteFoodLost(1, 8300.0, "the pail fell"))

    card = bench.page.card
    assert card.sentence.startswith("By reckoning no hard wheat is left for pouch 2:")
    assert card.sentence.endswith("or U plans 1.")
    assert card.short.startswith("No food is left for")
