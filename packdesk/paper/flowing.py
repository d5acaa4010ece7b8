"""Pages that text flows over: one frame, and at each foot a line and which page it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from io import BytesIO
from typing import BinaryIO

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from packdesk.paper.blank_pdf import AUTHOR
from packdesk.paper.fit import wrap
from packdesk.paper.fonts import REGULAR, printable, register_faces
from packdesk.paper.page_sizes import MM

INK, SECOND_INK = HexColor("#1A2040"), HexColor("#3D425E")

_FOOT_PT, _FOOT_LEADING, _FOOT_WIDTH = 8.5, 11.0, 130 * MM
_ABOVE_FOOT = 7 * MM

Progress = Callable[[int, int], None]
"""Is told how many pages of how many are set (of 0 while they are still being counted)."""


def flow_pages(
    story: Callable[[float], Iterable[Flowable]],
    size_mm: tuple[float, float],
    *,
    title: str,
    foot: str,
    side_mm: float,
    top_mm: float,
    progress: Progress | None = None,
) -> tuple[bytes, int]:
    """Set what `story` yields for the width it is given, and count the pages.

    Everything is set twice, since the foot of the first page says how many there are. What
    `progress` raises stops the work.
    """
    register_faces()
    pages = 0
    for _ in range(2):
        out = BytesIO()
        pages = _flow(story, size_mm, title, foot, (side_mm, top_mm), pages, progress, out)
    return out.getvalue(), pages


def _flow(
    story: Callable[[float], Iterable[Flowable]],
    size_mm: tuple[float, float],
    title: str,
    foot: str,
    margins_mm: tuple[float, float],
    pages: int,
    progress: Progress | None,
    out: BinaryIO,
) -> int:
    """One setting; `pages` is what the foot lines say of how many there are."""
    width, height = size_mm[0] * MM, size_mm[1] * MM
    side, top = margins_mm[0] * MM, margins_mm[1] * MM
    foot_y = 0.65 * top
    lines = wrap(printable(foot), REGULAR, _FOOT_WIDTH / _FOOT_PT, break_words=True)
    bottom = foot_y + len(lines) * _FOOT_LEADING + _ABOVE_FOOT

    def draw_foot(canvas: Canvas, document: BaseDocTemplate) -> None:
        if progress is not None:
            progress(document.page, pages)
        canvas.saveState()
        canvas.setFillColor(SECOND_INK)
        canvas.setFont(REGULAR, _FOOT_PT)
        for above, line in enumerate(reversed(lines)):
            canvas.drawString(side, foot_y + above * _FOOT_LEADING, line)
        canvas.drawRightString(width - side, foot_y, f"page {document.page} of {pages}")
        canvas.restoreState()

    frame = Frame(side, bottom, width - 2 * side, height - top - bottom, 0, 0, 0, 0)
    document = BaseDocTemplate(
        out, pagesize=(width, height), invariant=1, title=printable(title), author=AUTHOR,
        pageTemplates=[PageTemplate("flowing", [frame], onPage=draw_foot)],
    )  # fmt: skip
    document.build(list(story(width - 2 * side)))
    return document.page
