"""The sheet in the printer with what is gone from it, and one of the labels that come next."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import Papers
from packdesk.present.label_design import LabelDesign
from packdesk.present.label_job import LabelJob
from packdesk.present.papers import LabelText
from packdesk.ui.pages.label_preview import LabelPreview
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.label_sheet_view import LabelSheetView, SheetFace

SHEET_WIDTH, SHEET_HEIGHT = 210, 250


class SheetLayout(QWidget):
    """How a print will lie on its sheet.

    Signals:
        first_free_chosen: a place from 0; all before it are gone.
    """

    first_free_chosen = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.sheet = LabelSheetView(theme)
        self.sheet.first_free_chosen.connect(self.first_free_chosen)
        self.sheet.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Ignored)
        self.used = Words(theme, Role.BODY)
        self.sheets = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self.preview = LabelPreview(theme)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.whole(24))
        row.addWidget(self.sheet)
        right = QVBoxLayout()
        right.setSpacing(theme.whole(8))
        right.addWidget(self.used)
        right.addWidget(self.sheets)
        right.addWidget(self.preview, 1)
        row.addLayout(right, 1)

    def show_job(
        self, job: LabelJob, text: LabelText | None, design: LabelDesign, papers: Papers
    ) -> None:
        """Show a print and one of its labels, as it will be printed."""
        self.sheet.show_face(sheet_face(job.stock, job.first, len(job.pouches)))
        self.sheet.setFixedWidth(self.theme.whole(SHEET_WIDTH))
        self.sheet.setMinimumHeight(self.theme.whole(SHEET_HEIGHT))
        self.used.say(job.used_words)
        if job.pouches:
            self.sheets.say("Touch the first label that is still there.", job.sheets_words)
        else:
            self.sheets.say("The next print begins with the first one that is left.")
        self.preview.show_label(text, job.stock, design, papers)


def sheet_face(stock: LabelStock, used: int, to_print: int) -> SheetFace:
    """A stock as the picture of a sheet shows it."""
    width, height = stock.page_size_mm
    left, top = stock.cell_origin_mm(0)
    return SheetFace(
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
        used=used,
        to_print=to_print,
    )
