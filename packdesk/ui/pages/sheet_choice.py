"""Which sheet of labels lies in the printer: the list to pick it from, the same in every form."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import Trouble
from packdesk.present.label_job import usual_stock
from packdesk.ui.pages.inputs import PickInput
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.stock_form import MEASURE, MEASURE_CHOICE
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice


def stocks_of(sight: Sight) -> dict[str, LabelStock]:
    """The sheets of the catalogue, and those measured since it was read."""
    kept = {stock.key: stock for stock in sight.tools.papers.kept_stocks()}
    return {**sight.tools.catalog.label_stocks, **kept}


def usual_sheet(sight: Sight) -> str:
    """The sheet to begin with: the one chosen last, if it is still known."""
    chosen = sight.tools.choices.settings.text("label_stock")
    return chosen if chosen in stocks_of(sight) else usual_stock(sight.tools.catalog, sight.units)


class SheetChoice(QObject):
    """Lists of label sheets that always show the same one.

    With `measures` the last entry of each leads to measuring a sheet that is not in it.

    Signals:
        taken: another sheet was picked.
        measure_asked: the person wants to measure one.
        said: a sentence for the whole window.
    """

    taken = Signal()
    measure_asked = Signal()
    said = Signal(str)

    def __init__(self, theme: Theme, parent: QObject, *, measures: bool) -> None:
        super().__init__(parent)
        self._theme = theme
        self._measures = measures
        self._picks: list[PickInput] = []
        self._sight: Sight | None = None

    @property
    def key(self) -> str:
        """The sheet picked; empty before any is shown."""
        return self._picks[0].key if self._picks else ""

    def pick(self) -> PickInput:
        """One more list, for one more form."""
        pick = PickInput(self._theme, "Label sheet", "Choose the sheet by its measures.")
        pick.chosen.connect(self._take)
        self._picks.append(pick)
        return pick

    def show(self, sight: Sight) -> None:
        """Show the sheets there are."""
        self._sight = sight
        known = tuple(Choice(key, stock.name) for key, stock in stocks_of(sight).items())
        choices = (*known, MEASURE_CHOICE) if self._measures else known
        for pick in self._picks:
            pick.show_choices(choices, pick.key or usual_sheet(sight))

    def stock(self, sight: Sight) -> LabelStock | None:
        """The sheet picked, if one is."""
        return stocks_of(sight).get(self.key)

    def take(self, key: str, sight: Sight) -> None:
        """Begin with this sheet from now on, in every form."""
        self.show(sight)
        self._put(key)
        choices = sight.tools.choices
        try:
            choices.keep(choices.settings.with_choice("label_stock", key))
        except Trouble as trouble:
            self.said.emit(str(trouble))
        self.taken.emit()

    def _take(self, key: str) -> None:
        assert self._sight is not None, "picked only from a list that was shown"
        if key == MEASURE:
            self._put(usual_sheet(self._sight))
            self.measure_asked.emit()
        else:
            self.take(key, self._sight)

    def _put(self, key: str) -> None:
        for pick in self._picks:
            pick.box.setCurrentIndex(pick.box.findData(key))
