"""Loads the one type family from its wheel, and says what stands in where it lacks a character."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.resources import as_file, files

from PySide6.QtGui import QFont, QFontDatabase

from packdesk.ui.theme.measure import Measure, Role, Weight

FALLBACK_FAMILY = "DejaVu Sans"
FACE_FILES = {
    Weight.REGULAR: "SourceSansPro-Regular.ttf",
    Weight.SEMIBOLD: "SourceSansPro-Semibold.ttf",
    Weight.BOLD: "SourceSansPro-Bold.ttf",
}
_QT_WEIGHT = {
    Weight.REGULAR: QFont.Weight.Normal,
    Weight.SEMIBOLD: QFont.Weight.DemiBold,
    Weight.BOLD: QFont.Weight.Bold,
}
FIGURE_TRACKING_PERCENT = 98.5


@dataclass(frozen=True, slots=True)
class Faces:
    """The family name under which each weight was registered (systems name Semibold apart)."""

    regular: str = FALLBACK_FAMILY
    semibold: str = FALLBACK_FAMILY
    bold: str = FALLBACK_FAMILY

    def family(self, weight: Weight) -> str:
        """The registered family of a weight."""
        return {
            Weight.REGULAR: self.regular,
            Weight.SEMIBOLD: self.semibold,
            Weight.BOLD: self.bold,
        }[weight]

    def font(self, role: Role, measure: Measure, weight: Weight | None = None) -> QFont:
        """The font of a type role on this screen; `weight` overrides the role's own."""
        chosen = weight or role.weight
        font = QFont([self.family(chosen), self.regular, FALLBACK_FAMILY])
        font.setWeight(_QT_WEIGHT[chosen])
        font.setPixelSize(measure.text_px(role))
        font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
        if role.is_figure:
            font.setLetterSpacing(QFont.SpacingType.PercentageSpacing, FIGURE_TRACKING_PERCENT)
        return font


def load_faces() -> Faces:
    """Register the three cuts with Qt; a cut that cannot be loaded leaves the fallback family.

    Needs a running QGuiApplication. Loading twice is harmless: Qt shares equal files.
    """
    folder = files("font_source_sans_pro") / "files"
    families: dict[Weight, str] = {}
    for weight, name in FACE_FILES.items():
        with as_file(folder / name) as path:
            number = QFontDatabase.addApplicationFont(str(path))
        found = QFontDatabase.applicationFontFamilies(number) if number >= 0 else []
        families[weight] = found[0] if found else FALLBACK_FAMILY
    return Faces(
        regular=families[Weight.REGULAR],
        semibold=families[Weight.SEMIBOLD],
        bold=families[Weight.BOLD],
    )
