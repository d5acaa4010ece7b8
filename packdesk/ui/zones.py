"""The parts of the window and their places: band, path, work, clocks, tally, and the far view."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from packdesk.present.cards import AlarmBand, ClockRow
from packdesk.present.plan_offer import SupplyRow
from packdesk.ui.far_view import FarView
from packdesk.ui.notices import Notices
from packdesk.ui.pages.after import AfterPage
from packdesk.ui.pages.before import BeforePage
from packdesk.ui.pages.cold_treatment import ColdPage
from packdesk.ui.pages.filling import FillingPage
from packdesk.ui.pages.labelling import LabellingPage
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sealing import SealingPage
from packdesk.ui.pages.start_page import StartPage
from packdesk.ui.pages.story_page import StoryPage
from packdesk.ui.pages.supplies_card import SuppliesColumn
from packdesk.ui.pages.thaw_equilibration import ThawPage
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.alarm_band import AlarmBandView
from packdesk.ui.widgets.clocks_column import ClocksColumn
from packdesk.ui.widgets.stage_path import StagePath
from packdesk.ui.widgets.tally_strip import TallyStrip
from packdesk.ui.widgets.themed import Themed

PAGES: tuple[type[Page], ...] = (
    BeforePage,
    ColdPage,
    ThawPage,
    FillingPage,
    SealingPage,
    LabellingPage,
    AfterPage,
)
LEAST_SIZE = (860, 540)


class Zones(Themed):
    """Every part of the window, laid out; it knows no desk and moves nothing by itself."""

    def __init__(self, theme: Theme, tap_clock: Callable[[], float] | None = None) -> None:
        super().__init__(theme, ground="cloth", fills_ground=True)
        self.band = AlarmBandView(theme)
        self.path = StagePath(theme)
        self.clocks = ClocksColumn(theme)
        self.supplies = SuppliesColumn(theme)
        self.tally = TallyStrip(theme)
        self.notices = Notices(theme)
        self.pages = {page.stage: page(theme, tap_clock) for page in PAGES}
        self.start = StartPage(theme, tap_clock)
        self.story = StoryPage(theme, tap_clock)
        self.far = FarView(theme, tap_clock)
        self._stack = QStackedWidget()
        for page in self.all_pages:
            self._stack.addWidget(page)
        self._arrange()

    @property
    def all_pages(self) -> tuple[Page, ...]:
        """The pages of the stages, the start page, the story."""
        return (*self.pages.values(), self.start, self.story)

    @property
    def page(self) -> Page:
        """The page in the middle."""
        return self._stack.currentWidget()

    @property
    def from_afar(self) -> bool:
        """Whether the far view is shown."""
        return self._views.currentWidget() is self.far

    def look(self, *, afar: bool) -> None:
        """Show the far view, or the whole desk."""
        self._views.setCurrentIndex(1 if afar else 0)

    def show_supplies(self, rows: tuple[SupplyRow, ...]) -> None:
        """Let the supplies stand where no clock runs yet."""
        self.supplies.card.show_rows(rows)
        self.supplies.setVisible(bool(rows))
        self.clocks.setVisible(not rows)

    def show_clocks(self, rows: tuple[ClockRow, ...], *, under: bool, why: str = "") -> None:
        """Show the clocks, smaller under an alarm band; with none `why` says what starts one."""
        for card in self.clocks.cards[len(rows) :]:
            # Qt shows a widget that was just laid out a moment later, even once it has no parent.
            card.hide()
        self.clocks.show_rows(rows, under_band=under, why=why)

    def show_alarm(self, band: AlarmBand | None) -> None:
        """Show the band across the top, or take it away."""
        self.band.show_band(band)
        self.path.set_under_band(band is not None)

    def _arrange(self) -> None:
        column = QVBoxLayout(self)
        # The parts ask for less once the narrow step is taken; they must not stand in its way.
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
        self.setMinimumSize(*LEAST_SIZE)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        work = QWidget()
        work_box = QVBoxLayout(work)
        work_box.setContentsMargins(0, 0, 0, 0)
        work_box.setSpacing(0)
        work_box.addWidget(self.notices)
        work_box.addWidget(self._stack, 1)
        middle.addWidget(self.path)
        middle.addWidget(work, 1)
        middle.addWidget(self.clocks)
        middle.addWidget(self.supplies)
        self.supplies.hide()
        near = QWidget()
        near_box = QVBoxLayout(near)
        near_box.setContentsMargins(0, 0, 0, 0)
        near_box.setSpacing(0)
        near_box.addLayout(middle, 1)
        near_box.addWidget(self.tally)
        self._views = QStackedWidget()
        self._views.addWidget(near)
        self._views.addWidget(self.far)
        column.addWidget(self.band)
        column.addWidget(self._views, 1)
