"""Access: names, keys, the focus in sight, millimetres, and nothing told by colour alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible, QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from packdesk.present.cards import CellState, ClockRow, Mark, PouchCell, StageRow, Urgency
from packdesk.session.terms import Stage
from packdesk.ui.pages.options import OptionButton
from packdesk.ui.theme.faces import Faces
from packdesk.ui.theme.layout import NARROW
from packdesk.ui.theme.theme import Theme
from packdesk.ui.theme.tokens import LIGHT, Tokens
from packdesk.ui.widgets.alarm_band import BandButton
from packdesk.ui.widgets.choice_field import ChoiceBox
from packdesk.ui.widgets.clock_card import ClockCard
from packdesk.ui.widgets.field import FieldBox
from packdesk.ui.widgets.main_control import MainControl, MainFace
from packdesk.ui.widgets.path_row import PathRow
from packdesk.ui.widgets.pouch_cell import PouchCellView
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from tests.fakes.memory_book import MemoryBook
from tests.ui.look_window import SCENES
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

MM_PER_INCH = 25.4
MOST_STOPS = 150


@pytest.fixture(scope="module", params=list(SCENES))
def scene(
    request: pytest.FixtureRequest, faces: Faces, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Bench]:
    """The window in one of its states."""
    yield from _in_scene(request.param, Theme(faces), tmp_path_factory.mktemp("scene"))


def _in_scene(name: str, theme: Theme, folder: Path) -> Iterator[Bench]:
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), folder)
    SCENES[name](bench.walk, bench.window)
    bench.window.refresh()
    for _ in range(3):
        QApplication.processEvents()
    theme.note_key()
    yield bench
    bench.close()


def stops(bench: Bench) -> set[QWidget]:
    """Everything in sight that the Tab key should come to.

    Of a row of choices that is the one chosen; arrow keys walk the others.
    """
    return {
        widget
        for widget in bench.window.findChildren(QWidget)
        if widget.isVisible()
        and widget.isEnabled()
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and widget.focusProxy() is None
        and not (isinstance(widget, OptionButton) and not widget.isChecked())
    }


def walk_by_tab(
    bench: Bench, *, back: bool = False, look: Callable[[QWidget], None] | None = None
) -> list[QWidget]:
    """The stops of the Tab key, from the main control until it comes round."""
    main = bench.window.far.main if bench.window.from_afar else bench.page.main
    main.setFocus(Qt.FocusReason.TabFocusReason)
    found = [main]
    for _ in range(MOST_STOPS):
        key = Qt.Key.Key_Backtab if back else Qt.Key.Key_Tab
        QTest.keyClick(QApplication.focusWidget(), key)
        QApplication.processEvents()
        focus = QApplication.focusWidget()
        if look is not None:
            look(focus)
        if focus is main:
            return found
        found.append(focus)
    raise AssertionError(f"Tab does not come round: {found[-4:]}")


# Every control named ------------------------------------------------------------------------------


def test_every_control_in_sight_is_named(scene: Bench) -> None:
    """Whatever in the window can take the focus or a click says its name aloud."""
    for widget in scene.window.findChildren(QWidget):
        takes = widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        if takes and widget.isVisible() and not widget.objectName().startswith("qt_"):
            heard = QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)
            assert heard.strip(), (type(widget).__name__, widget.geometry())


# Keyboard only ------------------------------------------------------------------------------------


def test_the_tab_key_comes_to_every_control_and_round_again(scene: Bench) -> None:
    """No control is out of reach of the Tab key, forward or back, and none holds it."""
    wanted = stops(scene)

    assert wanted <= set(walk_by_tab(scene))
    assert wanted <= set(walk_by_tab(scene, back=True))


def test_the_tab_key_walks_the_page_in_reading_order(scene: Bench) -> None:
    """From the main control through the page the Tab key never jumps back up."""
    if scene.window.from_afar:
        return
    inside = [w for w in walk_by_tab(scene) if scene.page.isAncestorOf(w)]
    scene.page.scroll.verticalScrollBar().setValue(0)
    tops = [widget.mapTo(scene.page, QPoint(0, 0)).y() for widget in inside]

    assert inside[0] is scene.page.main
    assert tops == sorted(tops), list(zip(tops, [w.accessibleName() for w in inside], strict=True))


# Focus in sight -----------------------------------------------------------------------------------


def test_the_focus_is_seen_on_every_control(scene: Bench) -> None:
    """Round whatever has the focus there is something that is not there without it."""
    window = scene.window

    def look(widget: QWidget) -> None:
        seen = _around(window, widget)
        window.ring.stand_round(None)
        unseen = _around(window, widget)
        window.ring.stand_round(widget)
        assert seen != unseen, widget.accessibleName()

    walk_by_tab(scene, look=look)


def _around(window: QWidget, widget: QWidget) -> QImage:
    place = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())
    return window.grab(place.adjusted(-8, -8, 8, 8)).toImage()


# Sizes in millimetres -----------------------------------------------------------------------------


SCREENS = [(80, 1366), (96, 1093), (96, 1920), (130, 1093), (130, 1366)]
"""Dots to the inch, and how wide the window is in design px."""


def least_mm(target: QWidget, *, narrow: bool) -> float:
    """How high a target has to be: 15 mm but for the main control, and where a slip does no harm.

    In a field a slip moves the caret, at the box of a list it opens the list, in the path it shows
    another page. A pouch cell only says which pouch it is: a press on it does nothing.
    """
    if isinstance(target, MainControl):
        return 34.0 if narrow else 40.0
    if isinstance(target, FieldBox | ChoiceBox | PathRow):
        return 13.0
    return 0.0 if isinstance(target, PouchCellView) else 15.0


def targets(window: QWidget) -> list[QWidget]:
    """Everything in sight that can be pressed."""
    return [
        widget
        for widget in window.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and widget.focusProxy() is None
        and not widget.objectName().startswith("qt_")
    ]


MEASURED = {
    "fill-some": {MainControl, SecondControl, PathRow},
    "seal": {MainControl, SecondControl, PathRow},
    "packet": {FieldBox, ChoiceBox, OptionButton},
    "weigh": {FieldBox, OptionButton},
    "afar-late": {MainControl, SecondControl, BandButton},
}
"""Scenes to be measured, each with kinds of targets that must be among what is measured."""


@pytest.mark.parametrize("name", list(MEASURED))
def test_controls_have_their_millimetres(faces: Faces, tmp_path: Path, name: str) -> None:
    """On any screen the main control is 40 mm high, the others 15, and a finger apart.

    In a narrow window the main control is 34 mm high, a third of what is there.
    """
    theme = Theme(faces)
    for bench in _in_scene(name, theme, tmp_path):
        for dots_per_inch, width in SCREENS:
            theme.set_dots_per_inch(dots_per_inch)
            scale = dots_per_inch / 96
            bench.window.resize(round(width * scale), round(width * scale * 9 / 16))
            QApplication.processEvents()

            def mm(px: float, dots_per_inch: int = dots_per_inch) -> float:
                return px / dots_per_inch * MM_PER_INCH + 0.2  # whole pixels

            narrow = theme.layout is NARROW
            found = targets(bench.window)
            for target in found:
                least = least_mm(target, narrow=narrow)
                assert mm(target.height()) >= least, (target.accessibleName(), dots_per_inch, width)
                if isinstance(target, ChoiceBox):
                    assert mm(target.view().sizeHintForRow(0)) >= 15.0, target.accessibleName()
            assert MEASURED[name] <= {type(target) for target in found}
            finger = 4.0 if narrow else 5.0
            if bench.window.from_afar:
                main, undo = bench.window.far.main, bench.window.far.undo
                assert mm(undo.geometry().top() - main.geometry().bottom()) >= finger
                continue
            _far_enough_apart(bench, finger, mm)


def _far_enough_apart(bench: Bench, finger: float, mm: Callable[[float], float]) -> None:
    """A slip from the main control, or from one of the cures, does not hit another control."""
    main, undo = bench.page.main, bench.window.tally.undo
    for second in (each for each in bench.page.seconds if each.isVisible()):
        gap = second.mapTo(bench.page, QPoint(0, 0)).x() - main.geometry().right()
        assert mm(gap) >= finger
    third = bench.page.third
    if third.isVisible():
        above = bench.page.seconds[1]
        bottom = above.mapTo(bench.page, above.rect().bottomLeft()).y()
        assert mm(third.y() - bottom) >= finger
    cures = [each for each in bench.page.amiss_row.buttons if each.isVisible()]
    for one, other in pairwise(cures):
        assert mm(other.x() - one.geometry().right()) >= finger, other.accessibleName()
    below = undo.mapTo(bench.window, QPoint(0, 0)).y()
    bottom = main.mapTo(bench.window, main.rect().bottomLeft()).y()
    assert mm(below - bottom) >= 40.0, "Undo is far from the main control"


# No colour alone ----------------------------------------------------------------------------------


def black_and_white() -> Tokens:
    """A palette with two colours: whatever is told by hue or shade alone is gone."""
    found = {}
    for field in fields(LIGHT):
        value = getattr(LIGHT, field.name)
        if isinstance(value, str) and value.startswith("#"):
            found[field.name] = "#000000" if QColor(value).lightnessF() < 0.5 else "#FFFFFF"
    return replace(LIGHT, **found)


def shot(widget: QWidget, width: int, height: int) -> QImage:
    """The picture of a widget in black and white."""
    widget.resize(width, height)
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    widget.render(image)
    widget.deleteLater()
    return image


def ink_between(one: QImage, other: QImage) -> int:
    """How many pixels are black in one and white in the other."""
    pairs = (
        (QColor(one.pixel(x, y)).lightnessF(), QColor(other.pixel(x, y)).lightnessF())
        for x in range(one.width())
        for y in range(one.height())
    )
    return sum(abs(a - b) > 0.5 for a, b in pairs)


@pytest.fixture
def two_colours(faces: Faces) -> Theme:
    """A theme of black and white."""
    return Theme(faces, black_and_white())


def test_pouch_states_are_told_without_colour(two_colours: Theme) -> None:
    """In black and white every state of a pouch is still another drawing."""
    shots = {}
    for state in CellState:
        view = PouchCellView(two_colours, cell_px=40)
        view.show_cell(PouchCell(3, state, "Pouch 3"))
        shots[state] = shot(view, 60, 80)

    for one, other in combinations(shots, 2):
        assert ink_between(shots[one], shots[other]) >= 12, (one, other)


def test_clocks_are_told_without_colour(two_colours: Theme) -> None:
    """In black and white, and with the same words, late, soon and calm clocks are told apart."""
    shots = {}
    for urgency in Urgency:
        card = ClockCard(two_colours)
        row = ClockRow(
            "packet:1", "Packet P1", "", "14:32", "", "shut by", "9 min left", 0.6, False, urgency
        )
        card.show_row(row, full=True)
        shots[urgency] = shot(card, 290, 180)

    for one, other in combinations((Urgency.CALM, Urgency.SOON, Urgency.LATE), 2):
        assert ink_between(shots[one], shots[other]) >= 100, (one, other)


def test_stages_are_told_without_colour(two_colours: Theme) -> None:
    """In black and white done, partly, now and next are four different knots."""
    shots = {}
    for mark in Mark:
        row = PathRow(two_colours)
        told = StageRow(Stage.FILLING, "Filling", "in work", mark)
        row.show_row(told, shown=False, woven_above=True, woven_below=True)
        shots[mark] = shot(row, 256, 66)

    for one, other in combinations(shots, 2):
        assert ink_between(shots[one], shots[other]) >= 12, (one, other)


def test_what_cannot_be_done_yet_is_told_without_colour(two_colours: Theme) -> None:
    """In black and white a control that is not ready has another edge, and says what is missing."""
    main = [MainControl(two_colours) for _ in range(2)]
    for control, missing in zip(main, ("", "from 14:20"), strict=True):
        control.show_face(MainFace("All 6 are sealed", "from 14:20", missing=missing))
    second = [SecondControl(two_colours) for _ in range(2)]
    for control, missing in zip(second, ("", "14:20"), strict=True):
        control.show_face(SecondFace("Set aside", "14:20", None, missing))

    assert ink_between(shot(main[0], 480, 151), shot(main[1], 480, 151)) >= 500
    assert ink_between(shot(second[0], 240, 66), shot(second[1], 240, 66)) >= 100
