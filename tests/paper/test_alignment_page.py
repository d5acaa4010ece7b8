"""The page that shows how far a printer is out of true."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest

from packdesk.catalog.label_stock import LabelStock
from packdesk.paper.alignment_page import write_alignment_page

Pages = Callable[[BytesIO, int], list[np.ndarray]]
DPI = 300


@pytest.fixture
def stock(stocks: Mapping[str, LabelStock]) -> LabelStock:
    """A4 with 3 × 7 labels."""
    return stocks["a4-3x7-64x38"]


def test_both_rulers_are_a_hundred_millimetres_long(stock: LabelStock, pages: Pages) -> None:
    """The longest lines in the white middle are the two rulers, 100 mm each way."""
    out = BytesIO()

    write_alignment_page(stock, out)

    page = pages(out, DPI)[0]
    height, width = page.shape
    middle = page[height // 4 : -height // 4, width // 5 : -width // 5] < 128
    assert _longest_run(middle) * 25.4 / DPI == pytest.approx(100.0, abs=0.25)
    assert _longest_run(middle.T) * 25.4 / DPI == pytest.approx(100.0, abs=0.25)


@pytest.mark.parametrize("offset_mm", [(0.0, 0.0), (1.5, -1.0)])
def test_crosses_stand_on_the_outer_corners(
    offset_mm: tuple[float, float], stock: LabelStock, pages: Pages
) -> None:
    """Each outer corner of the labels, moved by the offset, lies under the middle of a cross."""
    out = BytesIO()

    write_alignment_page(stock, out, offset_mm=offset_mm)

    page = pages(out, DPI)[0]
    left, top = stock.cell_origin_mm(0)
    x, y = stock.cell_origin_mm(stock.cells - 1)
    for across in (left, x + stock.label_width_mm):
        for down in (top, y + stock.label_height_mm):
            column = round((across + offset_mm[0]) * DPI / 25.4)
            row = round((down + offset_mm[1]) * DPI / 25.4)
            arm = round(4.0 * DPI / 25.4)
            assert page[row - 2 : row + 3, column - arm : column + arm].min(axis=0).max() < 160
            assert page[row - arm : row + arm, column - 2 : column + 3].min(axis=1).max() < 160


def test_it_tells_what_to_do(stock: LabelStock, text_of: Callable[[BytesIO], list[str]]) -> None:
    """The page names the stock, asks for actual size and says what to measure."""
    out = BytesIO()

    write_alignment_page(stock, out)

    (text,) = text_of(out)
    assert "".join(stock.name.split()) in text
    assert "actualsize(100%)" in text
    assert "theotherway" in text
    assert "crossesright" in text
    assert b"/PrintScaling /None" in out.getvalue()


def test_a_page_too_small_for_the_rulers_is_refused(stock: LabelStock) -> None:
    """Where two rulers of 100 mm have no room, the page says so instead of cutting them."""
    small = replace(stock, page_width=replace(stock.page_width, value=100.0))

    with pytest.raises(ValueError, match="100 × 297 mm has no room"):
        write_alignment_page(small, BytesIO())


def test_an_offset_beyond_bounds_is_refused(stock: LabelStock) -> None:
    """An offset to be tried out is bounded as on real labels."""
    with pytest.raises(ValueError, match="more than 5 mm"):
        write_alignment_page(stock, BytesIO(), offset_mm=(0.0, 7.0))


def _longest_run(dark: np.ndarray) -> int:
    """The longest unbroken dark stretch along any row."""
    longest = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
        longest = max(longest, *(edges[1::2] - edges[::2]), 0)
    return int(longest)
