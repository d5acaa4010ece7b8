"""Controls act on release, forgive a slip, and count a double tap once."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from packdesk.present.cards import CellState, PouchCell
from packdesk.ui.icons import Icon
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.main_control import MainControl, MainFace
from packdesk.ui.widgets.press import Tap
from packdesk.ui.widgets.second_control import SecondControl, SecondFace

LEFT = Qt.MouseButton.LeftButton


class Counter:
    """Counts the signals of a control."""

    def __init__(self, control: MainControl | SecondControl) -> None:
        self.acted = self.ignored = self.asked = 0
        control.acted.connect(self._acted)
        control.ignored.connect(self._ignored)
        control.missing_asked.connect(self._asked)

    def _acted(self) -> None:
        self.acted += 1

    def _ignored(self) -> None:
        self.ignored += 1

    def _asked(self) -> None:
        self.asked += 1


@pytest.fixture
def control(theme: Theme, hand_clock, qtbot: QtBot) -> MainControl:
    """A main control on a clock that stands."""
    control = MainControl(theme, clock=hand_clock)
    qtbot.addWidget(control)
    pouch = PouchCell(17, CellState.PRESSED_SHUT, "Pouch 17, wheat, pressed shut")
    control.show_face(MainFace("Pouch 17 is shut", "Space bar", pouch))
    control.resize(482, 151)
    control.show()
    return control


def test_a_click_counts(control: MainControl, qtbot: QtBot) -> None:
    """Press and release on the control count once."""
    counter = Counter(control)

    qtbot.mouseClick(control, LEFT)

    assert counter.acted == 1


def test_it_acts_on_release(control: MainControl, qtbot: QtBot) -> None:
    """Nothing is counted while the finger is down."""
    counter = Counter(control)

    qtbot.mousePress(control, LEFT)

    assert counter.acted == 0
    assert control.shown_pressed
    qtbot.mouseRelease(control, LEFT)
    assert counter.acted == 1


@pytest.mark.parametrize(("outside_px", "counted"), [(10, 1), (20, 0)])
def test_a_slip_of_twelve_px_is_forgiven(
    control: MainControl, qtbot: QtBot, outside_px: int, counted: int
) -> None:
    """A finger that slips a little off the edge still counts, one that leaves does not."""
    counter = Counter(control)
    edge = QPoint(control.width() + outside_px, 40)

    qtbot.mousePress(control, LEFT)
    qtbot.mouseMove(control, edge)
    qtbot.mouseRelease(control, LEFT, pos=edge)

    assert counter.acted == counted


def test_a_second_tap_within_300_ms_is_shown_and_not_counted(
    control: MainControl, hand_clock, qtbot: QtBot
) -> None:
    """A double tap counts once; the second one is told and shows a tick."""
    counter = Counter(control)

    qtbot.mouseClick(control, LEFT)
    hand_clock.advance(0.299)
    qtbot.mouseClick(control, LEFT)

    assert (counter.acted, counter.ignored) == (1, 1)
    assert control.tick_shown


def test_a_tap_after_300_ms_counts_again(control: MainControl, hand_clock, qtbot: QtBot) -> None:
    """Two taps 0.3 s apart are two."""
    counter = Counter(control)

    qtbot.mouseClick(control, LEFT)
    hand_clock.advance(0.301)
    qtbot.mouseClick(control, LEFT)

    assert (counter.acted, counter.ignored) == (2, 0)


def test_steady_drumming_is_counted_at_its_own_pace(control: MainControl, hand_clock) -> None:
    """Taps 110 ms apart count every third: an ignored tap does not start the wait anew."""
    taps = []
    for _ in range(7):
        taps.append(control.act())
        hand_clock.advance(0.11)

    assert taps.count(Tap.COUNTED) == 3


def test_the_pressed_look_ends_by_itself(control: MainControl) -> None:
    """A counted press is shown until its 90 ms are over."""
    control.act()
    assert control.shown_pressed
    assert control._flash.interval() >= 90

    control._flash.stop()

    assert not control.shown_pressed


def test_the_space_bar_counts_once(control: MainControl, qtbot: QtBot) -> None:
    """Space on the focused control is one press."""
    counter = Counter(control)
    control.setFocus()

    qtbot.keyClick(control, Qt.Key.Key_Space)

    assert counter.acted == 1


@pytest.mark.parametrize("key", [Qt.Key.Key_Space, Qt.Key.Key_Return])
def test_a_held_key_counts_once(control: MainControl, hand_clock, key: Qt.Key) -> None:
    """The repeats of a held key are not presses."""
    counter = Counter(control)
    press, release = QEvent.Type.KeyPress, QEvent.Type.KeyRelease
    plain = Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(control, QKeyEvent(press, key, plain))
    for _ in range(30):
        hand_clock.advance(0.3)
        QApplication.sendEvent(control, QKeyEvent(release, key, plain, "", True))
        QApplication.sendEvent(control, QKeyEvent(press, key, plain, "", True))
    QApplication.sendEvent(control, QKeyEvent(release, key, plain))

    assert counter.acted == 1


def test_a_control_that_is_not_yet_asks_for_what_is_missing(
    control: MainControl, qtbot: QtBot
) -> None:
    """While something is missing a press counts nothing and asks for it."""
    counter = Counter(control)
    control.show_face(MainFace("Agree this plan", "Space bar", missing="Settle the peanuts first"))

    qtbot.mouseClick(control, LEFT)

    assert (counter.acted, counter.asked) == (0, 1)
    assert control.isEnabled()


def test_what_is_missing_is_told_to_assistive_technology(control: MainControl) -> None:
    """The description says what is missing instead of the key."""
    control.show_face(MainFace("Agree this plan", "Space bar", missing="Settle the peanuts first"))

    assert control.accessibleName() == "Agree this plan"
    assert control.accessibleDescription() == "Settle the peanuts first"


def test_a_label_keeps_to_two_lines(control: MainControl) -> None:
    """A label too long for two lines is set smaller, and no word is broken."""
    long = "Alle zehn Beutel dieser Runde sind jetzt zugedrückt"
    control.show_face(MainFace(long, "Leertaste"))

    words = control._setting(482)

    assert len(words.label) <= 2
    assert " ".join(words.label) == long
    assert control.heightForWidth(482) == 151


def test_text_of_130_percent_still_fits(control: MainControl, theme: Theme) -> None:
    """With the largest type the control grows instead of cutting its words."""
    theme.set_text_percent(130)
    control.show_face(MainFace("All 10 absorbers are in and the pouches are shut", "Space bar"))

    words = control._setting(482)

    assert words.height + 22 <= control.heightForWidth(482)


def test_a_second_control_is_at_least_15_mm(theme: Theme, qtbot: QtBot) -> None:
    """A second control never gets lower than 57 px."""
    button = SecondControl(theme)
    qtbot.addWidget(button)
    button.set_height(20)

    assert button.sizeHint().height() == 57


def test_a_long_word_puts_the_key_below(theme: Theme, qtbot: QtBot) -> None:
    """Where word and time do not fit beside each other the control grows to hold both."""
    button = SecondControl(theme)
    qtbot.addWidget(button)
    button.show_face(SecondFace("Kältebehandlung vorzeitig beenden", "E", missing="Mi 22:50"))

    assert button.heightForWidth(200) > 66


def test_an_ampersand_is_no_shortcut(theme: Theme, qtbot: QtBot) -> None:
    """A food's "&" stays a character and makes no mnemonic."""
    button = SecondControl(theme)
    qtbot.addWidget(button)
    button.show_face(SecondFace("Take mac & cheese off"))

    assert button.accessibleName() == "Take mac & cheese off"
    assert button.shortcut().isEmpty()


@pytest.mark.parametrize("word", ["Another count", "Count and compare", "Another count or place"])
@pytest.mark.parametrize("width", [150, 188, 240])
def test_a_key_is_seen_however_a_word_wraps(
    theme: Theme, qtbot: QtBot, word: str, width: int
) -> None:
    """On one line, under the word or beside its two lines: the key of a control is drawn."""
    button = SecondControl(theme)
    qtbot.addWidget(button)

    def drawn(key: str) -> QImage:
        button.show_face(SecondFace(word, key, Icon.EDIT))
        button.resize(width, button.heightForWidth(width))
        return button.grab().toImage()

    assert drawn("I") != drawn("J")
