"""One label as it will be printed, drawn beside the window and remembered."""

from __future__ import annotations

from collections import OrderedDict

from PySide6.QtWidgets import QVBoxLayout, QWidget

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import PagePicture, Papers, Progress, Trouble
from packdesk.present.label_design import LabelDesign
from packdesk.present.papers import LabelText
from packdesk.ui.pages.long_job import LongJob
from packdesk.ui.pages.page_preview import PagePreview
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme

LOOK_WIDTH, LOOK_HEIGHT = 700, 200
REMEMBERED = 40
"""So many labels are kept as pictures; one is at most about a megabyte."""

Look = tuple[LabelText, LabelStock, LabelDesign]


class LabelPreview(QWidget):
    """The label itself, from the same hand as the print; where it cannot be printed, the reason.

    What was drawn once is shown at once; while a new one is drawn the last one stays.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.page = PagePreview(theme, least_height=LOOK_HEIGHT)
        self.wrong = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self.wrong.say()
        self._wanted: Look | None = None
        self._drawn: OrderedDict[Look, PagePicture | str] = OrderedDict()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.page, 1)
        column.addWidget(self.wrong)

    def show_label(
        self,
        text: LabelText | None,
        stock: LabelStock | None = None,
        design: LabelDesign | None = None,
        papers: Papers | None = None,
    ) -> None:
        """Show a label on a stock in a design, or nothing."""
        if text is None or stock is None or design is None or papers is None:
            self._wanted = None
            self.hide()
            return
        self.show()
        look = (text, stock, design)
        if look == self._wanted:
            return
        self._wanted = look
        if look in self._drawn:
            self._drawn.move_to_end(look)
            self._show(look)
        else:
            self._draw(look, papers)

    def say(self, words: str) -> None:
        """Say why there is no label to be seen."""
        self._wanted = None
        self.page.show_picture(None)
        self.wrong.say(words)
        self.show()

    def _draw(self, look: Look, papers: Papers) -> None:
        text, stock, design = look
        width = self.theme.whole(LOOK_WIDTH)

        def draw(_tell: Progress) -> PagePicture | str | None:
            if look != self._wanted:
                return None  # somebody typed on
            try:
                return papers.label_picture(text, stock, width, design=design)
            except Trouble as trouble:
                return str(trouble)

        job = LongJob(draw, self)
        job.done.connect(lambda drawn: self._take(look, drawn))
        job.failed.connect(lambda error: self._take(look, str(error)))
        for ended in (job.done, job.failed, job.stopped):
            ended.connect(job.deleteLater)
        job.start()

    def _take(self, look: Look, drawn: PagePicture | str | None) -> None:
        if drawn is None:
            return
        self._drawn[look] = drawn
        while len(self._drawn) > REMEMBERED:
            self._drawn.popitem(last=False)
        if look == self._wanted:
            self._show(look)

    def _show(self, look: Look) -> None:
        drawn, text = self._drawn[look], look[0]
        told = isinstance(drawn, str)
        self.page.show_picture(None if told else drawn)
        self.wrong.say(drawn if told else "")
        parts = (
            text.food, text.mass, text.packed, text.best_quality, text.identity, text.lot,
            text.pail, text.absorbers, text.allergens, text.caution, text.advice,
        )  # fmt: skip
        self.page.setAccessibleName(f"Label: {'; '.join(part for part in parts if part)}")
