"""The page at the printer: the sheet as it lies there, what a label says, the PDF."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from packdesk.present.cards import Control, WorkCard
from packdesk.present.label_job import LabelJob, file_name, label_job, to_label, usual_stock
from packdesk.present.label_text import label_texts
from packdesk.session.commands import NoteLabelsPrinted
from packdesk.session.terms import Stage
from packdesk.ui.pages.form import THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import AtField, PickInput, TypedInput
from packdesk.ui.pages.label_preview import LabelPreview
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Numbers
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.widgets.choice_field import Choice
from packdesk.ui.widgets.label_sheet_view import LabelSheetView, SheetFace
from packdesk.units import NotUnderstood

SHEET_WIDTH, SHEET_HEIGHT = 210, 250


def open_on_desktop(file: Path) -> None:
    """Show a file in the program that the person's desktop opens it with."""
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(file)))


class LabellingPage(Page):
    """Labels are laid out, made as a PDF, opened for printing, and put on record."""

    stage = Stage.LABELLING
    open_file: Callable[[Path], None] = staticmethod(open_on_desktop)

    def build(self) -> None:
        theme = self.theme
        self._first: int | None = None
        labels = self.add_form("labels", Form(theme))
        labels.add("stock", self._stock_pick(), WHOLE)
        again = self.add_form("reprint", Form(theme))
        again.add(
            "pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"), THIRD
        )
        again.add("stock", self._stock_pick(), WHOLE - THIRD)
        again.inputs["pouches"].edited.connect(lambda _text: self.choose())
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
        self.body.addWidget(self._laid_out, 1)
        self.finish(stretch=False)

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        form = self.form_shown()
        labelled = sight.session is not None and any(
            pouch.labelled for pouch in sight.session.pouches.values()
        )
        self._laid_out.setVisible(form is not None or labelled)
        if sight.session is None or not fresh:
            return
        stocks = sight.tools.catalog.label_stocks
        for name in ("labels", "reprint"):
            pick = self.forms[name].inputs["stock"]
            pick.show_choices(
                tuple(Choice(key, stock.name) for key, stock in stocks.items()),
                pick.key or usual_stock(sight.tools.catalog, sight.units),
            )
        job = self._job(sight)
        if job is not None:
            self._show_job(job, sight)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        if control.form not in ("labels", "reprint"):
            return super().order(control, typed, sight)
        reprint = control.form == "reprint"
        pouches = typed["pouches"] if reprint else to_label(sight.session)
        missing = [number for number in pouches if number not in sight.session.pouches]
        if missing:
            raise AtField("pouches", f"There is no pouch {missing[0]} yet. Name filled ones.")
        stock = sight.tools.catalog.label_stocks[typed["stock"]]
        job = label_job(sight.state.book, stock, pouches, self._first)
        out = sight.tools.paper_folder / file_name(sight.session, "labels", sight.now)
        texts = label_texts(sight.session, pouches, sight.now)
        made = sight.tools.papers.labels(texts, stock, job.first, out)
        if made.refused:
            raise NotUnderstood("The labels were not made. " + " ".join(made.refused))
        for remark in made.remarks:
            self.said.emit(remark)
        type(self).open_file(out)
        self.said.emit(f"The labels are in {out}. Print at 100 %.")
        return Order(NoteLabelsPrinted(pouches, stock.key, job.first, made.next_cell, reprint))

    def kept(self) -> None:
        super().kept()
        self._first = None

    def _stock_pick(self) -> PickInput:
        pick = PickInput(self.theme, "Label sheet", "Choose the sheet by its measures.")
        pick.chosen.connect(self._take_stock)
        return pick

    def _take_stock(self, key: str) -> None:
        self._first = None
        for name in ("labels", "reprint"):
            pick = self.forms[name].inputs["stock"]
            pick.box.setCurrentIndex(pick.box.findData(key))
        self.choose()

    def _start_at(self, place: int) -> None:
        self._first = place
        self.choose()

    def _job(self, sight: Sight) -> LabelJob | None:
        form = self.form_shown()
        key = (form or self.forms["labels"]).inputs["stock"].key
        stock = sight.tools.catalog.label_stocks.get(key)
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
        texts = label_texts(sight.session, known, sight.now)
        self._preview.show_text(texts[0] if texts else None)
