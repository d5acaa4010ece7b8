from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window at the scale: both loads are open and nothing is filled yet."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    walk = bench.walk.opened().received().planned().frozen().cold_enough().taken_out()
    walk.uncovered()
    bench.window.show_stage(Stage.FILLING)
    yield bench
    bench.close()


def filled(bench: Bench) -> list[float | None]:
    """The masses of the pouches filled so far."""
    return [pouch.net_mass_g for pouch in bench.session.working_pouches()]


def test_space_counts_and_focus_returns_to_the_main_control(bench: Bench) -> None:
    """Space counts a pouch from wherever the focus is and leaves it on the main control."""
    bench.click(bench.input("mass").box)
    bench.key(Qt.Key.Key_Space, times=2)
    assert filled(bench) == [None, None]
    assert QApplication.focusWidget() is bench.page.main


def test_digits_go_to_the_mass_and_enter_records_with_it(bench: Bench) -> None:
    """Figures typed at the main control land in the mass field, and Enter records with them."""
    bench.type("702")
    assert bench.input("mass").text == "702"
    bench.key(Qt.Key.Key_Return)
    assert filled(bench) == [702.0]
    assert bench.input("mass").text == ""
    assert QApplication.focusWidget() is bench.page.main


def test_space_with_a_mass_typed_records_the_mass(bench: Bench) -> None:
    """A mass that stands in the field is never lost by pressing Space instead of Enter."""
    bench.type("699")
    bench.key(Qt.Key.Key_Space)
    assert filled(bench) == [699.0]


def test_a_scale_that_types_its_unit_is_understood(bench: Bench) -> None:
    """A scale that sends figure, unit and Enter records a weighed pouch."""
    bench.type("0.705kg")
    bench.key(Qt.Key.Key_Return)
    assert filled(bench) == [pytest.approx(705.0)]


def test_a_clicker_counts_like_space(bench: Bench) -> None:
    """The forward key of a clicker does what Space does."""
    bench.key(Qt.Key.Key_PageDown)
    assert filled(bench) == [None]


def test_a_held_space_bar_counts_once(bench: Bench) -> None:
    """The repeats of a held key count nothing."""
    main = bench.page.main
    main.setFocus()
    for repeat in (False, True, True, True):
        event = QKeyEvent(
            QEvent.Type.KeyPress, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " ", repeat
        )
        QApplication.sendEvent(main, event)
    assert filled(bench) == [None]


def test_a_held_key_counts_once_where_its_repeats_are_told_as_presses(bench: Bench) -> None:
    """Let go and pressed in the same instant is a held key, a later press is another."""
    down, up = QEvent.Type.KeyPress, QEvent.Type.KeyRelease
    held = [(1000, down), *((1660 + 400 * i, kind) for i in range(3) for kind in (up, down))]
    for at_ms, kind in (*held, (3000, up), (3100, down), (3200, up)):
        bench.clock.on(minutes=1)
        event = QKeyEvent(kind, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " ")
        event.setTimestamp(at_ms)
        QApplication.sendEvent(bench.page.main, event)
        if at_ms < 3100:
            assert filled(bench) == [None]
    assert filled(bench) == [None, None]


def test_letters_press_second_controls(bench: Bench) -> None:
    """The letter of a second control presses it, but in a field it only stands there."""
    bench.click(bench.input("mass").box)
    bench.key("A")
    assert filled(bench) == []
    assert bench.input("mass").text == "A"
    bench.page.focus_main()
    bench.key("A")
    assert len(filled(bench)) == bench.session.plan.lines[0].count


def test_letters_are_words_in_a_field_for_words(bench: Bench) -> None:
    """In a field for words a letter is a letter and Space a space."""
    bench.walk.filled(2).in_round().shut(2)
    bench.window.show_stage(Stage.SEALING)
    bench.key("S")
    bench.fill_in("reason", "a wrinkle so bad")
    assert bench.input("reason").text == "a wrinkle so bad"
    assert not any(pouch.aside for pouch in bench.session.pouches.values())


def test_backspace_undoes_unless_text_is_edited(bench: Bench) -> None:
    """Backspace takes the last entry back, but in a field it only edits."""
    bench.key(Qt.Key.Key_Space, times=2)
    bench.type("7")
    bench.key(Qt.Key.Key_Backspace, times=2)
    assert len(filled(bench)) == 2
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Backspace)
    assert len(filled(bench)) == 1


def test_a_button_walked_to_keeps_its_own_space(bench: Bench) -> None:
    """Space on a button that was reached with Tab presses that button."""
    bench.page.focus_main()
    bench.key(Qt.Key.Key_Tab)
    focus = QApplication.focusWidget()
    assert focus is bench.page.seconds[0]
    bench.key(Qt.Key.Key_Space)
    assert len(filled(bench)) == bench.session.plan.lines[0].count


@pytest.mark.parametrize("go_on", [Qt.Key.Key_Space, Qt.Key.Key_Return])
def test_a_typed_figure_replaces_the_usual_answer_and_a_made_choice_lets_keys_go_on(
    bench: Bench, go_on: Qt.Key
) -> None:
    """After a click into a usual count 5 is 5; Space or Enter after a click on a choice goes on."""
    bench.walk.filled().made_ready()
    bench.window.show_stage(Stage.FILLING)
    bench.page.press_key("P")
    count, bag = bench.input("absorbers"), bench.input("bag")
    assert len(count.text) == 2
    bench.click(count.box)
    QTest.keyClicks(count.box, "5")
    assert count.text == "5"
    bench.click(count.box)
    QTest.keyClicks(count.box, "0")
    assert count.text in ("50", "05"), "what was typed by hand is edited, not replaced"
    bench.click(bag.buttons[1])
    bench.key(go_on)
    (round_,) = bench.session.rounds.values()
    assert round_.count in (5, 50)
    assert round_.capacity_low_cc < round_.rating_cc


def test_space_after_a_typed_count_does_what_the_main_control_says(bench: Bench) -> None:
    """No count has a blank in it: the packet is open, its clock runs; where words are wanted the
    control says Enter, since the blanks are theirs."""
    bench.page.press_key("L")
    assert bench.page.main.face.hint == "Enter; Esc goes back"
    bench.key(Qt.Key.Key_Escape)

    bench.walk.filled().made_ready()
    bench.window.show_stage(Stage.FILLING)
    bench.page.press_key("P")
    assert bench.page.main.face.hint.startswith("Space bar")
    bench.option("bag", "tight")
    count = bench.input("absorbers").box
    count.setFocus()
    count.selectAll()
    for key in (Qt.Key.Key_8, Qt.Key.Key_Space):
        bench.key(key)
    (round_,) = bench.session.rounds.values()
    assert round_.count == 8


def test_tab_walks_from_the_main_control_through_the_page_in_reading_order(bench: Bench) -> None:
    """Tab goes from the main control over the second control to the fields from left to right."""
    bench.page.focus_main()
    walked = []
    for _ in range(6):
        bench.key(Qt.Key.Key_Tab)
        walked.append(QApplication.focusWidget())
    mass, count = bench.input("mass").box, bench.input("count").box
    assert walked[0] is bench.page.seconds[0]
    assert walked.index(mass) < walked.index(count)


def test_a_typed_count_changes_what_the_main_control_means(bench: Bench) -> None:
    """A count typed into its field is what the next press counts."""
    bench.fill_in("count", "5")
    assert bench.page.main.face.label == "Pouches 1 to 5 are filled"
    bench.key(Qt.Key.Key_Return)
    assert len(filled(bench)) == 5
    assert bench.page.main.face.label == "Pouch 6 is filled"


def test_escape_closes_a_form_without_doing_anything(bench: Bench) -> None:
    """Esc leaves a form that was opened, with nothing recorded and the card as it was."""
    bench.walk.filled(4).in_round()
    bench.window.show_stage(Stage.FILLING)
    bench.key("W")
    bench.type("2")
    assert bench.page.main.face.label == "All 2 are shut"
    bench.key(Qt.Key.Key_Escape)
    assert bench.page.main.face.label == "All 4 are shut"
    assert bench.session.rounds[1].placed == 0


def test_the_far_view_acts_like_the_page(bench: Bench) -> None:
    """F shows the far view; there Space counts too, and F leads back."""
    bench.key("F")
    assert bench.window.from_afar
    bench.key(Qt.Key.Key_Space)
    bench.click(bench.window.far.main)
    assert len(filled(bench)) == 2
    bench.key(Qt.Key.Key_Backspace)
    assert len(filled(bench)) == 1
    bench.key("F")
    assert not bench.window.from_afar


def test_the_far_view_takes_the_whole_screen_and_gives_it_back(bench: Bench) -> None:
    """F fills the screen with count, next act and nearest clock; Esc brings the window back."""
    bench.window.afar.fills_screen = True
    bench.walk.filled(3).in_round()

    bench.key("F")

    assert bench.window.isFullScreen()
    face = bench.window.far.face
    assert face.count == bench.page.count_afar
    assert face.clock.name.startswith("Packet")
    bench.key(Qt.Key.Key_Escape)
    assert not bench.window.isFullScreen()


def test_a_field_that_is_asked_for_is_in_sight(bench: Bench) -> None:
    """However far the page was scrolled, a figure typed from afar and a form opened show theirs."""
    bench.window.resize(1093, 614)
    bench.walk.filled(10).in_round().shut(3)
    bench.window.show_stage(Stage.FILLING)
    bench.settle()
    scroll = bench.page.scroll
    for way_in in (("F", "4"), ("W",), ("K",)):
        scroll.verticalScrollBar().setValue(scroll.verticalScrollBar().maximum())
        assert scroll.verticalScrollBar().value() > 0
        for key in way_in:
            bench.key(key)
        seen = scroll.viewport()
        field = bench.window.focusWidget()

        assert not bench.window.from_afar
        assert field.hasFocus()
        assert seen.rect().contains(field.rect().translated(field.mapTo(seen, QPoint(0, 0))))
        bench.key(Qt.Key.Key_Escape)


def test_no_packet_is_opened_unseen(bench: Bench) -> None:
    """From afar Space leads to the fields that would go on record; there it counts."""
    bench.walk.filled(4).made_ready()
    bench.key("P")
    bench.page.focus_main()
    bench.key("F")
    assert bench.window.from_afar
    before = len(bench.desk.entries)
    bench.key(Qt.Key.Key_Space)
    assert not bench.window.from_afar
    assert len(bench.desk.entries) == before
    assert bench.page.main.hasFocus()
    bench.key(Qt.Key.Key_Space)
    assert list(bench.session.rounds) == [1]
