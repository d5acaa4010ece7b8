"""The page at the printer: the sheet as it lies there, what a label says, the PDF."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from packdesk.desk.ports import LabelsMade
from packdesk.present.cards import Control, WorkCard
from packdesk.present.label_job import (
    file_name,
    label_job,
    printed,
    right_labels,
    to_label,
)
from packdesk.present.work_labelling import came_out_card
from packdesk.session.case import Refusal as DeskRefusal
from packdesk.session.commands import VoidFact
from packdesk.session.state import LabelsAsked, SessionState
from packdesk.session.terms import Stage
from packdesk.ui.pages.design_form import DesignForm
from packdesk.ui.pages.form import WHOLE, Form
from packdesk.ui.pages.inputs import AtField
from packdesk.ui.pages.label_print import LabelPrint, design_chosen, label_maker, paper_asked_about
from packdesk.ui.pages.number_form import NumberForm, numbers_typed
from packdesk.ui.pages.paper_choice import AT_PRINTER
from packdesk.ui.pages.paper_page import PaperPage
from packdesk.ui.pages.printer_choice import printer_chosen
from packdesk.ui.pages.printer_forms import known_words
from packdesk.ui.pages.reprint_form import reprint_form, torn_form
from packdesk.ui.pages.sheet_choice import stocks_of
from packdesk.ui.pages.sheet_layout import SheetLayout
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.stock_form import StockForm

NONE_CAME_OUT = "None of these labels came out of the printer right"

IN_FORM = {
    "own_stock": "Measure one sheet with a ruler, edge to edge.",
    "design": "Choose what stands on the labels.",
    "reprint": "Say whose labels are printed again.",
    "numbers": "Print numbers for the empty pouches.",
    "papers": "Choose the paper to make.",
}
"""What to do while a form is open, instead of the card's own sentence."""


class LabellingPage(PaperPage):
    """Labels are laid out, made as a PDF, looked at, printed, and then put on record."""

    stage = Stage.LABELLING

    def build(self) -> None:
        theme = self.theme
        self._first: int | None = None
        self._noting = False
        self._torn: LabelPrint | None = None
        self.add_papers(AT_PRINTER, measures=True)
        self.sheets.taken.connect(self._begin_anew)
        self.sheets.measure_asked.connect(lambda: self.open_form("own_stock"))
        labels = self.add_form("labels", Form(theme))
        labels.add("stock", self.sheets.pick(), WHOLE)
        again = self.add_form("reprint", reprint_form(theme, self.sheets.pick()))
        again.inputs["pouches"].edited.connect(lambda _text: self.choose())
        self.numbers = NumberForm(theme, self.sheets.pick())
        self.add_form("numbers", self.numbers)
        self.numbers.inputs["line"].chosen.connect(lambda _key: self.choose())
        self.numbers.inputs["pouches"].edited.connect(lambda _text: self.choose())
        self.add_form("torn", torn_form(theme))
        self.design = DesignForm(theme)
        self.add_form("design", self.design)
        for item in self.design.inputs.values():
            item.edited.connect(lambda _text: self._show_look())
        self.own_stock = StockForm(theme)
        self.add_form("own_stock", self.own_stock)
        self.laid_out = SheetLayout(theme)
        self.laid_out.first_free_chosen.connect(self._start_at)
        for widget in (self.design.look, self.shelf, self.laid_out):
            self.body.addWidget(widget, 1)
        self.finish(stretch=False)

    def card_now(self, sight: Sight) -> WorkCard:
        asked = self._asked(sight)
        if asked is not None:
            return came_out_card(asked)
        card = super().card_now(sight)
        return replace(card, sentence=IN_FORM.get(self._opened, card.sentence))

    def remarks(self) -> tuple[str, ...]:
        asked = self._asked(self.sight) if self.sight is not None else None
        return asked.remarks if asked is not None else super().remarks()

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        form = self.form_shown()
        self.more_evidence = ()
        self.own_stock.speak(sight.units)
        asked = self._asked(sight)
        self._lay_asked(asked, sight)
        if form is not self.design:
            self.design.look.hide()
        elif fresh:
            self.design.show_design(design_chosen(sight)[0])
            self._show_look()
        apart = (self.forms["papers"], self.own_stock, self.design)
        labelled = sight.session is not None and any(
            pouch.labelled for pouch in sight.session.pouches.values()
        )
        shows = not (asked or self.busy_with_paper or form in apart) and (form or labelled)
        self.laid_out.setVisible(bool(shows))
        if sight.session is None or not shows:
            return
        if fresh:
            self.sheets.show(sight)
            self.numbers.show_lines(sight.session)
            self._show_job(form, sight)
        self.more_evidence = (
            known_words(printer_chosen(sight), self.sheets.key, sight.tools.choices),
        )

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "labels":
                self._make_labels(LabelPrint(to_label(sight.session)), sight)
                return None
            case "reprint":
                self._make_labels(LabelPrint(typed["pouches"], again=True), sight)
                return None
            case "numbers":
                self._make_labels(numbers_typed(typed, sight.session), sight)
                return None
            case "torn":
                return self._some_right(typed["pouches"], self._asked(sight))
            case "none":
                self.said.emit("The places on the sheet count as unused.")
                return Order(VoidFact(self._asked(sight).entry, NONE_CAME_OUT))
            case "design":
                self.design.keep(typed, sight.tools.choices)
                self._opened = ""
                self.said.emit("Labels made from now on look so.")
            case "own_stock":
                self._keep_stock(typed, sight)
                return None
            case _:
                return super().order(control, typed, sight)
        self.choose()
        return None

    def kept(self) -> None:
        super().kept()
        if self._noting:
            return
        self._first = None
        self.forms["reprint"].clear()
        if self._torn is not None:
            self._offer_again(self._torn)

    def refused(self, refusal: DeskRefusal) -> None:
        super().refused(refusal)
        self._torn = None

    def _offer_again(self, torn: LabelPrint) -> None:
        """Those of a reprint that tore once more stand in the field already."""
        again = "numbers" if torn.line else "reprint"
        if torn.line:
            self.numbers.begin_with(torn)
        else:
            self.forms[again].inputs["pouches"].show_text(", ".join(map(str, torn.pouches)))
        self._opened, self._torn = again, None

    # Labels -------------------------------------------------------------------------------------

    def _make_labels(self, wanted: LabelPrint, sight: Sight) -> None:
        """Make the PDF; how it came out of the printer is asked until somebody answers."""
        session = sight.session
        job = label_job(sight.state.book, self.sheets.stock(sight), wanted.pouches, self._first)
        out = self.folder.of(sight) / file_name(session, wanted.called, sight.now)
        make = label_maker(wanted, job, out, sight)
        if not wanted.line and (wrong := design_chosen(sight)[1]):
            self.said.emit(wrong)

        def take(made: LabelsMade) -> None:
            self.forms["labels"].clear()
            self.numbers.clear()
            if self.sight.session_id != sight.session_id:
                self.said.emit(f"The labels of {session.name} are made. They lie in {out}.")
                return
            self._noting = True
            self.submitted.emit(wanted.made(made, job, out), None)
            self._noting = False

        self.begin(wanted.making, make, take, lambda: self._make_labels(wanted, sight))

    def _some_right(self, torn: tuple[int, ...], asked: LabelsAsked) -> Order:
        """Put the labels that are right on record; the torn ones are offered again."""
        try:
            right = right_labels(asked, torn)
        except ValueError as wrong:
            raise AtField("pouches", str(wrong)) from None
        self._torn = LabelPrint(torn, asked.line) if asked.reprint else None
        return Order(printed(asked, right))

    def _asked(self, sight: Sight) -> LabelsAsked | None:
        """The labels whose coming out is asked about, unless a paper is in hand meanwhile."""
        if sight.session is None or self.busy_with_paper:
            return None
        return sight.session.labels_asked

    def _lay_asked(self, asked: LabelsAsked | None, sight: Sight) -> None:
        """Lay the file of labels asked about on the shelf, if it is still there."""
        if self.busy_with_paper:
            return
        paper = paper_asked_about(asked, self.folder, sight) if asked is not None else None
        if paper == self.shelf.paper:
            return
        self.shelf.printer = printer_chosen(sight)
        self.shelf.show_paper(paper, sight.tools.papers)

    # The sheet ----------------------------------------------------------------------------------

    def _start_at(self, place: int) -> None:
        self._first = place
        self.choose()

    def _begin_anew(self) -> None:
        """Another sheet begins where the last print on it ended."""
        self._first = None
        self.choose()

    def _keep_stock(self, typed: Mapping[str, Any], sight: Sight) -> None:
        """Put a measured sheet into the person's catalogue and begin with it from now on."""
        stock = self.own_stock.stock(typed, stocks_of(sight))
        sight.tools.papers.keep_stock(stock)
        self.own_stock.clear()
        self._opened = ""
        self.choose()
        self.sheets.take(stock.key, sight)
        self.said.emit(f"“{stock.name}” is kept. Print its alignment page before the first labels.")
        self.focus_main()

    def _show_job(self, form: Form | None, sight: Sight) -> None:
        stock = self.sheets.stock(sight)
        if stock is None:
            return
        wanted = self._wanted(form, sight.session)
        job = label_job(sight.state.book, stock, wanted.pouches, self._first)
        if not wanted.pouches:
            wanted = LabelPrint(
                tuple(p.number for p in sight.session.working_pouches() if p.labelled)
            )
        texts = replace(wanted, pouches=wanted.pouches[:1]).texts(sight.session)
        design, text = wanted.design(sight), texts[0] if texts else None
        self.laid_out.show_job(job, text, design, sight.tools.papers)

    def _wanted(self, form: Form | None, session: SessionState) -> LabelPrint:
        """The labels that the form shown would make as it stands."""
        if form is self.numbers:
            return self.numbers.so_far(session) or LabelPrint(())
        if form is self.forms["reprint"]:
            return LabelPrint(form.inputs["pouches"].peek() or (), again=True)
        return LabelPrint(to_label(session))

    def _show_look(self) -> None:
        """Draw a label as it is designed so far."""
        if self.sight is not None:
            self.sheets.show(self.sight)
            self.design.show_look(self.sheets.stock(self.sight), self.sight)
