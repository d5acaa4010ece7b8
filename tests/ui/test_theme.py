"""The theme tells of its changes, loads our type and follows what the system asks for."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QFontInfo, QPalette
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from packdesk.ui.theme.choice import PaletteChoice, tokens_for
from packdesk.ui.theme.dress import Dress, qt_palette
from packdesk.ui.theme.faces import Faces
from packdesk.ui.theme.layout import NARROW
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.theme.tokens import DARK, HIGH_CONTRAST, LIGHT, PALETTES, Tokens


class HintedSystem:
    """A system that says what it was told to say."""

    def __init__(self, scheme: Qt.ColorScheme, *, contrast: bool = False) -> None:
        self._scheme = scheme
        self._contrast = contrast

    def colorScheme(self) -> Qt.ColorScheme:  # noqa: N802 - Qt's name
        return self._scheme

    def accessibility(self) -> HintedSystem:
        return self

    def contrastPreference(self) -> Qt.ContrastPreference:  # noqa: N802 - Qt's name
        high = Qt.ContrastPreference.HighContrast
        return high if self._contrast else Qt.ContrastPreference.NoPreference


@pytest.mark.parametrize("weight", Weight)
def test_the_three_cuts_are_our_own_family(theme: Theme, weight: Weight) -> None:
    """Each weight is drawn in the shipped family, not in a stand-in."""
    shown = QFontInfo(theme.font(Role.BODY, weight))

    assert shown.family() == "Source Sans Pro"
    assert shown.weight() == weight.value


def test_type_is_not_hinted(theme: Theme) -> None:
    """Fonts ask for no hinting, so that widths scale evenly."""
    assert theme.font(Role.BODY).hintingPreference() == QFont.HintingPreference.PreferNoHinting


def test_figures_are_tabular(theme: Theme) -> None:
    """All ten figures are equally wide, so that a ticking time does not jump."""
    metrics = theme.metrics(Role.FIGURE)

    assert len({round(metrics.horizontalAdvance(figure), 2) for figure in "0123456789"}) == 1


def test_a_change_is_told_once(theme: Theme, qtbot: QtBot) -> None:
    """Taking another palette is told, taking the same one again is not."""
    with qtbot.waitSignal(theme.changed):
        theme.set_tokens(DARK)
    with qtbot.assertNotEmitted(theme.changed):
        theme.set_tokens(DARK)


def test_a_narrow_window_takes_the_narrow_arrangement(theme: Theme) -> None:
    """Fitting a width of 1093 px chooses the rail."""
    theme.fit_width(1093)

    assert theme.layout is NARROW


@pytest.mark.parametrize(
    ("choice", "scheme", "contrast", "expected"),
    [
        (PaletteChoice.LIGHT, Qt.ColorScheme.Dark, True, LIGHT),
        (PaletteChoice.DARK, Qt.ColorScheme.Light, False, DARK),
        (PaletteChoice.HIGH_CONTRAST, Qt.ColorScheme.Light, False, HIGH_CONTRAST),
        (PaletteChoice.FOLLOW_SYSTEM, Qt.ColorScheme.Dark, False, DARK),
        (PaletteChoice.FOLLOW_SYSTEM, Qt.ColorScheme.Light, False, LIGHT),
        (PaletteChoice.FOLLOW_SYSTEM, Qt.ColorScheme.Unknown, False, LIGHT),
        (PaletteChoice.FOLLOW_SYSTEM, Qt.ColorScheme.Dark, True, HIGH_CONTRAST),
    ],
)
def test_the_palette_follows_the_choice(
    choice: PaletteChoice, scheme: Qt.ColorScheme, contrast: bool, expected: Tokens
) -> None:
    """A fixed choice wins over the system; following it prefers contrast over dark."""
    assert tokens_for(choice, HintedSystem(scheme, contrast=contrast)) is expected


@pytest.mark.parametrize("tokens", PALETTES, ids=lambda tokens: tokens.name)
def test_qt_is_dressed_in_our_colours(tokens: Tokens) -> None:
    """Qt's own parts take window, text and highlight from the palette."""
    palette = qt_palette(tokens)

    assert palette.color(QPalette.ColorRole.Window).name().upper() == tokens.cloth
    assert palette.color(QPalette.ColorRole.Text).name().upper() == tokens.ink
    assert palette.color(QPalette.ColorRole.Highlight).name().upper() == tokens.indigo


def test_dressing_follows_a_changed_choice(qapp: QApplication, faces: Faces) -> None:
    """Choosing dark changes theme and application palette together."""
    theme = Theme(faces)
    dress = Dress(qapp, theme, PaletteChoice.LIGHT)

    dress.choose(PaletteChoice.DARK)

    assert theme.tokens is DARK
    assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == DARK.cloth
    dress.choose(PaletteChoice.LIGHT)


def test_the_first_key_starts_the_ring(qapp: QApplication, faces: Faces, qtbot: QtBot) -> None:
    """The theme learns of the first key that is used anywhere."""
    theme = Theme(faces)
    Dress(qapp, theme, PaletteChoice.LIGHT)
    widget = QWidget()
    qtbot.addWidget(widget)
    assert not theme.keys_used

    qtbot.keyClick(widget, Qt.Key.Key_Tab)

    assert theme.keys_used
