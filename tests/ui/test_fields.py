"""Fields keep what was typed, say what is wrong, and are worked by keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice, ChoiceField
from packdesk.ui.widgets.field import Field
from packdesk.ui.widgets.refusal import Objection

TOO_OILY = Objection(
    "Too oily to seal", "48 % fat, far over the limit", "Eat them within months.", "Take it off"
)


@pytest.fixture
def field(theme: Theme, qtbot: QtBot) -> Field:
    """A field for a mass in kg."""
    field = Field(theme, "Mass", unit="kg")
    qtbot.addWidget(field)
    field.resize(300, field.heightForWidth(300))
    field.show()
    return field


def test_the_text_stays_as_typed(field: Field, qtbot: QtBot) -> None:
    """A refusal leaves the typed text alone."""
    qtbot.keyClicks(field.box, "1,2x")

    field.show_objection(Objection("Not a number", "1,2x"))

    assert field.text == "1,2x"


def test_enter_hands_the_text_on(field: Field, qtbot: QtBot) -> None:
    """Enter commits the text exactly as typed."""
    qtbot.keyClicks(field.box, " 1.25 ")

    with qtbot.waitSignal(field.committed) as committed:
        qtbot.keyClick(field.box, Qt.Key.Key_Return)

    assert committed.args == [" 1.25 "]


def test_leaving_an_unchanged_field_commits_nothing(field: Field, qtbot: QtBot) -> None:
    """Only a changed text is handed on when the focus leaves."""
    field.show_text("1.25")
    field.box.setFocus()

    with qtbot.assertNotEmitted(field.committed):
        field.box.clearFocus()


def test_typing_is_not_overwritten(field: Field, qtbot: QtBot) -> None:
    """A text shown while the person is typing does not replace theirs."""
    field.box.setFocus()
    qtbot.keyClicks(field.box, "1.3")

    field.show_text("1.25")

    assert field.text == "1.3"


def test_the_box_is_named_with_its_unit(field: Field) -> None:
    """Assistive technology hears label and unit, and the refusal."""
    assert field.box.accessibleName() == "Mass in kg"

    field.show_objection(TOO_OILY)

    assert "Too oily to seal" in field.box.accessibleDescription()


def test_a_refusal_makes_room_and_goes_again(field: Field) -> None:
    """What is wrong stands under a narrow box and takes its room away with it."""
    resting = field.heightForWidth(300)
    field.show_objection(TOO_OILY)
    refused = field.heightForWidth(300)

    field.show_objection(None)

    assert refused > resting + 100
    assert field.heightForWidth(300) == resting
    assert field.refusal.isHidden()


def test_the_cure_is_offered_and_asked_for(field: Field, qtbot: QtBot) -> None:
    """The button of a refusal asks for its cure."""
    field.show_objection(TOO_OILY)
    field.resize(300, field.heightForWidth(300))

    with qtbot.waitSignal(field.cure_asked):
        qtbot.mouseClick(field.refusal.cure, Qt.MouseButton.LeftButton)


def test_a_warning_does_not_refuse(field: Field) -> None:
    """A warning speaks in the same place and leaves the box at rest."""
    field.show_objection(Objection("At the edge", "9.8 %", warning=True))

    assert not field.box._refused
    assert field.refusal.isVisible()


def test_a_wide_field_has_its_objection_beside(theme: Theme, qtbot: QtBot) -> None:
    """With room to its right the box has the objection there, at its own height."""
    field = Field(theme, "Food", box_width=190)
    qtbot.addWidget(field)
    field.show_objection(Objection("Too oily to seal", "48 % fat"))
    field.resize(640, field.heightForWidth(640))
    field.show()

    assert field.refusal.geometry().left() > field.box.geometry().right()
    assert field.refusal.geometry().top() == field.box.geometry().top()


@pytest.fixture
def choice(theme: Theme, qtbot: QtBot) -> ChoiceField:
    """A choice of two pouches."""
    choice = ChoiceField(theme, "Pouch")
    qtbot.addWidget(choice)
    choice.show_choices((Choice("small", "1 L, foil"), Choice("large", "5 L, foil")), "small")
    choice.resize(200, choice.heightForWidth(200))
    choice.show()
    return choice


def test_arrow_keys_choose(choice: ChoiceField, qtbot: QtBot) -> None:
    """Down takes the next entry and tells its key."""
    with qtbot.waitSignal(choice.chosen) as chosen:
        qtbot.keyClick(choice.box, Qt.Key.Key_Down)

    assert chosen.args == ["large"]
    assert choice.key == "large"


def test_a_wheel_over_a_choice_changes_nothing(choice: ChoiceField) -> None:
    """Scrolling the page with the pointer over a choice leaves it alone."""
    wheel = QWheelEvent(
        QPointF(10, 40),
        QPointF(10, 40),
        QPoint(0, -120),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(choice.box, wheel)

    assert choice.key == "small"


def test_showing_a_choice_tells_nobody(choice: ChoiceField, qtbot: QtBot) -> None:
    """Only the person's own choosing is told."""
    with qtbot.assertNotEmitted(choice.chosen):
        choice.show_choices((Choice("small", "1 L, foil"), Choice("large", "5 L, foil")), "large")

    assert choice.key == "large"


def test_a_field_hands_its_focus_to_the_box(field: Field, choice: ChoiceField) -> None:
    """Focusing a field means its box."""
    for owner in (field, choice):
        proxy: QWidget = owner.focusProxy()
        assert proxy is owner.box


def test_nothing_is_said_under_a_finger(theme: Theme, qtbot: QtBot) -> None:
    """A field left for a pressed button is read as the button is let go, just before it acts."""
    place = QWidget()
    qtbot.addWidget(place)
    box = QVBoxLayout(place)
    field, button = Field(theme, "Mass"), QPushButton("On", place)
    box.addWidget(field)
    box.addWidget(button)
    told: list[str] = []
    field.committed.connect(told.append)
    button.clicked.connect(lambda: told.append("acted"))
    place.show()
    place.activateWindow()
    assert QTest.qWaitForWindowActive(place)
    field.box.setFocus()
    qtbot.keyClicks(field.box, "1025")

    QTest.mousePress(button, Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    assert not field.box.hasFocus()
    assert told == []
    QTest.mouseRelease(button, Qt.MouseButton.LeftButton)

    assert told == ["1025", "acted"]
