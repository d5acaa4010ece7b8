"""The page at the printer: the sheet as it lies there, what a label says, the PDF."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import LabelsMade, Progress, Trouble
from packdesk.present.cards import Control, WorkCard
from packdesk.present.label_design import STANDARD, LabelDesign
from packdesk.present.label_job import (
    LabelJob,
    MadeLabels,
    file_name,
    label_job,
    page_called,
    to_label,
    usual_stock,
)
from packdesk.present.label_text import label_texts
from packdesk.present.label_wish import design_of
from packdesk.present.work_ends import alignment_card, came_out_card, making_card, paper_card
from packdesk.session.case import Refusal as DeskRefusal
from packdesk.session.commands import NoteLabelsPrinted
from packdesk.session.terms import Stage
from packdesk.ui.pages.design_form import (
    design_form,
    design_so_far,
    design_typed,
    show_design,
    with_design,
)
from packdesk.ui.pages.form import HALF, THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import AtField, PickInput, TypedInput
from packdesk.ui.pages.label_preview import LabelPreview
from packdesk.ui.pages.long_job import LongJob
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.paper_choice import PAPER_CHOICES, make_paper
from packdesk.ui.pages.paper_shelf import PagePreview, Paper, PaperShelf
from packdesk.ui.pages.printer_forms import (
    USUAL_PRINTER,
    keep_measured,
    known_words,
    measured_form,
)
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.stock_form import MEASURE, MEASURE_CHOICE, speak, stock_form, stock_of
from packdesk.ui.pages.typed import Numbers
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.widgets.choice_field import Choice
from packdesk.ui.widgets.label_sheet_view import LabelSheetView, SheetFace
from packdesk.ui.widgets.refusal import Objection
from packdesk.units import NotUnderstood

SHEET_WIDTH, SHEET_HEIGHT = 210, 250
LOOK_WIDTH, LOOK_HEIGHT = 700, 200
FEW_LABELS = 50
"""More than these are made beside the window, so that clocks and alarms go on."""

STOCK_FORMS = ("labels", "reprint", "papers")


@dataclass(frozen=True, slots=True)
class Finished:
    """A paper that is made and not yet dealt with; `labels` when its coming out is asked about.

    `aligned` is the stock whose alignment page it is, if it is one.
    """

    session: UUID | None
    paper: Paper
    labels: MadeLabels | None = None
    aligned: str = ""
    remarks: tuple[str, ...] = ()


class LabellingPage(Page):
    """Labels are laid out, made as a PDF, looked at, printed, and then put on record."""

    stage = Stage.LABELLING

    def build(self) -> None:
        theme = self.theme
        self._first: int | None = None
        self._finished: Finished | None = None
        self._long: LongJob | None = None
        self._torn: tuple[int, ...] = ()
        labels = self.add_form("labels", Form(theme))
        labels.add("stock", self._stock_pick(), WHOLE)
        again = self.add_form("reprint", Form(theme))
        again.add(
            "pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"), THIRD
        )
        again.add("stock", self._stock_pick(), WHOLE - THIRD)
        again.inputs["pouches"].edited.connect(lambda _text: self.choose())
        torn = self.add_form("torn", Form(theme))
        torn.add(
            "pouches",
            TypedInput(theme, "Labels that did not come out", Numbers(), hint="such as 3, 5"),
            THIRD,
        )
        others = self.add_form("papers", Form(theme))
        which = PickInput(theme, "Paper", "Choose the paper to make.")
        which.show_choices(PAPER_CHOICES, PAPER_CHOICES[0].key)
        others.add("paper", which, HALF)
        others.add("stock", self._stock_pick(), HALF)
        others.add("printer", PickInput(theme, "Printer", "Choose a printer."), HALF)
        self._printers: tuple[str, ...] | None = None
        self.add_form("measured", measured_form(theme))
        design = self.add_form("design", design_form(theme))
        for item in design.inputs.values():
            item.edited.connect(lambda _text: self._show_design())
        self._own: dict[str, LabelStock] = {}
        self.add_form("own_stock", stock_form(theme))
        self.shelf = PaperShelf(theme, self.tap_clock)
        self.shelf.said.connect(self.said)
        self.shelf.failed.connect(self._show_undone)
        self._sheet = LabelSheetView(theme)
        self._sheet.first_free_chosen.connect(self._start_at)
        self._sheet.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Ignored)
        self._used = Words(theme, Role.BODY)
        self._sheets = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self._preview = LabelPreview(theme)
        self._laid_out = QWidget()
        row = QHBoxLayout(self._laid_out)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.whole(24))
        row.addWidget(self._sheet)
        right = QVBoxLayout()
        right.setSpacing(theme.whole(8))
        for widget in (self._used, self._sheets, self._preview):
            right.addWidget(widget)
        right.addStretch(1)
        row.addLayout(right, 1)
        self._looks = PagePreview(theme, least_height=LOOK_HEIGHT)
        self._looks.hide()
        self._wrong_look = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self.body.addWidget(self._looks, 1)
        self.body.addWidget(self._wrong_look)
        self.body.addWidget(self.shelf, 1)
        self.body.addWidget(self._laid_out, 1)
        self.finish(stretch=False)

    def card_now(self, sight: Sight) -> WorkCard:
        if self._long is not None:
            return making_card(*self._long.so_far)
        done = self._finished
        if done is not None and done.session != sight.session_id:
            self._put_away()
        elif done is not None:
            if done.labels is not None:
                return came_out_card(done.labels)
            if done.aligned:
                return alignment_card()
            return paper_card(done.paper.name, done.remarks)
        return super().card_now(sight)

    def press_key(self, key: str) -> bool:
        """Press the control that has this key, beside the main one or at the finished paper."""
        return super().press_key(key) or self.shelf.press_key(key)

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        form = self.form_shown()
        self.more_evidence = ()
        speak(self.forms["own_stock"], sight.units)
        designing = form is self.forms["design"]
        if not designing:
            self._looks.hide()
            self._wrong_look.say()
        elif fresh:
            show_design(form, self._design(sight))
            self._show_design()
        apart = (self.forms[name] for name in ("papers", "own_stock", "design"))
        if self._long or self._finished or form in tuple(apart):
            self._laid_out.hide()
            return
        labelled = sight.session is not None and any(
            pouch.labelled for pouch in sight.session.pouches.values()
        )
        self._laid_out.setVisible(form is not None or labelled)
        if sight.session is None:
            return
        stock = (form or self.forms["labels"]).inputs["stock"].key
        if stock and (form is not None or labelled):
            known = known_words(self._printer(sight), stock, sight.tools.choices)
            self.more_evidence = (known,)
        if not fresh:
            return
        stocks = self._stocks(sight)
        for name in STOCK_FORMS:
            pick = self.forms[name].inputs["stock"]
            pick.show_choices(
                (*(Choice(key, stock.name) for key, stock in stocks.items()), MEASURE_CHOICE),
                pick.key or self._usual_stock(sight),
            )
        job = self._job(sight)
        if job is not None:
            self._show_job(job, sight)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "labels":
                return self._make_labels(to_label(sight.session), typed["stock"], sight)
            case "reprint":
                return self._make_labels(typed["pouches"], typed["stock"], sight, again=True)
            case "torn":
                return self._some_right(typed["pouches"])
            case "none":
                self._put_away()
                self.said.emit("Nothing is on record. The places on the sheet count as unused.")
            case "stop":
                if self._long is not None:
                    self._long.stop()
                return None
            case "done":
                self._put_away()
            case "papers":
                self._take_printer(typed["printer"], sight)
                return self._make_paper(typed["paper"], typed["stock"], sight)
            case "design":
                choices = sight.tools.choices
                choices.keep(with_design(choices.settings, design_typed(typed)))
                self.forms["design"].clear()
                self._opened = ""
                self.said.emit("Labels made from now on look so.")
            case "own_stock":
                return self._keep_stock(typed, sight)
            case "measured":
                aligned = self._finished.aligned
                choices = sight.tools.choices
                self.said.emit(keep_measured(typed, self._printer(sight), aligned, choices))
                self.forms["measured"].clear()
                self._opened = ""
                self._put_away()
            case _:
                return super().order(control, typed, sight)
        self.choose()
        return None

    def kept(self) -> None:
        super().kept()
        self._first = None
        self._put_away()
        if self._torn:
            self.forms["reprint"].inputs["pouches"].show_text(", ".join(map(str, self._torn)))
            self._opened, self._torn = "reprint", ()

    def close_form(self) -> bool:
        """Close the form opened by hand, or put a paper away that asks for no answer."""
        if super().close_form():
            return True
        if self._finished is None or self._finished.labels is not None:
            return False
        self._put_away()
        self.choose()
        return True

    def _make_labels(
        self, pouches: tuple[int, ...], key: str, sight: Sight, *, again: bool = False
    ) -> None:
        """Make the PDF and lay it on the page; nothing is on record until it came out right."""
        missing = [number for number in pouches if number not in sight.session.pouches]
        if missing:
            raise AtField("pouches", f"There is no pouch {missing[0]} yet. Name filled ones.")
        stock = self._stocks(sight)[key]
        job = label_job(sight.state.book, stock, pouches, self._first)
        out = sight.tools.paper_folder / file_name(sight.session, "labels", sight.now)
        texts = label_texts(sight.session, pouches)
        design, offset = self._design(sight), self._offset_mm(key, sight)

        def make(progress: Progress | None = None) -> LabelsMade:
            return sight.tools.papers.labels(
                texts, stock, job.first, out, design=design, offset_mm=offset, progress=progress
            )

        def lay_out(made: LabelsMade) -> None:
            if made.refused:
                raise NotUnderstood("The labels were not made. " + " ".join(made.refused))
            labels = MadeLabels(pouches, key, job.first, made.next_cell, again, made.remarks)
            paper = Paper(out, "Labels", page_called(stock))
            self._lay_out(Finished(sight.session_id, paper, labels), sight)

        if len(pouches) <= FEW_LABELS:
            lay_out(make())
        else:
            self._start(make, lay_out)

    def _start(
        self, make: Callable[[Progress], LabelsMade], lay_out: Callable[[LabelsMade], None]
    ) -> None:
        """Make many labels beside the window; record and window stay on this thread."""
        job = self._long = LongJob(make, self)
        self._opened = ""
        self.say_nothing()

        def done(made: LabelsMade) -> None:
            self._long = None
            try:
                lay_out(made)
            except NotUnderstood as refused:
                self.choose()
                self.object(str(refused))

        def failed(trouble: Trouble) -> None:
            self._long = None
            self.choose()
            self.show_trouble(trouble, lambda: self._start(make, lay_out))

        def stopped() -> None:
            self._long = None
            self.said.emit("Stopped. No file was left and nothing is on record.")
            self.choose()

        job.progressed.connect(lambda _done, _of: self.choose())
        job.done.connect(done)
        job.failed.connect(failed)
        job.stopped.connect(stopped)
        job.start()
        self.choose()
        self.focus_main()

    def _some_right(self, torn: tuple[int, ...]) -> Order:
        """Put the labels that are right on record; the torn ones are offered again."""
        assert self._finished is not None, "asked only about labels that are made"
        made = self._finished.labels
        try:
            right = made.without(torn)
        except ValueError as wrong:
            raise AtField("pouches", str(wrong)) from None
        self._torn = torn if made.reprint else ()
        return Order(NoteLabelsPrinted(right, made.stock, made.first, made.next_cell, made.reprint))

    def refused(self, refusal: DeskRefusal) -> None:
        super().refused(refusal)
        self._torn = ()

    def _make_paper(self, which: str, key: str, sight: Sight) -> None:
        stock = self._stocks(sight)[key]
        paper, remarks = make_paper(which, stock, sight, self._offset_mm(key, sight))
        aligned = key if which == "alignment" else ""
        self._lay_out(Finished(sight.session_id, paper, None, aligned, remarks), sight)

    def open_form(self, name: str) -> None:
        """Open a form by hand; the printers are asked for when they are to be chosen from."""
        if name == "papers" and self.sight is not None:
            self._show_printers(self.sight)
        super().open_form(name)

    def _show_printers(self, sight: Sight) -> None:
        if self._printers is None:
            self._printers = sight.tools.papers.printers()
        chosen = self._printer(sight)
        names = dict.fromkeys((*self._printers, *((chosen,) if chosen else ())))
        usual = Choice(USUAL_PRINTER, "The usual one")
        self.forms["papers"].inputs["printer"].show_choices(
            (usual, *(Choice(name, name) for name in names)), chosen or USUAL_PRINTER
        )

    def _take_printer(self, key: str, sight: Sight) -> None:
        printer = "" if key == USUAL_PRINTER else key
        if printer != self._printer(sight):
            choices = sight.tools.choices
            choices.keep(choices.settings.with_choice("printer", printer))

    def _printer(self, sight: Sight) -> str:
        return sight.tools.choices.settings.text("printer")

    def _offset_mm(self, stock: str, sight: Sight) -> tuple[float, float]:
        measure = sight.tools.choices.settings.measure(self._printer(sight), stock)
        return measure.offset_mm if measure is not None else (0.0, 0.0)

    def _lay_out(self, finished: Finished, sight: Sight) -> None:
        for name in ("labels", "torn"):
            self.forms[name].clear()
        self._finished = finished
        self._opened = ""
        self.say_nothing()
        self.shelf.printer = self._printer(sight)
        self.shelf.show_paper(finished.paper, sight.tools.papers)
        self.choose()
        self.focus_main()

    def _show_undone(self, trouble: Trouble, retry: Callable[[], None]) -> None:
        """Say that a paper, which is made and safe, was not printed or copied."""
        self._retry = retry
        self.refusal.show_objection(
            Objection("Not done", trouble.sentence, trouble.cure, cure="Try again")
        )

    def _put_away(self) -> None:
        self._finished = None
        self.shelf.show_paper(None)

    def _stock_pick(self) -> PickInput:
        pick = PickInput(self.theme, "Label sheet", "Choose the sheet by its measures.")
        pick.chosen.connect(self._take_stock)
        return pick

    def _design(self, sight: Sight) -> LabelDesign:
        """The design chosen; the usual one, with a word about it, when the settings name none."""
        try:
            return design_of(sight.tools.choices.settings)
        except ValueError as wrong:
            self.said.emit(f"{wrong} Labels look as usual.")
            return STANDARD

    def _show_design(self) -> None:
        """Draw a label as it is designed so far, or say why it cannot be."""
        sight = self.sight
        design = design_so_far(self.forms["design"])
        if sight is None or design is None:
            return
        stock = self._stocks(sight)[self.forms["labels"].inputs["stock"].key]
        number = next((p.number for p in sight.session.working_pouches()), None)
        if number is None:
            self._wrong_look.say("A label is shown here once a pouch is filled.")
            return
        (text,) = label_texts(sight.session, (number,))
        width = self.theme.whole(LOOK_WIDTH)
        shown = sight.tools.papers.label_picture(text, stock, width, design=design)
        told = isinstance(shown, str)
        self._looks.show_picture(None if told else shown)
        self._wrong_look.say(shown if told else "")

    def _stocks(self, sight: Sight) -> dict[str, LabelStock]:
        """The sheets of the catalogue, and those measured since it was read."""
        return {**sight.tools.catalog.label_stocks, **self._own}

    def _usual_stock(self, sight: Sight) -> str:
        chosen = sight.tools.choices.settings.text("label_stock")
        known = chosen in self._stocks(sight)
        return chosen if known else usual_stock(sight.tools.catalog, sight.units)

    def _keep_stock(self, typed: Mapping[str, Any], sight: Sight) -> None:
        """Put a measured sheet into the person's catalogue and begin with it from now on."""
        stock = stock_of(typed, self._stocks(sight))
        sight.tools.papers.keep_stock(stock)
        self._own[stock.key] = stock
        self.forms["own_stock"].clear()
        self._opened = ""
        self.choose()
        self._take_stock(stock.key)
        self.said.emit(f"“{stock.name}” is kept. Print its alignment page before the first labels.")
        self.focus_main()

    def _take_stock(self, key: str) -> None:
        if key == MEASURE:
            self._put_stock(self._usual_stock(self.sight))
            self.open_form("own_stock")
            return
        self._first = None
        self._put_stock(key)
        choices = self.sight.tools.choices
        try:
            choices.keep(choices.settings.with_choice("label_stock", key))
        except Trouble as trouble:
            self.said.emit(str(trouble))
        self.choose()

    def _put_stock(self, key: str) -> None:
        for name in STOCK_FORMS:
            pick = self.forms[name].inputs["stock"]
            pick.box.setCurrentIndex(pick.box.findData(key))

    def _start_at(self, place: int) -> None:
        self._first = place
        self.choose()

    def _job(self, sight: Sight) -> LabelJob | None:
        form = self.form_shown()
        key = (form or self.forms["labels"]).inputs["stock"].key
        stock = self._stocks(sight).get(key)
        if stock is None:
            return None
        pouches = to_label(sight.session)
        if form is self.forms["reprint"]:
            pouches = form.inputs["pouches"].peek() or ()
        return label_job(sight.state.book, stock, pouches, self._first)

    def _show_job(self, job: LabelJob, sight: Sight) -> None:
        stock = job.stock
        width, height = stock.page_size_mm
        left, top = stock.cell_origin_mm(0)
        self._sheet.show_face(
            SheetFace(
                page_width_mm=width,
                page_height_mm=height,
                columns=stock.columns,
                rows=stock.rows,
                label_width_mm=stock.label_width_mm,
                label_height_mm=stock.label_height_mm,
                left_mm=left,
                top_mm=top,
                pitch_x_mm=stock.column_pitch.value,
                pitch_y_mm=stock.row_pitch.value,
                used=job.first,
                to_print=len(job.pouches),
            )
        )
        self._sheet.setFixedWidth(self.theme.whole(SHEET_WIDTH))
        self._sheet.setMinimumHeight(self.theme.whole(SHEET_HEIGHT))
        self._used.say(job.used_words)
        if job.pouches:
            self._sheets.say("Touch the first label that is still there.", job.sheets_words)
        else:
            self._sheets.say("The next print begins with the first one that is left.")
        printed = [p.number for p in sight.session.working_pouches() if p.labelled]
        wanted = job.pouches or tuple(printed)
        known = tuple(number for number in wanted if number in sight.session.pouches)[:1]
        texts = label_texts(sight.session, known)
        self._preview.show_text(texts[0] if texts else None)
