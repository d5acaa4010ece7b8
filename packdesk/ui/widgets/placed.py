"""A widget that places its parts by hand, because no layout of Qt's fits their words."""

from __future__ import annotations

from PySide6.QtGui import QResizeEvent

from packdesk.ui.widgets.themed import Themed


class Placed(Themed):
    """Places its parts anew whenever its size or the theme changes; subclasses say how."""

    def restyle(self) -> None:
        super().restyle()
        self._place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def _place(self) -> None:
        """Give every part its place within the size there is now."""
