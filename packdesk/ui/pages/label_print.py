"""A print of labels as it is asked for, and how its PDF is made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from packdesk.desk.ports import LabelsMade, Progress
from packdesk.present.label_design import NUMBER_FIRST, STANDARD, LabelDesign
from packdesk.present.label_job import LabelJob, page_called
from packdesk.present.label_text import label_texts, number_texts
from packdesk.present.label_wish import design_of
from packdesk.present.papers import LabelText
from packdesk.session.commands import NoteLabelsMade
from packdesk.session.state import LabelsAsked, SessionState
from packdesk.ui.pages.inputs import AtField
from packdesk.ui.pages.paper_folder import PaperFolder
from packdesk.ui.pages.paper_shelf import Paper
from packdesk.ui.pages.printer_choice import offset_mm
from packdesk.ui.pages.sheet_choice import stocks_of
from packdesk.ui.pages.sight import Sight
from packdesk.units import NotUnderstood


@dataclass(frozen=True, slots=True)
class LabelPrint:
    """Labels of `pouches`; with a plan `line`, numbers alone for pouches still to be filled."""

    pouches: tuple[int, ...]
    line: int = 0
    again: bool = False

    @property
    def called(self) -> str:
        """What its file is called."""
        return "numbers" if self.line else "labels"

    @property
    def making(self) -> str:
        """What is said while it is made."""
        return "Making number labels" if self.line else "Making labels"

    def texts(self, session: SessionState) -> tuple[LabelText, ...]:
        """What they say; a pouch that is not there yet has a label with its number alone."""
        if self.line:
            return number_texts(session, self.pouches)
        known = tuple(number for number in self.pouches if number in session.pouches)
        return label_texts(session, known)

    def design(self, sight: Sight) -> LabelDesign:
        """How they look: as the person chose, numbers always with the number largest."""
        return NUMBER_FIRST if self.line else design_chosen(sight)[0]

    def made(self, made: LabelsMade, job: LabelJob, file: Path) -> NoteLabelsMade:
        """The order that puts them on record, to be answered for."""
        return NoteLabelsMade(
            self.pouches,
            job.stock.key,
            job.first,
            made.next_cell,
            self.again,
            self.line,
            file.name,
            made.remarks,
        )


def design_chosen(sight: Sight) -> tuple[LabelDesign, str]:
    """The design chosen; the usual one, and a word about it, when the settings name none."""
    try:
        return design_of(sight.tools.choices.settings), ""
    except ValueError as wrong:
        return STANDARD, f"{wrong} Labels look as usual."


def paper_asked_about(asked: LabelsAsked, folder: PaperFolder, sight: Sight) -> Paper | None:
    """The paper that labels asked about are on, if its file is still there."""
    file = folder.holding(asked.file, sight)
    if file is None:
        return None
    stock = stocks_of(sight).get(asked.stock)
    page = page_called(stock) if stock is not None else ""
    return Paper(file, "Number labels" if asked.line else "Labels", page)


def label_maker(
    wanted: LabelPrint, job: LabelJob, out: Path, sight: Sight
) -> Callable[[Progress], LabelsMade]:
    """How the PDF is made; it may be called on any thread.

    Raises `AtField`, beside the field "pouches", for one that is not filled yet; making it raises
    `NotUnderstood` when labels do not fit, and `Trouble` when the file cannot be written.
    """
    session, papers = sight.session, sight.tools.papers
    missing = [number for number in wanted.pouches if number not in session.pouches]
    if missing and not wanted.line:
        raise AtField("pouches", f"There is no pouch {missing[0]} yet. Name filled ones.")
    texts, design = wanted.texts(session), wanted.design(sight)
    moved = offset_mm(job.stock.key, sight)

    def make(progress: Progress) -> LabelsMade:
        made = papers.labels(
            texts, job.stock, job.first, out, design=design, offset_mm=moved, progress=progress
        )
        if made.refused:
            raise NotUnderstood("The labels were not made. " + " ".join(made.refused))
        return made

    return make
