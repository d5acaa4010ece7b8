"""The band says what is late until the act ends it; stopping the sound only silences."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from packdesk.present.cards import AlarmBand
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.alarm_band import AlarmBandView

LATE = AlarmBand(
    "Packet 2 is 6 min past its time", "Close pouches 19 and 20 now.", "", ("packet-2",)
)


@pytest.fixture
def view(theme: Theme, qtbot: QtBot) -> AlarmBandView:
    """A band as wide as a window of 1366 px, with nothing late."""
    view = AlarmBandView(theme)
    qtbot.addWidget(view)
    view.resize(1366, 92)
    return view


def test_nothing_late_takes_no_room(view: AlarmBandView) -> None:
    """Without anything late the band is hidden."""
    view.show_band(LATE)
    view.show_band(None)

    assert view.isHidden()


def test_the_band_has_its_designed_height(view: AlarmBandView, theme: Theme) -> None:
    """The band is 92 px high, 76 in a narrow window."""
    view.show_band(LATE)
    assert view.height() == 92

    theme.fit_width(1093)

    assert view.height() == 76


def test_stop_sound_asks_once(view: AlarmBandView, qtbot: QtBot) -> None:
    """The button asks for silence."""
    view.show_band(LATE)

    with qtbot.waitSignal(view.stop_asked):
        qtbot.mouseClick(view.stop, Qt.MouseButton.LeftButton)


def test_a_silenced_band_stays(view: AlarmBandView) -> None:
    """Silenced, the button goes, the band stays and says when the sound was stopped."""
    view.show_band(replace(LATE, sound_stopped="sound stopped 10:58"))

    assert not view.isHidden()
    assert view.stop.isHidden()
    assert "sound stopped 10:58" in view.accessibleName()


def test_a_long_headline_keeps_clear_of_the_button(view: AlarmBandView) -> None:
    """A headline too long for one line is set smaller, then wrapped, and the band grows."""
    long = "Absorber packet number two is six minutes past its time and " * 6
    view.show_band(replace(LATE, headline=long))

    _, first, _ = view._lines(1366)

    assert len(first) > 1
    assert view.height() > 92
