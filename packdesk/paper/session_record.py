"""The record of one session on paper, for a reader who was not there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any, BinaryIO
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    LongTable,
    PageTemplate,
    Paragraph,
    Spacer,
    TableStyle,
)

from packdesk.paper.blank_pdf import AUTHOR
from packdesk.paper.delivery import deliver
from packdesk.paper.fonts import (
    BOLD,
    REGULAR,
    SEMIBOLD,
    lacking,
    printable,
    register_faces,
    text_width,
)
from packdesk.paper.page_sizes import MM, page_size_mm
from packdesk.present.cards import OutlineLine, OutlineSection, RecordOutline

_INK = HexColor("#1A2040")
_SECOND_INK = HexColor("#3D425E")
_RULE = HexColor("#8A8FA8")

_SIDE, _TOP, _BOTTOM = 22 * MM, 20 * MM, 24 * MM
_FOOT = 13 * MM
_CELL_PAD = 8.0
_WHEN = 33 * MM
"""Room for a date and time beside each fact."""


def _style(name: str, face: str, size: float, leading: float, **more: Any) -> ParagraphStyle:
    more.setdefault("textColor", _INK)
    return ParagraphStyle(name, fontName=face, fontSize=size, leading=leading, **more)


_TITLE = _style("title", BOLD, 22, 26, spaceAfter=3)
_SUBTITLE = _style("subtitle", REGULAR, 11.5, 15.5, textColor=_SECOND_INK, spaceAfter=6)
_HEADING = _style("heading", SEMIBOLD, 13.5, 17, spaceBefore=15, spaceAfter=4)
_BODY = _style("body", REGULAR, 10, 14, spaceAfter=4)
_FACT = _style("fact", REGULAR, 10, 13.4, leftIndent=_WHEN, spaceAfter=3.2,
               bulletFontName=REGULAR, bulletFontSize=10, bulletIndent=0)  # fmt: skip
_CELL = _style("cell", REGULAR, 9.5, 12.4)
_CELL_HEAD = _style("cell head", SEMIBOLD, 9.5, 12.4)


@dataclass(frozen=True, slots=True)
class RecordReport:
    """What was written: how many pages, and which characters print as an empty box."""

    pages: int
    unprintable: str = ""


def write_record(outline: RecordOutline, page: str, out: Path | BinaryIO) -> RecordReport:
    """Write the record to `out` on pages called `page` ("A4" or "Letter").

    Every text is set as it stands: markup in it means nothing. Raises `ValueError` for an
    unknown page and `Trouble` when the file cannot be written.
    """
    register_faces()
    size = tuple(side * MM for side in page_size_mm(page))
    pages = _build(outline, size, BytesIO(), pages=0)
    content = BytesIO()
    _build(outline, size, content, pages)
    deliver(content.getvalue(), out)
    return RecordReport(pages, lacking(" ".join(_texts(outline))))


def _build(outline: RecordOutline, size: tuple[float, ...], out: BinaryIO, pages: int) -> int:
    """Set the whole record and count its pages; `pages` is what the foot lines say of that."""
    width, height = size
    foot = printable(outline.foot)

    def draw_foot(canvas: Canvas, document: BaseDocTemplate) -> None:
        canvas.saveState()
        canvas.setFillColor(_SECOND_INK)
        canvas.setFont(REGULAR, 8.5)
        canvas.drawString(_SIDE, _FOOT, foot)
        canvas.drawRightString(width - _SIDE, _FOOT, f"page {document.page} of {pages}")
        canvas.restoreState()

    frame = Frame(_SIDE, _BOTTOM, width - 2 * _SIDE, height - _TOP - _BOTTOM, 0, 0, 0, 0)
    document = BaseDocTemplate(
        out, pagesize=size, invariant=1, title=printable(outline.title), author=AUTHOR,
        pageTemplates=[PageTemplate("record", [frame], onPage=draw_foot)],
    )  # fmt: skip
    document.build(list(_story(outline, width - 2 * _SIDE)))
    return document.page


def _story(outline: RecordOutline, width: float) -> Iterator[Flowable]:
    yield _paragraph(outline.title, _TITLE)
    if outline.subtitle:
        yield _paragraph(outline.subtitle, _SUBTITLE)
    for section in outline.sections:
        yield from _section(section, width)


def _section(section: OutlineSection, width: float) -> Iterator[Flowable]:
    heading = _paragraph(section.title, _HEADING)
    yield CondPageBreak(35 * MM)
    yield heading
    for sentence in section.sentences:
        yield _paragraph(sentence, _BODY)
    if section.rows:
        yield Spacer(1, 2)
        yield _table(section, width)
        yield Spacer(1, 6)
    for fact in section.facts:
        yield _fact(fact)


def _paragraph(text: str, style: ParagraphStyle) -> Paragraph:
    return Paragraph(escape(printable(text)), style)


def _fact(fact: OutlineLine) -> Flowable:
    words, who = escape(printable(fact.words)), escape(printable(fact.who))
    if fact.voided:
        words = f"<strike>{words}</strike>"
    if who:
        words += f'  <font color="{_SECOND_INK.hexval()}">{who}</font>'
    if fact.voided:
        words += f"<br/>Voided: {escape(printable(fact.voided))}"
    return Paragraph(words, _FACT, bulletText=printable(fact.when))


def _table(section: OutlineSection, width: float) -> LongTable:
    """Columns as wide as their contents ask for, narrowed in proportion where the page ends."""
    head = [section.header] if section.header else []
    columns = max(len(row) for row in (*head, *section.rows))
    cells = [[*row, *[""] * (columns - len(row))] for row in (*head, *section.rows)]
    styles = [_CELL_HEAD] * len(head) + [_CELL] * len(section.rows)
    table = LongTable(
        [
            [_paragraph(text, style) for text in row]
            for row, style in zip(cells, styles, strict=True)
        ],
        colWidths=_column_widths(cells, width),
        repeatRows=len(head),
        splitInRow=1,
        hAlign="LEFT",
    )
    table.setStyle(TableStyle([
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (0, -1), 0), ("LEFTPADDING", (1, 0), (-1, -1), _CELL_PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 2.4), ("BOTTOMPADDING", (0, 0), (-1, -1), 3.0),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, _RULE),
        *([("LINEBELOW", (0, 0), (-1, 0), 0.9, _INK)] if head else []),
    ]))  # fmt: skip
    return table


def _column_widths(cells: Sequence[Sequence[str]], width: float) -> list[float]:
    wanted = [
        max(text_width(printable(row[column]), SEMIBOLD) for row in cells) * _CELL.fontSize
        + _CELL_PAD + 1
        for column in range(len(cells[0]))
    ]  # fmt: skip
    if sum(wanted) <= width:
        return wanted
    fair = width / len(wanted)
    small = sum(each for each in wanted if each <= fair)
    large = sum(each for each in wanted if each > fair)
    return [each if each <= fair else each * (width - small) / large for each in wanted]


def _texts(outline: RecordOutline) -> Iterator[str]:
    yield from (outline.title, outline.subtitle, outline.foot)
    for section in outline.sections:
        yield from (section.title, *section.sentences, *section.header)
        for row in section.rows:
            yield from row
        for fact in section.facts:
            yield from (fact.when, fact.words, fact.who, fact.voided)
