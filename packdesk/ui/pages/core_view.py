"""The load chooser over the core-temperature plot of the load shown, for two pages."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from packdesk.present.chosen import Chosen
from packdesk.present.core_curve import core_curve
from packdesk.present.load_view import load_tabs
from packdesk.session.state import Load
from packdesk.ui.pages.options import Option, Options
from packdesk.ui.pages.sight import Sight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.core_plot import CorePlot

LEAST_PLOT = 170
PLOT_EVERY_S = 300.0
"""A curve of days is worked out anew no more often than this while nothing is recorded."""


class CoreView(QWidget):
    """Chooser and plot; the curve is worked out only when it would look different.

    Signals:
        load_chosen: the letter of the load to look at.
    """

    load_chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.tabs = Options(theme, "")
        self.tabs.chosen.connect(self.load_chosen)
        self.plot = CorePlot(theme)
        self.plot.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.plot.setMinimumHeight(theme.whole(LEAST_PLOT))
        self._worked_out: tuple[object, ...] = ()
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.whole(10))
        box.addWidget(self.tabs)
        box.addWidget(self.plot, 1)

    def show_loads(self, sight: Sight, loads: Sequence[Load], shown: Load | None) -> None:
        """Show these loads, with the plot of the one shown; nothing when there is none."""
        self.setVisible(bool(loads))
        if sight.session is None or shown is None or not loads:
            return
        self.tabs.show_options(
            tuple(
                Option(tab.letter, tab.food[:1].upper() + tab.food[1:], tab.note, tab.letter)
                for tab in load_tabs(sight.session, loads, sight.now)
            ),
            shown.load,
        )
        due = (id(sight.entries), shown.load, int(sight.now.utc.timestamp() // PLOT_EVERY_S))
        if due != self._worked_out:
            self._worked_out = due
            curve = core_curve(sight.session, shown, sight.now, sight.measures)
            self.plot.show_curve(curve)


def all_loads(sight: Sight) -> list[Load]:
    """Every load of the session, to look back on once none of them is in hand."""
    return list(sight.session.loads.values()) if sight.session is not None else []


def picked(loads: Sequence[Load], chosen: Chosen) -> Load | None:
    """The load the person looks at among `loads`, or the first."""
    return next((load for load in loads if load.load == chosen.load), next(iter(loads), None))
