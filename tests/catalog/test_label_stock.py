from __future__ import annotations

import pytest

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import read_catalog

STOCKS = read_catalog()[0].label_stocks


@pytest.mark.parametrize("stock", STOCKS.values(), ids=STOCKS.keys())
def test_every_label_lies_on_its_page_and_on_no_other(stock: LabelStock) -> None:
    """Labels neither overlap nor leave the page by more than rounding."""
    corners = [stock.cell_origin_mm(index) for index in range(stock.cells)]
    page_width, page_height = stock.page_size_mm

    for left, top in corners:
        assert left >= 0
        assert top >= 0
        assert left + stock.label_width_mm <= page_width + 0.25
        assert top + stock.label_height_mm <= page_height + 0.25
        neighbours = [
            other
            for other in corners
            if abs(other[0] - left) < stock.label_width_mm - 1e-9
            and abs(other[1] - top) < stock.label_height_mm - 1e-9
        ]
        assert neighbours == [(left, top)]


def test_labels_count_row_by_row_from_the_top_left() -> None:
    """Label 0 is at the margins, the next to its right, the last at the bottom right."""
    stock = STOCKS["a4-3x7-64x38"]

    assert stock.cell_origin_mm(0) == (7.25, 15.15)
    assert stock.cell_origin_mm(1) == pytest.approx((73.25, 15.15))
    assert stock.cell_origin_mm(3) == pytest.approx((7.25, 53.25))
    assert stock.cell_origin_mm(20) == pytest.approx((139.25, 243.75))


@pytest.mark.parametrize("index", [-1, 21])
def test_a_label_beyond_the_sheet_is_refused(index: int) -> None:
    """A label that the sheet does not have is refused by number."""
    with pytest.raises(IndexError, match=f"label {index}: this sheet has labels 0 to 20"):
        STOCKS["a4-3x7-64x38"].cell_origin_mm(index)
