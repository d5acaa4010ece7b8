"""A page at which papers are made: beside the window, to be looked at, printed and saved."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any
from uuid import UUID

from PySide6.QtWidgets import QWidget

from packdesk.desk.ports import Progress, Trouble
from packdesk.present.cards import Control, WorkCard
from packdesk.present.paper_work import alignment_card, making_card, paper_card
from packdesk.ui.pages.form import HALF, Form
from packdesk.ui.pages.inputs import AtField, PickInput
from packdesk.ui.pages.long_job import LongJob
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.paper_choice import MAKING, ON_STOCK, OnShelf, choices_of, paper_maker
from packdesk.ui.pages.paper_folder import ELSEWHERE, PaperFolder, ask_folder
from packdesk.ui.pages.paper_shelf import PaperShelf
from packdesk.ui.pages.printer_choice import PrinterChoice, offset_mm, printer_chosen
from packdesk.ui.pages.printer_forms import keep_measured, measured_form
from packdesk.ui.pages.sheet_choice import SheetChoice, stocks_of
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.widgets.refusal import Objection, objection_of
from packdesk.units import NotUnderstood


class PaperPage(Page):
    """What the pages at the printer have in common; `add_papers` puts it on the page."""

    ask_folder: Callable[[QWidget, Path], Path | None] = staticmethod(ask_folder)

    def add_papers(self, papers: tuple[str, ...], *, measures: bool = False) -> None:
        """Put the form for `papers`, keys of their names, and the shelf on the page."""
        theme = self.theme
        self._job: LongJob | None = None
        self._making = ""
        self._unwritten: Callable[[], None] | None = None
        self.folder = PaperFolder()
        self._shelved: OnShelf | None = None
        self._shelved_in: UUID | None = None
        self.sheets = SheetChoice(theme, self, measures=measures)
        self.sheets.said.connect(self.said)
        self._printers = PrinterChoice(theme, self)
        form = self.add_form("papers", Form(theme))
        which = PickInput(theme, "Paper", "Choose the paper to make.")
        which.show_choices(choices_of(papers), papers[0])
        which.chosen.connect(lambda _key: self._show_wanted())
        form.add("paper", which, HALF)
        form.add("printer", self._printers.pick, HALF)
        form.add("stock", self.sheets.pick(), HALF)
        self._show_wanted()
        self.add_form("measured", measured_form(theme))
        self.shelf = PaperShelf(theme, self.tap_clock)
        self.shelf.said.connect(self.said)
        self.shelf.said.connect(lambda _words: self.not_done.clear())
        self.shelf.failed.connect(
            lambda trouble, retry: self.not_done.show_trouble(trouble, retry, what="Not done")
        )

    def _show_wanted(self) -> None:
        """A sheet is asked for only where the paper lies on one."""
        inputs = self.forms["papers"].inputs
        inputs["stock"].setVisible(inputs["paper"].key in ON_STOCK)

    @property
    def busy_with_paper(self) -> bool:
        """Whether a paper is being made or lies here to be dealt with."""
        return self._job is not None or self._shelved is not None

    def card_now(self, sight: Sight) -> WorkCard:
        if self._job is not None:
            return making_card(self.stage, self._making, *self._job.so_far)
        if self._shelved is not None and self._shelved_in != sight.session_id:
            self.put_away()
        on_shelf = self._shelved
        if on_shelf is None:
            card = super().card_now(sight)
            if self._unwritten is None or self.refusal.objection is None:
                return card
            return replace(card, seconds=(ELSEWHERE, *card.seconds))
        if on_shelf.aligned:
            return alignment_card(self.stage)
        return paper_card(self.stage, on_shelf.paper.name)

    def remarks(self) -> tuple[str, ...]:
        """What is to be known of the paper here before it is printed; it stands over it."""
        return self._shelved.remarks if self._shelved is not None else ()

    def _show_card(self, card: WorkCard) -> None:
        super()._show_card(card)
        self.foreword.say(*self.remarks())

    def press_key(self, key: str) -> bool:
        """Press the control that has this key, beside the main one or at the shelf."""
        return super().press_key(key) or self.shelf.press_key(key)

    def open_form(self, name: str) -> None:
        """Open a form by hand; the printers are asked for when they are to be chosen from."""
        if name == "papers" and self.sight is not None:
            self._printers.show(self.sight)
            self.sheets.show(self.sight)
        super().open_form(name)

    def close_form(self) -> bool:
        """Close the form opened by hand, or put the paper on the shelf away."""
        if super().close_form():
            return True
        if self._shelved is None:
            return False
        self.put_away()
        self.choose()
        return True

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "stop":
                if self._job is not None:
                    self._job.stop()
                return None
            case "done":
                self.put_away()
            case "elsewhere":
                self._go_elsewhere(sight)
                return None
            case "papers":
                self._printers.take(sight)
                self.make_paper(typed["paper"], sight)
                return None
            case "measured":
                assert self._shelved is not None, "asked only about an alignment page"
                aligned, choices = self._shelved.aligned, sight.tools.choices
                self.said.emit(keep_measured(typed, printer_chosen(sight), aligned, choices))
                self.forms["measured"].clear()
                self._opened = ""
                self.put_away()
            case _:
                return super().order(control, typed, sight)
        self.choose()
        return None

    def make_paper(self, which: str, sight: Sight) -> None:
        """Make a paper by the key of its name and lay it on the shelf."""
        self.sheets.show(sight)
        key = self.sheets.key
        stock, folder = stocks_of(sight)[key], self.folder.of(sight)
        make = paper_maker(which, stock, sight, folder, offset_mm(key, sight))
        self.begin(
            MAKING[which],
            make,
            lambda made: self._lay_out(made, sight),
            lambda: self.make_paper(which, sight),
            form="papers",
        )

    def begin(
        self,
        making: str,
        make: Callable[[Progress], Any],
        take: Callable[[Any], None],
        again: Callable[[], None],
        *,
        form: str = "",
    ) -> None:
        """Make a paper beside the window and hand it to `take`; what fails is told.

        `making` says what is made, `again` begins once more, perhaps in another folder; words
        beside a field stand in `form`, which is then opened; otherwise it is as before.
        """
        job = self._job = LongJob(make, self)
        self._making, opened = making, self._opened
        self._unwritten = None
        self._opened = ""
        self.not_done.clear()

        def ended() -> None:
            self._job = None
            job.deleteLater()

        def done(made: Any) -> None:
            ended()
            take(made)
            self._come_back()

        def failed(error: Trouble | NotUnderstood) -> None:
            ended()
            self.choose()
            self._show_unmade(error, again, form if isinstance(error, AtField) else opened)

        def stopped() -> None:
            ended()
            self.said.emit("Stopped. No file was left and nothing is on record.")
            self._come_back()

        job.progressed.connect(lambda _done, _of: self.choose())
        job.done.connect(done)
        job.failed.connect(failed)
        job.stopped.connect(stopped)
        job.start()
        self._come_back()

    def _go_elsewhere(self, sight: Sight) -> None:
        """Ask for another folder, and make there what could not be written."""
        again, folder = self._unwritten, type(self).ask_folder(self, self.folder.of(sight))
        if again is not None and folder is not None:
            self.said.emit(self.folder.take(folder, sight))
            again()

    def put_away(self) -> None:
        """Take the paper from the shelf; its file stays."""
        self._shelved = None
        self.shelf.show_paper(None)

    def _come_back(self) -> None:
        """Show how it stands now; the focus goes to the main control of the page in sight."""
        self.choose()
        if self.isVisible():
            self.focus_main()

    def _lay_out(self, made: OnShelf, sight: Sight) -> None:
        if self.sight is None or self.sight.session_id != sight.session_id:
            self.said.emit(f"{made.paper.name}: made. It lies in {made.paper.file}.")
            return
        self.forms["papers"].clear()
        self._shelved, self._shelved_in = made, sight.session_id
        self._opened = ""
        self.not_done.clear()
        self.shelf.printer = printer_chosen(sight)
        self.shelf.show_paper(made.paper, sight.tools.papers)
        if not self.isVisible():
            self.said.emit(f"{made.paper.name}: made. It lies in {made.paper.file}.")

    def _show_unmade(
        self, error: Trouble | NotUnderstood, retry: Callable[[], None], form: str
    ) -> None:
        match error:
            case AtField() if form:
                self.open_form(form)
                item = self.forms[form].inputs[error.field]
                item.setVisible(True)
                item.show_objection(objection_of(str(error)))
                self.forms[form].focus_on(item)
            case Trouble():
                if form:
                    self.open_form(form)
                self._unwritten = retry
                self.not_done.show_trouble(error, retry, what="Not made")
                self._come_back()
            case _:
                self.not_done.say(Objection(str(error)))
