"""Dresses the application: Fusion, our palette for Qt's own parts, our font, the system's wish."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QToolTip

from packdesk.ui.theme.choice import PaletteChoice, tokens_for
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.theme.tokens import Tokens


def qt_palette(tokens: Tokens) -> QPalette:
    """Our colours in Qt's words, for its menus, tooltips and scroll bars."""
    palette = QPalette()
    role = QPalette.ColorRole
    for place, color in (
        (role.Window, tokens.cloth),
        (role.WindowText, tokens.ink),
        (role.Base, tokens.sheet),
        (role.AlternateBase, tokens.cloth),
        (role.Text, tokens.ink),
        (role.PlaceholderText, tokens.ink2),
        (role.Button, tokens.sheet),
        (role.ButtonText, tokens.ink),
        (role.BrightText, tokens.onbrick),
        (role.ToolTipBase, tokens.sheet),
        (role.ToolTipText, tokens.ink),
        (role.Highlight, tokens.indigo),
        (role.HighlightedText, tokens.onindigo),
        (role.Accent, tokens.indigo),
        (role.Link, tokens.indigo),
        (role.LinkVisited, tokens.indigo),
        (role.Light, tokens.sheet),
        (role.Midlight, tokens.haze),
        (role.Mid, tokens.rule),
        (role.Dark, tokens.edge),
        (role.Shadow, tokens.edge),
    ):
        palette.setColor(place, QColor(color))
    return palette


class Dress(QObject):
    """Keeps the application's own look in step with a theme and, if asked, with the system.

    Also watches for the first key, because the focus ring shows only once one was used.
    """

    def __init__(
        self, app: QApplication, theme: Theme, choice: PaletteChoice = PaletteChoice.FOLLOW_SYSTEM
    ) -> None:
        super().__init__(theme)
        self._app = app
        self._theme = theme
        self._choice = choice
        # The hints object must be kept: PySide6 drops its accessibility child with a temporary.
        self._hints = app.styleHints()
        app.setStyle("Fusion")
        app.installEventFilter(self)
        self._hints.colorSchemeChanged.connect(self._follow)
        theme.changed.connect(self._apply)
        self._follow()
        self._apply()

    def choose(self, choice: PaletteChoice) -> None:
        """Take a palette choice of the person."""
        self._choice = choice
        self._follow()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """See the first key go by; nothing is ever held back."""
        if event.type() == QEvent.Type.KeyPress:
            self._theme.note_key()
            self._app.removeEventFilter(self)
        return super().eventFilter(watched, event)

    def _follow(self) -> None:
        self._theme.set_tokens(tokens_for(self._choice, self._hints))

    def _apply(self) -> None:
        palette = qt_palette(self._theme.tokens)
        self._app.setPalette(palette)
        self._app.setFont(self._theme.font(Role.BODY, Weight.REGULAR))
        QToolTip.setPalette(palette)
        QToolTip.setFont(self._theme.font(Role.NOTE, Weight.REGULAR))
