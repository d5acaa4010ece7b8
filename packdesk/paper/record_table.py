"""A small table in the record: columns as wide as they need, header again on every page."""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import LongTable, Paragraph, TableStyle

from packdesk.paper.fit import tied
from packdesk.paper.fonts import REGULAR, SEMIBOLD, printable, text_width

_INK, _RULE = HexColor("#1A2040"), HexColor("#B9BCCB")
_SIZE, _LEADING = 9.5, 12.4
_LEAST_GAP, _MOST_GAP = 9.0, 22.0
"""Between columns: narrow tables are let out, but not so far that a row falls apart."""

_QUANTITY = re.compile(
    r"[−+±≈<>-]? ?\d[\d.,\u202f\u00a0]*(?: \S*[^\d\s]\S*|[\u202f\u00a0]?[%°]C?)?"
)


def record_table(
    header: Sequence[str], rows: Sequence[Sequence[str]], width_pt: float
) -> LongTable:
    """Set `rows` under `header` (may be empty) in `width_pt`; short rows end in empty cells.

    A column of nothing but quantities is set to the right, so that its figures line up.
    """
    head = [header] if header else []
    columns = max(len(row) for row in (*head, *rows))
    cells = [[*map(printable, row), *[""] * (columns - len(row))] for row in (*head, *rows)]
    sides = [_side([row[at] for row in cells[len(head) :]]) for at in range(columns)]
    faces = [SEMIBOLD] * len(head) + [REGULAR] * len(rows)
    styles = {
        (face, side): ParagraphStyle(
            f"{face} {side}", fontName=face, fontSize=_SIZE, leading=_LEADING, textColor=_INK,
            alignment=side,
        )
        for face in (SEMIBOLD, REGULAR) for side in (TA_LEFT, TA_RIGHT)
    }  # fmt: skip
    gap, widths = _columns(cells, faces, width_pt)
    table = LongTable(
        [
            [Paragraph(escape(tied(text)), styles[face, side])
             for text, side in zip(row, sides, strict=True)]
            for row, face in zip(cells, faces, strict=True)
        ],
        colWidths=widths,
        repeatRows=len(head),
        splitInRow=1,
        hAlign="LEFT",
    )  # fmt: skip
    table.setStyle(TableStyle([
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (0, -1), 0), ("LEFTPADDING", (1, 0), (-1, -1), gap),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 2.2), ("BOTTOMPADDING", (0, 0), (-1, -1), 3.0),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, _RULE),
        *([("LINEBELOW", (0, 0), (-1, 0), 0.9, _INK)] if head else []),
    ]))  # fmt: skip
    return table


def _side(column: Sequence[str]) -> int:
    told = [text for text in column if text not in ("", "–")]
    return TA_RIGHT if told and all(map(_QUANTITY.fullmatch, told)) else TA_LEFT


def _columns(
    cells: Sequence[Sequence[str]], faces: Sequence[str], width: float
) -> tuple[float, list[float]]:
    """The gap before each column but the first, and how wide each is, its gap included.

    Columns take their own width where that fits; otherwise the widest share what is left.
    """
    own = [
        max(text_width(row[at], face) for row, face in zip(cells, faces, strict=True)) * _SIZE + 1
        for at in range(len(cells[0]))
    ]
    gaps = max(len(own) - 1, 1)
    gap = min(max((width - sum(own)) / gaps, _LEAST_GAP), _MOST_GAP)
    wanted = [each + (gap if at else 0) for at, each in enumerate(own)]
    widths = dict.fromkeys(range(len(wanted)), 0.0)
    narrow_first = sorted(widths, key=wanted.__getitem__)
    left = width
    for place, at in enumerate(narrow_first):
        widths[at] = min(wanted[at], left / (len(narrow_first) - place))
        left -= widths[at]
    return gap, list(widths.values())
