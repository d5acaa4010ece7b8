"""The load chooser over the core temperature of the load shown, as a plot or as a table."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedLayout, QVBoxLayout, QWidget

from packdesk.present.chosen import Chosen
from packdesk.present.core_curve import core_curve, curve_at
from packdesk.present.core_table import core_rows
from packdesk.present.curves import CoreCurve
from packdesk.present.load_view import load_tabs
from packdesk.sentences import capital
from packdesk.session.load import Load
from packdesk.ui.pages.calendar_save import CalendarSave
from packdesk.ui.pages.options import TAGGED_HEIGHT, Option, Options
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.words import let_grow
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.core_plot import CorePlot
from packdesk.ui.widgets.core_table import CoreTable
from packdesk.ui.widgets.second_control import SecondControl, SecondFace

LEAST_PLOT = 150
SWITCH_WIDTH, CALENDAR_WIDTH = 118, 146
TABLE_KEY = "T"
NOW_EVERY_S = 60.0
"""Now moves on the plot by whole minutes: a second is less than a hundredth of a pixel."""


class CoreView(QWidget):
    """Chooser, plot and table; the curve is worked out only when something was recorded.

    Signals:
        load_chosen: the letter of the load to look at.
    """

    load_chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._curve: CoreCurve | None = None
        self._worked_out: tuple[object, str] = ((), "")
        self._shown_at: tuple[object, ...] = ()
        self.tabs = Options(theme, "")
        self.tabs.chosen.connect(self.load_chosen)
        self.switch = SecondControl(theme)
        let_grow(self.switch)
        self.switch.acted.connect(self.turn_over)
        self.calendar = CalendarSave(theme, "Calendar…", icon=None)
        self.plot = CorePlot(theme)
        self.plot.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.plot.setMinimumHeight(theme.whole(LEAST_PLOT))
        self.table = CoreTable(theme)
        self.table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        head = QHBoxLayout()
        head.setSpacing(theme.whole(16))
        head.addWidget(self.tabs, 1)
        head.addWidget(self.calendar)
        head.addWidget(self.switch)
        self._sides = QStackedLayout()
        self._sides.addWidget(self.plot)
        self._sides.addWidget(self.table)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.whole(10))
        box.addLayout(head)
        box.addLayout(self._sides, 1)
        theme.changed.connect(self._restyle)
        self._restyle()

    @property
    def as_table(self) -> bool:
        """Whether the table is shown instead of the plot."""
        return self._sides.currentWidget() is self.table

    def turn_over(self) -> None:
        """Show the table instead of the plot, or the plot instead of the table."""
        self._sides.setCurrentWidget(self.plot if self.as_table else self.table)
        self._face()

    def press_key(self, key: str) -> bool:
        """Turn over or write the calendar where this is the key for it; whether it was."""
        if self.isHidden():
            return False
        if key == TABLE_KEY:
            self.turn_over()
            return True
        return self.calendar.press_key(key)

    def show_loads(
        self,
        sight: Sight,
        loads: Sequence[Load],
        shown: Load | None,
        *,
        calendar: bool = True,
    ) -> None:
        """Show these loads, with the core of the one shown; nothing when there is none.

        With `calendar` their times are offered as a file, unless another control does.
        """
        self.setVisible(bool(loads))
        if sight.session is None or shown is None or not loads:
            return
        if calendar:
            self.calendar.offer(sight)
        else:
            self.calendar.hide()
        self.tabs.show_options(
            tuple(
                Option(tab.letter, capital(tab.food), tab.note, tab.letter)
                for tab in load_tabs(sight.session, loads, sight.now)
            ),
            shown.load,
        )
        if self._is_stale(sight, shown):
            self._worked_out = (sight.entries, shown.load)
            self._curve = core_curve(sight.session, shown, sight.now, sight.measures)
            self._shown_at = ()
        minute = (int(sight.now.utc.timestamp() // NOW_EVERY_S), sight.now.utc_offset_min)
        if minute != self._shown_at:
            self._shown_at = minute
            self._curve = curve_at(self._curve, sight.now, sight.measures)
            self.plot.show_curve(self._curve)
            self.table.show_rows(core_rows(self._curve, sight.measures))

    def _is_stale(self, sight: Sight, shown: Load) -> bool:
        """Whether something was recorded, another load is shown, or time ran off the plot."""
        entries, letter = self._worked_out
        if self._curve is None or entries is not sight.entries or letter != shown.load:
            return True
        return shown.uncovered is None and sight.now.utc > self._curve.points[-1].at

    def _restyle(self) -> None:
        for control, width in ((self.switch, SWITCH_WIDTH), (self.calendar, CALENDAR_WIDTH)):
            control.setFixedSize(self._theme.whole(width), self._theme.whole(TAGGED_HEIGHT))
        self._face()

    def _face(self) -> None:
        self.switch.show_face(SecondFace("Plot" if self.as_table else "Table", TABLE_KEY))


def all_loads(sight: Sight) -> list[Load]:
    """Every load of the session, to look back on once none of them is in hand."""
    return list(sight.session.loads.values()) if sight.session is not None else []


def picked(loads: Sequence[Load], chosen: Chosen) -> Load | None:
    """The load the person looks at among `loads`, or the first."""
    return next((load for load in loads if load.load == chosen.load), next(iter(loads), None))
