"""The two ways to look at the work: the whole desk, or its next act from two metres away."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt

from packdesk.desk.desk import Desk
from packdesk.ui.zones import Zones


class Afar:
    """Goes over to the far view and back; `shown` brings it up to date.

    `fills_screen`: whether the far view takes the whole screen, as it does for a person.
    """

    def __init__(self, zones: Zones, desk: Desk, shown: Callable[[], None]) -> None:
        self._zones = zones
        self._desk = desk
        self._shown = shown
        self._near_state = zones.windowState()
        self.fills_screen = False
        zones.far.acted.connect(self._act)
        zones.far.back_asked.connect(self.show_near)
        zones.clocks.afar_asked.connect(self.show_far)

    def show_far(self) -> None:
        """Show the next act and the most urgent time; only a stage of a session has them."""
        zones = self._zones
        if self._desk.state.session is None or zones.page not in zones.pages.values():
            return
        zones.look(afar=True)
        if self.fills_screen:
            self._near_state = zones.windowState()
            zones.setWindowState(self._near_state | Qt.WindowState.WindowFullScreen)
        self._shown()
        zones.far.main.setFocus()

    def show_near(self) -> None:
        """Show the whole desk."""
        zones = self._zones
        if zones.from_afar:
            zones.look(afar=False)
            if self.fills_screen:
                zones.setWindowState(self._near_state)
            zones.page.focus_main()

    def _act(self) -> None:
        """Act, unless what goes on record stands in fields that cannot be seen from afar."""
        page = self._zones.page
        if page.reads_unseen:
            self.show_near()
            return
        page.act()
        if self._zones.page.needs_looking:
            self.show_near()
        else:
            self._zones.far.main.setFocus()
