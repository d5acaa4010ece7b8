"""The run sheet: boxes to check, lines to write times on, tables with room for a pencil."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Spacer, Table, TableStyle

from packdesk.paper.delivery import deliver
from packdesk.paper.fit import tied
from packdesk.paper.flowing import INK, SECOND_INK, Progress, flow_pages
from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, lacking, printable, text_width
from packdesk.paper.page_sizes import MM, page_size_mm
from packdesk.present.papers import RunBlank, RunPart, RunSheet, RunStep, RunTable

_SIDE_MM, _TOP_MM = 18.0, 15.0
_WRITING = HexColor("#7A7464")

_TITLE = ParagraphStyle("title", fontName=BOLD, fontSize=19, leading=23, textColor=INK)
_SUBTITLE = ParagraphStyle(
    "subtitle", fontName=REGULAR, fontSize=11, leading=15, textColor=SECOND_INK, spaceAfter=4
)
_HEADING = ParagraphStyle(
    "heading", fontName=SEMIBOLD, fontSize=13, leading=16, textColor=INK,
    spaceBefore=10, spaceAfter=3,
)  # fmt: skip
_BODY = ParagraphStyle(
    "body", fontName=REGULAR, fontSize=10, leading=13.5, textColor=INK, spaceAfter=3
)
_CAUTION = ParagraphStyle("caution", parent=_BODY, fontName=SEMIBOLD)
_CELL = ParagraphStyle("cell", fontName=REGULAR, fontSize=9.5, leading=11.5, textColor=INK)
_HEAD = ParagraphStyle("head", parent=_CELL, fontName=SEMIBOLD)

_BOX_MM, _BLANK_MM, _BLANK_GAP_MM = 4.0, 24.0, 3.0
_STEP_MM, _WRITTEN_STEP_MM = 6.5, 10.5
_LEAST_CELL_MM = 13.0
_ROW_PADDING = (4.5, 7.0)
"""Above and below the words of a row: some 8 mm, room for handwriting."""

_HEADING_NEEDS = 40 * MM


@dataclass(frozen=True, slots=True)
class RunReport:
    """What was written: how many pages, and which characters print as an empty box."""

    pages: int
    unprintable: str = ""


def write_run_sheet(
    sheet: RunSheet, page: str, out: Path | BinaryIO, *, progress: Progress | None = None
) -> RunReport:
    """Write `sheet` on pages called `page` ("A4" or "Letter").

    Every text is set as it stands. Raises `ValueError` for an unknown page and `Trouble` when
    the file cannot be written.
    """
    content, pages = flow_pages(
        lambda width: _story(sheet, width),
        page_size_mm(page),
        title=sheet.title,
        foot=sheet.foot,
        side_mm=_SIDE_MM,
        top_mm=_TOP_MM,
        progress=progress,
    )
    deliver(content, out)
    return RunReport(pages, lacking(" ".join(_texts(sheet))))


def _story(sheet: RunSheet, width: float) -> Iterator[Flowable]:
    yield Paragraph(_markup(sheet.title), _TITLE)
    yield Paragraph(_markup(sheet.subtitle), _SUBTITLE)
    for caution in sheet.cautions:
        yield Paragraph(_markup(caution), _CAUTION)
    for part in sheet.parts:
        yield CondPageBreak(_HEADING_NEEDS)
        yield Paragraph(_markup(part.title), _HEADING)
        for sentence in part.sentences:
            yield Paragraph(_markup(sentence), _BODY)
        for step in part.steps:
            yield _Step(step)
        for table in part.tables:
            yield Spacer(1, 4)
            yield _table(table, width)
            yield Spacer(1, 6)


def _markup(text: str) -> str:
    return escape(tied(printable(text)))


class _Step(Flowable):
    """A box to check, what it stands for, and places to write on to its right."""

    def __init__(self, step: RunStep) -> None:
        super().__init__()
        self._step = step
        self._words = Paragraph(_markup(step.words), _BODY)

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """As high as the words, and at least as a line to write on."""
        blanks = len(self._step.blanks) * (_BLANK_MM + _BLANK_GAP_MM) * MM
        self._left = (_BOX_MM + 3.0) * MM
        room = available_width - self._left - blanks
        _, words_height = self._words.wrap(room, available_height)
        least_mm = _WRITTEN_STEP_MM if self._step.blanks else _STEP_MM
        self.width, self.height = available_width, max(words_height + 4, least_mm * MM)
        self._words_height = words_height
        return self.width, self.height

    def draw(self) -> None:
        """Box, words and blanks hang from one height."""
        canvas: Canvas = self.canv
        top = self.height - 2
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.9)
        canvas.rect(0, top - _BOX_MM * MM, _BOX_MM * MM, _BOX_MM * MM, stroke=1, fill=0)
        self._words.drawOn(canvas, self._left, top - self._words_height + 1)
        for place, blank in enumerate(reversed(self._step.blanks)):
            right = self.width - place * (_BLANK_MM + _BLANK_GAP_MM) * MM
            self._draw_blank(canvas, blank, right - _BLANK_MM * MM, top - 5.5 * MM)

    def _draw_blank(self, canvas: Canvas, blank: RunBlank, left: float, line: float) -> None:
        canvas.setStrokeColor(_WRITING)
        canvas.setLineWidth(0.6)
        canvas.line(left, line, left + _BLANK_MM * MM, line)
        canvas.setFillColor(SECOND_INK)
        canvas.setFont(REGULAR, 7.5)
        canvas.drawString(left, line - 8.0, printable(blank.label))
        canvas.setFillColor(INK)
        canvas.setFont(REGULAR, 9.5)
        canvas.drawString(left, line + 2.5, printable(blank.written))


def _table(table: RunTable, width: float) -> Table:
    """Cells in a grid; columns as wide as their words, what is left shared by those to write in."""
    cells = (table.header, *table.rows)
    faces = [_HEAD] + [_CELL] * len(table.rows)
    body = [
        [Paragraph(_markup(cell) or "\u00a0", style) for cell in row]
        for row, style in zip(cells, faces, strict=True)
    ]
    set_table = Table(body, colWidths=_widths(table, width), repeatRows=1)
    above, below = _ROW_PADDING
    set_table.setStyle(TableStyle([
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("GRID", (0, 0), (-1, -1), 0.5, _WRITING),
        ("LEFTPADDING", (0, 0), (-1, -1), 3), ("RIGHTPADDING", (0, 0), (-1, -1), 3),
        ("TOPPADDING", (0, 0), (-1, 0), 2), ("BOTTOMPADDING", (0, 0), (-1, 0), 3),
        ("TOPPADDING", (0, 1), (-1, -1), above), ("BOTTOMPADDING", (0, 1), (-1, -1), below),
    ]))  # fmt: skip
    return set_table


def _widths(table: RunTable, width: float) -> list[float]:
    """What words need, within bounds; the rest goes to columns that have a cell to write in."""
    columns = list(zip(table.header, *table.rows, strict=True))
    own = [
        max(text_width(printable(cell), SEMIBOLD) for cell in column) * 9.5 + 8
        for column in columns
    ]
    wanted = [max(each, _LEAST_CELL_MM * MM) for each in own]
    if sum(wanted) > width:
        return [each * width / sum(wanted) for each in wanted]
    written_in = [any(not cell for cell in column[1:]) for column in columns]
    takers = sum(written_in) or len(columns)
    share = (width - sum(wanted)) / takers
    return [
        each + (share if takes or not any(written_in) else 0.0)
        for each, takes in zip(wanted, written_in, strict=True)
    ]


def _texts(sheet: RunSheet) -> Iterator[str]:
    yield from (sheet.title, sheet.subtitle, *sheet.cautions, sheet.foot)
    for part in sheet.parts:
        yield from _part_texts(part)


def _part_texts(part: RunPart) -> Iterator[str]:
    yield from (part.title, *part.sentences)
    for step in part.steps:
        yield step.words
        for blank in step.blanks:
            yield from (blank.label, blank.written)
    for table in part.tables:
        rows: Sequence[Sequence[str]] = (table.header, *table.rows)
        for row in rows:
            yield from row
