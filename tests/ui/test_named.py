"""Whatever can take the focus has a name, and whatever is to be hit is large enough."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot

from packdesk.present.cards import (
    AlarmBand,
    CellState,
    Mark,
    PacketTimes,
    PouchCell,
    StageRow,
    TallyBoard,
    TallyLine,
)
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.alarm_band import AlarmBandView
from packdesk.ui.widgets.choice_field import Choice, ChoiceField
from packdesk.ui.widgets.clocks_column import ClocksColumn
from packdesk.ui.widgets.empty_state import EmptyFace, EmptyState
from packdesk.ui.widgets.field import Field
from packdesk.ui.widgets.label_sheet_view import LabelSheetView, SheetFace
from packdesk.ui.widgets.main_control import MainControl, MainFace
from packdesk.ui.widgets.packet_ribbon import PacketRibbon
from packdesk.ui.widgets.pouch_cells import PouchCells
from packdesk.ui.widgets.refusal import Objection
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.stage_path import StagePath
from packdesk.ui.widgets.tally_strip import TallyStrip

CELLS = tuple(PouchCell(n, CellState.FILLED, f"Pouch {n}, wheat, filled") for n in (1, 2))


def main_control(theme: Theme) -> QWidget:
    """A main control at rest."""
    control = MainControl(theme)
    control.show_face(MainFace("Pouch 17 is shut", "Space bar"))
    return control


def second_control(theme: Theme) -> QWidget:
    """A second control at rest."""
    control = SecondControl(theme)
    control.show_face(SecondFace("Set aside", "S"))
    return control


def stage_path(theme: Theme) -> QWidget:
    """A path of one stage."""
    path = StagePath(theme)
    path.show_rows((StageRow(Stage.FILLING, "Filling", "16 of 38 shut", Mark.NOW),), None)
    return path


def tally_strip(theme: Theme) -> QWidget:
    """A tally of one plan line."""
    strip = TallyStrip(theme)
    strip.show_board(TallyBoard((TallyLine(1, "Wheat", "2 filled", CELLS),), "Pouch 2", "Undo", ""))
    return strip


def alarm_band(theme: Theme) -> QWidget:
    """A band that rings."""
    band = AlarmBandView(theme)
    band.show_band(AlarmBand("Packet 2 is late", "Close it up.", "", ("p2",)))
    return band


def refused_field(theme: Theme) -> QWidget:
    """A field with a refusal and its cure."""
    field = Field(theme, "Mass", unit="kg")
    field.show_objection(Objection("Too much", "2 kg", "Take less.", "Set 1.3 kg"))
    return field


def choice_field(theme: Theme) -> QWidget:
    """A choice of one."""
    field = ChoiceField(theme, "Pouch")
    field.show_choices((Choice("a", "2 L, foil"),), "a")
    return field


def pouch_cells(theme: Theme) -> QWidget:
    """Two numbered cells."""
    cells = PouchCells(theme, numbered=True)
    cells.show_cells(CELLS)
    return cells


def label_sheet(theme: Theme) -> QWidget:
    """A partly used sheet."""
    view = LabelSheetView(theme)
    view.show_face(SheetFace(210, 297, 3, 7, 64, 38, 7, 15, 66, 38.5, 8, 5))
    return view


def empty_state(theme: Theme) -> QWidget:
    """The empty clocks."""
    empty = EmptyState(theme)
    empty.show_face(EmptyFace("No clock runs yet", "The first one starts with the freezer."))
    return empty


def packet_ribbon(theme: Theme) -> QWidget:
    """A packet just opened."""
    ribbon = PacketRibbon(theme)
    opened = datetime(2026, 10, 18, 10, 31, tzinfo=UTC)
    due = opened + timedelta(minutes=20)
    ribbon.show_face(PacketTimes(opened, opened, due, "10:31 opened", "now", "10:51 due"))
    return ribbon


MAKERS = (
    main_control, second_control, stage_path, tally_strip, alarm_band, refused_field, choice_field,
    pouch_cells, label_sheet, empty_state, packet_ribbon, ClocksColumn,
)  # fmt: skip


@pytest.fixture
def made(request: pytest.FixtureRequest, theme: Theme, qtbot: QtBot) -> QWidget:
    """One widget, shown."""
    maker: Callable[[Theme], QWidget] = request.param
    widget = maker(theme)
    qtbot.addWidget(widget)
    widget.show()
    return widget


@pytest.mark.parametrize("made", MAKERS, indirect=True, ids=lambda maker: maker.__name__)
def test_every_focusable_widget_is_named(made: QWidget) -> None:
    """Assistive technology hears a name for each widget that can take the focus."""
    everything = [made, *made.findChildren(QWidget)]

    for widget in everything:
        takes_focus = widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        if takes_focus and widget.isVisible() and not widget.objectName().startswith("qt_"):
            interface = QAccessible.queryAccessibleInterface(widget)
            assert interface.text(QAccessible.Text.Name).strip(), widget


@pytest.mark.parametrize("made", MAKERS, indirect=True, ids=lambda maker: maker.__name__)
def test_every_button_is_at_least_15_mm_high(made: QWidget) -> None:
    """Buttons are 57 px (15 mm) high or more; path rows 56 at their closest."""
    buttons = [made] if isinstance(made, QAbstractButton) else made.findChildren(QAbstractButton)

    for button in buttons:
        if button.isVisible() and not button.objectName().startswith("qt_"):
            assert button.sizeHint().height() >= 57, button


@pytest.mark.parametrize("made", MAKERS, indirect=True, ids=lambda maker: maker.__name__)
def test_every_widget_paints_in_every_palette_and_size(made: QWidget, theme: Theme) -> None:
    """No palette, text size or width step breaks a widget's drawing."""
    from packdesk.ui.theme.tokens import PALETTES

    for tokens in PALETTES:
        theme.set_tokens(tokens)
        for width, percent in ((1093, 100), (1366, 130), (1920, 90)):
            theme.set_text_percent(percent)
            theme.fit_width(width)
            made.resize(max(made.sizeHint().width(), 200), max(made.sizeHint().height(), 60))
            picture = made.grab().toImage()
            assert not picture.isNull()
            colors = {
                picture.pixel(x, y)
                for x in range(0, picture.width(), 3)
                for y in range(0, picture.height(), 3)
            }
            assert len(colors) > 1, "nothing was drawn"
