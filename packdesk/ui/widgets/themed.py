"""What every widget shares: the theme it is drawn with and the ground it stands on."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from packdesk.ui.theme.theme import Theme


class Themed(QWidget):
    """A widget that is drawn with a theme on a ground colour ("cloth" or "sheet").

    `ground_role` names that colour; the focus ring reads it too. With `fills_ground` the widget
    paints it, otherwise its parent's shows through.
    """

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        ground: str = "cloth",
        fills_ground: bool = False,
    ) -> None:
        super().__init__(parent)
        self.theme = theme
        self.ground_role = ground
        self._fills_ground = fills_ground
        # What lies under it need not be painted when only this widget changes.
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent, fills_ground)
        theme.changed.connect(self.restyle)

    def restyle(self) -> None:
        """Take up a changed theme: sizes first, then a new picture."""
        self.updateGeometry()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Fill the ground if this widget owns it, then let the subclass draw."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._fills_ground:
            painter.fillRect(event.rect(), self.theme.color(self.ground_role))
        self.draw(painter)

    def draw(self, painter: QPainter) -> None:
        """Draw the contents; a plain container has none."""


def ground_of(widget: QWidget | None) -> str:
    """The role of the ground a widget stands on: its own or the nearest ancestor's that says."""
    while widget is not None:
        role = getattr(widget, "ground_role", "")
        if role:
            return role
        widget = widget.parentWidget()
    return "cloth"
