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
    page_called,
    printed,
    right_labels,
    to_label,
)
from packdesk.present.label_text import label_texts
from packdesk.present.work_labelling import came_out_card
from packdesk.session.case import Refusal as DeskRefusal
from packdesk.session.commands import VoidFact
from packdesk.session.state import LabelsAsked, SessionState
from packdesk.session.terms import Stage
from packdesk.ui.pages.design_form import (
    design_form,
    design_so_far,
    design_typed,
    show_design,
    with_design,
)
from packdesk.ui.pages.form import THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import AtField, TypedInput
from packdesk.ui.pages.label_preview import LabelPreview
from packdesk.ui.pages.label_print import LabelPrint, design_chosen, label_maker
from packdesk.ui.pages.number_form import (
    begin_with,
    forget_numbers,
    number_form,
    numbers_so_far,
    numbers_typed,
    show_lines,
)
from packdesk.ui.pages.paper_choice import AT_PRINTER
from packdesk.ui.pages.paper_page import PaperPage
from packdesk.ui.pages.paper_shelf import Paper
from packdesk.ui.pages.printer_choice import printer_chosen
from packdesk.ui.pages.printer_forms import known_words
from packdesk.ui.pages.sheet_choice import stocks_of
from packdesk.ui.pages.sheet_layout import SheetLayout
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.stock_form import StockForm
from packdesk.ui.pages.typed import Numbers

NONE_CAME_OUT = "None of these labels came out of the printer right"

IN_FORM = {
    "own_stock": "Measure one sheet with a ruler, edge to edge.",
    "design": "Choose what stands on the labels, and in which order.",
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
        again = self.add_form("reprint", Form(theme))
        again.add(
            "pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"), THIRD
        )
        again.add("stock", self.sheets.pick(), WHOLE - THIRD)
        again.inputs["pouches"].edited.connect(lambda _text: self.choose())
        numbers = self.add_form("numbers", number_form(theme, self.sheets.pick()))
        numbers.inputs["line"].chosen.connect(lambda _key: self.choose())
        numbers.inputs["pouches"].edited.connect(lambda _text: self.choose())
        torn = self.add_form("torn", Form(theme))
        torn.add(
            "pouches",
            TypedInput(theme, "Labels that did not come out", Numbers(), hint="such as 3, 5"),
            THIRD,
        )
        design = self.add_form("design", design_form(theme))
        for item in design.inputs.values():
            item.edited.connect(lambda _text: self._show_design())
        self.own_stock = StockForm(theme)
        self.add_form("own_stock", self.own_stock)
        self.look = LabelPreview(theme)
        self.laid_out = SheetLayout(theme)
        self.laid_out.first_free_chosen.connect(self._start_at)
        for widget in (self.look, self.shelf, self.laid_out):
            self.body.addWidget(widget, 1)
        self.look.hide()
        self.finish(stretch=False)

    def card_now(self, sight: Sight) -> WorkCard:
        asked = self._asked(sight)
        if asked is not None:
            return came_out_card(asked)
        card = super().card_now(sight)
        return replace(card, sentence=IN_FORM.get(self._opened, card.sentence))

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        form = self.form_shown()
        self.more_evidence = ()
        self.own_stock.speak(sight.units)
        asked = self._asked(sight)
        self._lay_asked(asked, sight)
        designing = form is self.forms["design"]
        if not designing:
            self.look.hide()
        elif fresh:
            show_design(form, design_chosen(sight)[0])
            self._show_design()
        apart = tuple(self.forms[name] for name in ("papers", "own_stock", "design"))
        labelled = sight.session is not None and any(
            pouch.labelled for pouch in sight.session.pouches.values()
        )
        shows = not (asked or self.busy_with_paper or form in apart) and (form or labelled)
        self.laid_out.setVisible(bool(shows))
        if sight.session is None or not shows:
            return
        if fresh:
            self.sheets.show(sight)
            show_lines(self.forms["numbers"], sight.session)
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
                choices = sight.tools.choices
                choices.keep(with_design(choices.settings, design_typed(typed)))
                self.forms["design"].clear()
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
            begin_with(self.forms[again], torn.line)
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
            forget_numbers(self.forms["numbers"])
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
        file = self.folder.holding(asked.file, sight) if asked is not None else None
        lies_here = self.shelf.paper.file if self.shelf.paper is not None else None
        if file == lies_here:
            return
        if asked is None or file is None:
            if lies_here is not None:
                self.shelf.show_paper(None)
            return
        stock = stocks_of(sight).get(asked.stock)
        self.shelf.printer = printer_chosen(sight)
        paper = Paper(
            file,
            "Number labels" if asked.line else "Labels",
            page_called(stock) if stock is not None else "",
        )
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
        if form is self.forms["numbers"]:
            return numbers_so_far(form, session) or LabelPrint(())
        if form is self.forms["reprint"]:
            return LabelPrint(form.inputs["pouches"].peek() or (), again=True)
        return LabelPrint(to_label(session))

    # What stands on a label ---------------------------------------------------------------------

    def _show_design(self) -> None:
        """Draw a label as it is designed so far, or say why it cannot be."""
        sight = self.sight
        design = design_so_far(self.forms["design"])
        if sight is None or sight.session is None or design is None:
            return
        self.sheets.show(sight)
        number = next((p.number for p in sight.session.working_pouches()), None)
        if number is None:
            self.look.say("A label is shown here once a pouch is filled.")
            return
        (text,) = label_texts(sight.session, (number,))
        self.look.show_label(text, self.sheets.stock(sight), design, sight.tools.papers)
