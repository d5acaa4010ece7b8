"""Which printer prints, and what is known of it."""

from __future__ import annotations

from PySide6.QtCore import QObject

from packdesk.ui.pages.inputs import PickInput
from packdesk.ui.pages.long_job import LongJob, printing_threads
from packdesk.ui.pages.printer_forms import USUAL_PRINTER
from packdesk.ui.pages.sight import Sight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice


def printer_chosen(sight: Sight) -> str:
    """The system's name of the printer chosen; empty: the usual one."""
    return sight.tools.choices.settings.text("printer")


def offset_mm(stock: str, sight: Sight) -> tuple[float, float]:
    """How far prints on `stock` are moved on the printer chosen, right and down."""
    measure = sight.tools.choices.settings.measure(printer_chosen(sight), stock)
    return measure.offset_mm if measure is not None else (0.0, 0.0)


class PrinterChoice(QObject):
    """A list of the system's printers, asked for once, beside the window."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self.pick = PickInput(theme, "Printer", "Choose a printer.")
        self._printers: tuple[str, ...] = ()
        self._asked = False

    def show(self, sight: Sight) -> None:
        """Show the printers known so far; those the system names follow when it has answered."""
        self._list(sight)
        if self._asked:
            return
        self._asked = True
        job = LongJob(lambda _tell: sight.tools.papers.printers(), self, threads=printing_threads)

        def found(printers: tuple[str, ...]) -> None:
            self._printers = printers
            self._list(sight, self.pick.key)

        job.done.connect(found)
        job.start()

    def take(self, sight: Sight) -> None:
        """Print on the one picked from now on."""
        printer = "" if self.pick.key == USUAL_PRINTER else self.pick.key
        if printer != printer_chosen(sight):
            choices = sight.tools.choices
            choices.keep(choices.settings.with_choice("printer", printer))

    def _list(self, sight: Sight, picked: str = "") -> None:
        chosen = printer_chosen(sight)
        names = dict.fromkeys((*self._printers, *((chosen,) if chosen else ())))
        usual = Choice(USUAL_PRINTER, "The usual one")
        self.pick.show_choices(
            (usual, *(Choice(name, name) for name in names)), picked or chosen or USUAL_PRINTER
        )
