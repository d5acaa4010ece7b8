"""The one object that widgets are given: colours, type and measures, and word of their change."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QScreen

from packdesk.ui.theme.faces import Faces
from packdesk.ui.theme.layout import MIDDLE, Layout, layout_for
from packdesk.ui.theme.measure import Measure, Role, Weight
from packdesk.ui.theme.tokens import LIGHT, Tokens


class Theme(QObject):
    """Colours, type, measures and the layout step of one window.

    Signals:
        changed: any of them changed; a widget lays itself out and paints anew.
        ring_changed: a key was used for the first time, so the focus ring shows from now on.
    """

    changed = Signal()
    ring_changed = Signal()

    def __init__(
        self,
        faces: Faces,
        tokens: Tokens = LIGHT,
        measure: Measure | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._faces = faces
        self._tokens = tokens
        self._measure = measure or Measure()
        self._layout = MIDDLE
        self._keys_used = False
        self._fonts: dict[tuple[Role, Weight | None], QFont] = {}
        self._metrics: dict[tuple[Role, Weight | None], QFontMetricsF] = {}

    @property
    def tokens(self) -> Tokens:
        """The palette in use."""
        return self._tokens

    @property
    def measure(self) -> Measure:
        """Lengths and type sizes of this screen."""
        return self._measure

    @property
    def layout(self) -> Layout:
        """The arrangement for the window's width."""
        return self._layout

    @property
    def keys_used(self) -> bool:
        """Whether a key was used yet, which is when the focus ring starts to show."""
        return self._keys_used

    def set_tokens(self, tokens: Tokens) -> None:
        """Change the palette."""
        if tokens != self._tokens:
            self._tokens = tokens
            self.changed.emit()

    def set_text_percent(self, percent: int) -> None:
        """Change the text size (90, 100, 115 or 130 %)."""
        self._set_measure(replace(self._measure, text_percent=percent))

    def set_dots_per_inch(self, dots_per_inch: float) -> None:
        """Change the screen's density."""
        self._set_measure(replace(self._measure, dots_per_inch=dots_per_inch))

    def follow_screen(self, screen: QScreen) -> None:
        """Take the density of a screen, as when the window is dragged to another."""
        self.set_dots_per_inch(screen.physicalDotsPerInch())

    def fit_width(self, width_px: int) -> None:
        """Choose the arrangement for the window's width."""
        layout = layout_for(width_px, self._measure.text_scale)
        if layout != self._layout:
            self._layout = layout
            self.changed.emit()

    def note_key(self) -> None:
        """A key was used: show the focus ring from now on."""
        if not self._keys_used:
            self._keys_used = True
            self.ring_changed.emit()

    def color(self, role: str) -> QColor:
        """The colour of a role by its name, such as ``"ink2"``."""
        return QColor(getattr(self._tokens, role))

    def font(self, role: Role, weight: Weight | None = None) -> QFont:
        """The font of a type role; the caller's own, to be changed at will."""
        if (role, weight) not in self._fonts:
            self._fonts[role, weight] = self._faces.font(role, self._measure, weight)
        return QFont(self._fonts[role, weight])

    def metrics(self, role: Role, weight: Weight | None = None) -> QFontMetricsF:
        """Widths and heights of a type role."""
        if (role, weight) not in self._metrics:
            self._metrics[role, weight] = QFontMetricsF(self.font(role, weight))
        return self._metrics[role, weight]

    def px(self, design_px: float) -> float:
        """A length of the design (px at 96 dpi) on this screen."""
        return self._measure.px(design_px)

    def whole(self, design_px: float) -> int:
        """The same in whole pixels."""
        return self._measure.whole(design_px)

    def line(self, role: Role) -> int:
        """The line height of a type role in px."""
        return self._measure.line_px(role)

    def _set_measure(self, measure: Measure) -> None:
        if measure != self._measure:
            self._measure = measure
            self._fonts.clear()
            self._metrics.clear()
            self.changed.emit()
