"""Pages of a PDF, and single labels, as pictures for the screen."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pypdfium2

from packdesk.catalog.figures import Figure
from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import PagePicture, Trouble
from packdesk.paper.label_sheet import write_labels
from packdesk.present.label_design import STANDARD, LabelDesign
from packdesk.present.papers import LabelText

MOST_WIDE_PX = 8000
"""Wider pictures than this would fill the memory of a small machine."""


def page_picture(pdf: Path | bytes, page: int, width_px: int) -> PagePicture:
    """Page `page` of a PDF, counted from 0, as a picture `width_px` (1 to 8000) wide.

    Raises `ValueError` for a page or a width that cannot be and `Trouble` for a file that is not
    there or is no PDF.
    """
    if not 1 <= width_px <= MOST_WIDE_PX:
        raise ValueError(f"A picture {width_px} px wide cannot be made. Ask for 1 to 8000.")
    try:
        document = pypdfium2.PdfDocument(pdf)
    except (pypdfium2.PdfiumError, OSError) as error:
        raise Trouble(
            f"“{pdf if isinstance(pdf, Path) else 'The page'}” cannot be shown: {error}.",
            "Make it again.",
        ) from error
    try:
        if not 0 <= page < len(document):
            raise ValueError(f"Page {page + 1} is not there; the file has {len(document)} pages.")
        sheet = document[page]
        scale = width_px / sheet.get_width()
        bitmap = sheet.render(scale=scale, prefer_bgrx=True)
        return PagePicture(
            width_px=bitmap.width,
            height_px=bitmap.height,
            stride=bitmap.stride,
            pixels=bytes(bitmap.buffer),
            page=page,
            pages=len(document),
        )
    finally:
        document.close()


def label_picture(
    text: LabelText, stock: LabelStock, width_px: int, *, design: LabelDesign = STANDARD
) -> PagePicture | str:
    """One label of `stock` alone, as it will be printed; the reason in words when it cannot be."""
    out = BytesIO()
    report = write_labels([text], alone(stock), 0, out, design=design, outlines=True)
    if report.unfit:
        return report.unfit[0].words
    return page_picture(out.getvalue(), 0, width_px)


def alone(stock: LabelStock) -> LabelStock:
    """A sheet that is a single label of `stock`."""

    def mm(value: float) -> Figure:
        figure = stock.label_width
        return Figure(value, figure.unit, figure.source, figure.grade, value, value)

    return LabelStock(
        key=stock.key, name=stock.name, columns=1, rows=1,
        page_width=stock.label_width, page_height=stock.label_height,
        label_width=stock.label_width, label_height=stock.label_height,
        left_margin=mm(0.0), top_margin=mm(0.0),
        column_pitch=stock.column_pitch, row_pitch=stock.row_pitch,
        corner_radius=stock.corner_radius,
    )  # fmt: skip
