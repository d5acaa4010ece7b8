"""The record of one session on paper, for a reader who was not there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Spacer

from packdesk.paper.delivery import deliver
from packdesk.paper.fit import tied
from packdesk.paper.flowing import INK, SECOND_INK, Progress, flow_pages
from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, lacking, printable
from packdesk.paper.page_sizes import MM, page_size_mm
from packdesk.paper.record_histogram import RecordHistogram
from packdesk.paper.record_plot import RecordPlot, plot_words
from packdesk.paper.record_table import record_table
from packdesk.present.outlines import OutlineLine, OutlineSection, RecordOutline

_SIDE_MM, _TOP_MM = 22.0, 20.0

_TITLE = ParagraphStyle(
    "title", fontName=BOLD, fontSize=22, leading=26, textColor=INK, spaceAfter=3
)
_SUBTITLE = ParagraphStyle(
    "subtitle", fontName=REGULAR, fontSize=11.5, leading=15.5, textColor=SECOND_INK, spaceAfter=6
)
_HEADING = ParagraphStyle(
    "heading", fontName=SEMIBOLD, fontSize=13.5, leading=17, textColor=INK,
    spaceBefore=15, spaceAfter=4,
)  # fmt: skip
_BODY = ParagraphStyle(
    "body", fontName=REGULAR, fontSize=10, leading=14, textColor=INK, spaceAfter=4
)
_FACT = ParagraphStyle(
    "fact", parent=_BODY, leading=13.4, spaceAfter=3.0, leftIndent=33 * MM,
    bulletFontName=REGULAR, bulletFontSize=10, bulletIndent=0, bulletColor=INK,
)  # fmt: skip
"""The indent leaves room for a date and time; where a longer one stands, the words give way."""

_HEADING_NEEDS = 35 * MM
"""A heading nearer to the foot than this goes to the next page, with what it heads."""

_HEADING_ROOM = _HEADING.spaceBefore + _HEADING.leading + _HEADING.spaceAfter

_SENTENCES_KEPT = 4
"""So many sentences stay with their heading and the table below them; of more only the first."""

_TABLE_NEEDS = 24 * MM
"""A table begins on the next page where its header and two rows have no room."""


@dataclass(frozen=True, slots=True)
class RecordReport:
    """What was written: how many pages, and which characters print as an empty box."""

    pages: int
    unprintable: str = ""


def write_record(
    outline: RecordOutline, page: str, out: Path | BinaryIO, *, progress: Progress | None = None
) -> RecordReport:
    """Write the record to `out` on pages called `page` ("A4" or "Letter").

    Every text is set as it stands: markup in it means nothing. What `progress` raises stops the
    work and leaves no file. Raises `ValueError` for an
    unknown page and `Trouble` when the file cannot be written.
    """
    content, pages = flow_pages(
        lambda width: _story(outline, width),
        page_size_mm(page),
        title=outline.title,
        foot=outline.foot,
        side_mm=_SIDE_MM,
        top_mm=_TOP_MM,
        progress=progress,
    )
    deliver(content, out)
    return RecordReport(pages, lacking(" ".join(_texts(outline))))


def _story(outline: RecordOutline, width: float) -> Iterator[Flowable]:
    yield Paragraph(_markup(outline.title), _TITLE)
    if outline.subtitle:
        yield Paragraph(_markup(outline.subtitle), _SUBTITLE)
    for number, section in enumerate(outline.sections):
        yield CondPageBreak(_needs(section, width))
        yield _Bookmark(f"section{number}", printable(section.title))
        yield from _section(section, width)


def _needs(section: OutlineSection, width: float) -> float:
    """How much room a section must have left, or it begins on the next page (pt)."""
    pictures = [each.room_pt for each in _pictures(section)]
    few = len(section.sentences) <= _SENTENCES_KEPT
    kept = section.sentences if few else section.sentences[:1]
    said = sum(
        Paragraph(_markup(each), _BODY).wrap(width, 0)[1] + _BODY.spaceAfter for each in kept
    )
    follows = _TABLE_NEEDS if few and section.rows and not pictures else 0.0
    needs = _HEADING_ROOM + said + follows
    return max(_HEADING_NEEDS, needs) + (pictures[0] if pictures else 0.0)


def _section(section: OutlineSection, width: float) -> Iterator[Flowable]:
    yield Paragraph(_markup(section.title), _HEADING)
    yield from _pictures(section)
    for sentence in section.sentences:
        yield Paragraph(_markup(sentence), _BODY)
    if section.header or section.rows:
        yield CondPageBreak(_TABLE_NEEDS)
        yield Spacer(1, 2)
        yield record_table(section.header, section.rows, width)
        yield Spacer(1, 6)
    for fact in section.facts:
        yield Paragraph(_fact_markup(fact), _FACT, bulletText=printable(fact.when))


def _pictures(section: OutlineSection) -> list[RecordPlot | RecordHistogram]:
    return [
        *(RecordPlot(plot) for plot in section.plots),
        *(RecordHistogram(histogram) for histogram in section.histograms),
    ]


def _fact_markup(fact: OutlineLine) -> str:
    words = _markup(fact.words)
    if fact.voided:
        words = f"<strike>{words}</strike>"
    beside = ", ".join(each for each in (fact.entered, fact.who) if each)
    if beside:
        words += f' <font color="{SECOND_INK.hexval()}">– {_markup(beside)}</font>'
    if fact.voided:
        words += f'<br/><font name="{SEMIBOLD}">Voided:</font> {_markup(fact.voided)}'
    return words


def _markup(text: str) -> str:
    """The text with nothing in it that reportlab would take for an instruction."""
    return "<br/>".join(escape(tied(printable(line))) for line in text.splitlines())


class _Bookmark(Flowable):
    """Takes no room; puts a heading into the list of contents that viewers show."""

    def __init__(self, key: str, title: str) -> None:
        super().__init__()
        self._key, self._title = key, title

    def draw(self) -> None:
        self.canv.bookmarkHorizontal(self._key, 0, _HEADING.leading)
        self.canv.addOutlineEntry(self._title, self._key)


def _texts(outline: RecordOutline) -> Iterator[str]:
    yield from (outline.title, outline.subtitle, outline.foot)
    for section in outline.sections:
        yield from (section.title, *section.sentences, *section.header)
        for row in section.rows:
            yield from row
        for fact in section.facts:
            yield from (fact.when, fact.words, fact.entered, fact.who, fact.voided)
        yield from plot_words(section.plots)
        for histogram in section.histograms:
            yield from (histogram.title, histogram.planned_words)
