"""Which palette to show: a fixed one, or what the system asks for."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import Qt
from PySide6.QtGui import QStyleHints

from packdesk.ui.theme.tokens import DARK, HIGH_CONTRAST, LIGHT, Tokens


class PaletteChoice(StrEnum):
    """What a person may set."""

    FOLLOW_SYSTEM = "follow_system"
    LIGHT = "light"
    DARK = "dark"
    HIGH_CONTRAST = "high_contrast"


def wants_high_contrast(hints: QStyleHints) -> bool:
    """Whether the system asks for more contrast; Qt tells it from 6.10 on."""
    ask = getattr(hints, "accessibility", None)
    if ask is None:
        return False
    preferences = ask()
    return preferences.contrastPreference() == Qt.ContrastPreference.HighContrast


def tokens_for(choice: PaletteChoice, hints: QStyleHints) -> Tokens:
    """The palette for a choice; a system that says nothing gets the light one."""
    if choice is PaletteChoice.HIGH_CONTRAST:
        return HIGH_CONTRAST
    if choice is PaletteChoice.DARK:
        return DARK
    if choice is PaletteChoice.LIGHT:
        return LIGHT
    if wants_high_contrast(hints):
        return HIGH_CONTRAST
    return DARK if hints.colorScheme() == Qt.ColorScheme.Dark else LIGHT
