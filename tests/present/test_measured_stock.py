"""Label sheets measured by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import read_catalog
from packdesk.present.label_job import page_called
from packdesk.present.measured_stock import MeasuredSheet, measured_stock, stock_entry

SHEET = MeasuredSheet(
    page_width_mm=210.0, page_height_mm=297.0, columns=3, rows=8, label_width_mm=63.5,
    label_height_mm=34.0, left_mm=7.0, top_mm=12.5, gap_across_mm=2.5, right_mm=7.5,
    bottom_mm=12.5,
)  # fmt: skip


def _stock(sheet: MeasuredSheet) -> LabelStock:
    found = measured_stock(sheet, {})
    assert isinstance(found, LabelStock), found
    return found


def test_a_measured_sheet_has_its_labels_where_they_were_measured() -> None:
    """Labels begin at the margins and repeat after a label and a gap."""
    stock = _stock(SHEET)

    assert (stock.cells, stock.page_size_mm) == (24, (210.0, 297.0))
    assert stock.cell_origin_mm(0) == (7.0, 12.5)
    assert stock.cell_origin_mm(23) == pytest.approx((7.0 + 2 * 66.0, 12.5 + 7 * 34.0))
    assert stock.name == "own sheet, 3 × 8, 63.5 × 34 mm"


def test_a_page_is_called_as_a_print_queue_calls_it() -> None:
    """A4 by its name, another size by its millimetres."""
    a5 = replace(SHEET, page_width_mm=148.0, page_height_mm=210.0, columns=1, rows=3)
    own = replace(a5, left_mm=20.0, right_mm=64.5, bottom_mm=95.5)

    assert page_called(_stock(SHEET)) == "A4"
    assert page_called(_stock(own)) == "Custom.148x210mm"


def test_a_measured_sheet_is_read_back_from_the_persons_own_file(tmp_path: Path) -> None:
    """Written as an entry of the own catalogue it is the same stock when the catalogue is read."""
    shipped = read_catalog()[0].label_stocks
    stock = measured_stock(replace(SHEET, name='Blue "box"\n\\ 24'), shipped)
    assert isinstance(stock, LabelStock)
    (tmp_path / "label_stock.toml").write_text(stock_entry(stock), encoding="utf-8")

    catalog, faults = read_catalog(tmp_path)

    assert faults == ()
    assert catalog.label_stocks[stock.key] == stock
    assert stock.name == "Blue ”box” / 24"


def test_a_second_sheet_alike_gets_a_key_and_name_of_its_own() -> None:
    """Two sheets of equal size are told apart."""
    first = _stock(SHEET)

    second = measured_stock(SHEET, {first.key: first})

    assert isinstance(second, LabelStock)
    assert (second.key, second.name) == (f"{first.key}-2", f"{first.name} (2)")


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"right_mm": 20.0}, "add up to 222.5 mm, but the page is 210 mm wide"),
        ({"bottom_mm": 40.0}, "add up to 324.5 mm, but the page is 297 mm high"),
        ({"columns": 4, "right_mm": None}, "needs a page width of 268.5 mm"),
        ({"gap_down_mm": -1.0, "bottom_mm": None}, "repeats its labels every 33 mm"),
        ({"left_mm": -3.0}, "Left margin is -3 mm, outside what can be"),
        ({"page_width_mm": 2100.0}, "Page width is 2100 mm, outside what can be: 50 to 500 mm"),
        ({"rows": 0}, "at least 1 column and 1 row"),
        ({"corner_radius_mm": 30.0}, "corner radius larger than half a label"),
        ({"label_width_mm": float("nan")}, "Label width must be a number"),
    ],
)
def test_what_cannot_be_is_said(changed: dict[str, float], words: str) -> None:
    """A slip of the ruler is told with the figure before a sheet is spoiled."""
    found = measured_stock(replace(SHEET, **changed), {})  # type: ignore[arg-type]

    assert isinstance(found, tuple)
    assert any(words in fault for fault in found), found


def test_margins_that_miss_by_a_rulers_breadth_are_taken() -> None:
    """Two millimetres over the whole page are what measuring by hand comes to."""
    assert isinstance(measured_stock(replace(SHEET, right_mm=9.0), {}), LabelStock)
    assert isinstance(measured_stock(replace(SHEET, right_mm=10.0), {}), tuple)


def test_without_far_margins_the_page_alone_decides() -> None:
    """The margins at the far edges are a check and may be left out."""
    assert isinstance(measured_stock(replace(SHEET, right_mm=None, bottom_mm=None), {}), LabelStock)
