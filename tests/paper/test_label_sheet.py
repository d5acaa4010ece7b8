"""Sheets of labels, judged by what a page shows when it is rendered and read back."""

from __future__ import annotations

import errno
import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from io import BytesIO
from pathlib import Path
from typing import NoReturn

import numpy as np
import pytest
import zxingcpp

from packdesk.catalog.figures import Figure, Grade
from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import read_catalog
from packdesk.desk.ports import Trouble
from packdesk.paper.label_sheet import LabelReport, write_labels
from packdesk.present.measured_stock import MeasuredSheet, measured_stock
from packdesk.present.papers import LabelText

MakeLabel = Callable[..., LabelText]
Pages = Callable[[BytesIO, int], list[np.ndarray]]
TextOf = Callable[[BytesIO], list[str]]
StandsClear = Callable[[np.ndarray, zxingcpp.Barcode, int], None]

INSET_MM = 3.0
PIXEL_MM = 25.4 / 300
PRINTED = ("food", "mass", "packed", "best_quality", "identity", "lot", "pail", "absorbers",
           "allergens",
           "caution", "advice")  # fmt: skip

SHIPPED = sorted(read_catalog()[0].label_stocks)
"""All of them: a stock that is added is tested without a word here."""

every_stock = pytest.mark.parametrize("key", SHIPPED)
DPIS = (150, 300, 600)


@dataclass(frozen=True, slots=True)
class FullSheet:
    """A label in every cell of a stock, hard contents among them, and how its page looks."""

    stock: LabelStock
    labels: tuple[LabelText, ...]
    page: Mapping[int, np.ndarray]
    codes: Mapping[int, list[zxingcpp.Barcode]]
    """Both by dots per inch."""


OWN = MeasuredSheet(
    page_width_mm=215.9, page_height_mm=279.4, columns=2, rows=4, label_width_mm=94.0,
    label_height_mm=58.5, left_mm=11.5, top_mm=18.0, gap_across_mm=5.0, gap_down_mm=3.5,
)  # fmt: skip
"""A sheet of a person's own, with gaps both ways."""


@pytest.fixture(scope="module", params=[*SHIPPED, "own"])
def full_sheet(
    request: pytest.FixtureRequest,
    stocks: Mapping[str, LabelStock],
    label: MakeLabel,
    hardest: dict[str, str],
    pages: Pages,
) -> FullSheet:
    """A sheet of each stock in turn, set and rendered once for all who look at it."""
    own = measured_stock(OWN, stocks)
    assert isinstance(own, LabelStock)
    stock = stocks.get(request.param, own)
    foods = (
        "Őszi árpa", "Rice", "Jj (Åfgg)", "Black turtle beans, dried in the sun", "ǗάìŰ", "ĩnjera f"
    )  # fmt: skip
    tried = [label(1, **hardest), *(label(1, food=food) for food in foods)]
    fitting = [each for each in tried if not write_labels([each], stock, 0, BytesIO()).unfit]
    labels = tuple(
        _numbered(fitting[cell % len(fitting)], f"K7M2-{cell + 1:03d}")
        for cell in range(stock.cells)
    )
    out = BytesIO()
    report = write_labels(labels, stock, 0, out)
    assert (report.labels, report.sheets, report.unfit) == (stock.cells, 1, ())
    page = {dpi: pages(out, dpi)[0] for dpi in DPIS}
    return FullSheet(stock, labels, page, {dpi: _codes(page[dpi]) for dpi in DPIS})


@pytest.mark.parametrize("dpi", DPIS)
def test_every_code_reads_back_from_the_page(dpi: int, full_sheet: FullSheet) -> None:
    """On every stock each code of a full sheet is read and says what its label should."""
    read = [code.text for code in full_sheet.codes[dpi]]

    assert sorted(read) == sorted(each.code for each in full_sheet.labels)
    assert len(set(read)) == full_sheet.stock.cells


@every_stock
def test_the_cells_of_every_stock_lie_on_the_page(
    key: str, stocks: Mapping[str, LabelStock], label: MakeLabel, pages: Pages
) -> None:
    """The outlines of all cells are on the rendered page, each where its geometry says."""
    stock = stocks[key]
    out = BytesIO()

    write_labels([label(1)], stock, 0, out, outlines=True)

    page = pages(out, 200)[0]
    dots = 200 / 25.4
    assert page.shape == pytest.approx(
        (stock.page_size_mm[1] * dots, stock.page_size_mm[0] * dots), abs=1.0
    )
    for cell in range(stock.cells):
        x, y = stock.cell_origin_mm(cell)
        middle_x, middle_y = x + stock.label_width_mm / 2, y + stock.label_height_mm / 2
        for across, down in (
            (x, middle_y), (x + stock.label_width_mm, middle_y),
            (middle_x, y), (middle_x, y + stock.label_height_mm),
        ):  # fmt: skip
            column, row = round(across * dots), round(down * dots)
            assert 0 < column < page.shape[1] - 1
            assert 0 < row < page.shape[0] - 1
            assert page[row - 2 : row + 3, column - 2 : column + 3].min() < 128


def test_codes_keep_their_quiet_zone(full_sheet: FullSheet, stands_clear: StandsClear) -> None:
    """Four modules around every code are white and modules are at least 0.34 mm wide."""
    dpi = 600
    page, codes = full_sheet.page[dpi], full_sheet.codes[dpi]

    assert len(codes) == full_sheet.stock.cells
    for code in codes:
        stands_clear(page, code, dpi)


def test_ink_stays_three_millimetres_inside_every_cell(full_sheet: FullSheet) -> None:
    """On every stock nothing is printed outside the cells or nearer to an edge than 3 mm."""
    stock, page = full_sheet.stock, full_sheet.page[300].copy()

    for cell in range(stock.cells):
        ink = np.count_nonzero(_inside(page, stock, cell, INSET_MM - PIXEL_MM) < 128)
        assert ink > 1000
        _inside(page, stock, cell, INSET_MM - PIXEL_MM)[:] = 255
    assert page.min() > 128


@every_stock
def test_every_word_is_on_the_page(
    key: str, stocks: Mapping[str, LabelStock], label: MakeLabel, text_of: TextOf
) -> None:
    """The text of a page holds each line of each label in full."""
    labels = [label(number, caution="Keep below 20 °C.") for number in range(1, 9)]
    out = BytesIO()

    write_labels(labels, stocks[key], 0, out)

    text = "".join(text_of(out))
    for each in labels:
        assert _missing(each, text) == []


@every_stock
def test_the_hardest_contents_fit_whole_or_are_reported(
    key: str,
    stocks: Mapping[str, LabelStock],
    label: MakeLabel,
    hardest: dict[str, str],
    pages: Pages,
    text_of: TextOf,
) -> None:
    """Long texts in three scripts are all on the page, or the report says where they would fit."""
    hard = label(17, **hardest)
    out = BytesIO()

    report = write_labels([hard], stocks[key], 0, out, other_stocks=stocks.values())

    if report.unfit:
        (unfit,) = report.unfit
        assert unfit.pouch == 17
        assert unfit.stock is not None
        assert stocks[unfit.stock].page_size_mm == stocks[key].page_size_mm
        assert hard.caution in unfit.words
        assert stocks[unfit.stock].name in unfit.words
        assert not write_labels([hard], stocks[unfit.stock], 0, BytesIO()).unfit
        assert out.getvalue() == b""
    else:
        assert _missing(hard, text_of(out)[0].replace("-", "")) == []
        assert [code.text for code in zxingcpp.read_barcodes(pages(out, 300)[0])] == [hard.code]


def test_the_hardest_contents_fit_the_two_usual_stocks(
    stocks: Mapping[str, LabelStock], label: MakeLabel, hardest: dict[str, str]
) -> None:
    """Letter 2 × 5 and A4 3 × 7 take everything that is expected of a label."""
    for key in ("letter-2x5-102x51", "a4-3x7-64x38"):
        assert write_labels([label(17, **hardest)], stocks[key], 0, BytesIO()).labels == 1


def test_a_stock_too_small_for_the_code_is_refused(
    stocks: Mapping[str, LabelStock], label: MakeLabel, tmp_path: Path
) -> None:
    """A code that phones could not read is refused with the stock that fits; no file is made."""
    out = tmp_path / "labels.pdf"

    report = write_labels(
        [label(1), label(2)], _stock(5, 13, 38.1, 15.0), 0, out, other_stocks=stocks.values()
    )

    assert [unfit.pouch for unfit in report.unfit] == [1, 2]
    assert "18.6 mm" in report.unfit[0].words  # 37 modules of 0.34 mm and 3 mm on either side
    assert report.unfit[0].stock == "a4-3x8-64x34"
    assert not out.exists()


def test_without_a_stock_that_fits_the_report_says_what_to_do(label: MakeLabel) -> None:
    """Where no other stock is known, the cure is a larger label or fewer words."""
    report = write_labels([label(1)], _stock(5, 13, 38.1, 15.0), 0, BytesIO())

    assert report.unfit[0].stock is None
    assert "Choose a stock with larger labels" in report.unfit[0].words


@every_stock
def test_a_partly_used_sheet_is_started_where_it_was_left(
    key: str, stocks: Mapping[str, LabelStock], label: MakeLabel, pages: Pages
) -> None:
    """Cells before the first stay blank, and further sheets begin with their first cell."""
    stock = stocks[key]
    out = BytesIO()

    report = write_labels([label(n) for n in range(stock.cells)], stock, 3, out)

    first, second = pages(out, 100)
    assert [_has_ink(first, stock, cell) for cell in range(stock.cells)] == [
        cell >= 3 for cell in range(stock.cells)
    ]
    assert [_has_ink(second, stock, cell) for cell in range(stock.cells)] == [
        cell < 3 for cell in range(stock.cells)
    ]
    assert report == LabelReport(stock.cells, 2, 3)


def test_a_sheet_filled_to_its_end_leaves_no_empty_one(
    stocks: Mapping[str, LabelStock], label: MakeLabel, pages: Pages
) -> None:
    """The last cell of a sheet does not start another sheet."""
    out = BytesIO()

    report = write_labels([label(n) for n in range(6)], stocks["letter-2x5-102x51"], 4, out)

    assert report == LabelReport(6, 1, 0)
    assert len(pages(out, 30)) == 1


@every_stock
def test_an_offset_moves_everything_right_and_down(
    key: str, stocks: Mapping[str, LabelStock], label: MakeLabel, pages: Pages
) -> None:
    """On every stock an offset of 1.5 mm right and 1 mm up moves the ink by just that."""
    stock = stocks[key]
    plain, moved = BytesIO(), BytesIO()

    write_labels([label(1)], stock, 4, plain)
    write_labels([label(1)], stock, 4, moved, offset_mm=(1.5, -1.0))

    shift = _first_ink(pages(moved, 600)[0]) - _first_ink(pages(plain, 600)[0])
    assert shift * 25.4 / 600 == pytest.approx([-1.0, 1.5], abs=0.05)


def test_outlines_are_drawn_only_for_a_test_sheet(
    stocks: Mapping[str, LabelStock], label: MakeLabel, pages: Pages
) -> None:
    """Unused cells are blank, unless outlines were asked for."""
    stock = stocks["letter-2x5-102x51"]
    real, test = BytesIO(), BytesIO()

    write_labels([label(1)], stock, 9, real)
    write_labels([label(1)], stock, 9, test, outlines=True)

    left, _ = stock.cell_origin_mm(0)
    column = round(left * 200 / 25.4)
    assert pages(real, 200)[0][:, column - 2 : column + 3].min() == 255
    assert pages(test, 200)[0][:, column - 2 : column + 3].min() < 128


def test_viewers_are_asked_not_to_scale(stocks: Mapping[str, LabelStock], label: MakeLabel) -> None:
    """The file asks to be printed at actual size on its own page size."""
    out = BytesIO()

    write_labels([label(1)], stocks["a4-3x7-64x38"], 0, out)

    assert b"/PrintScaling /None" in out.getvalue()


def test_equal_labels_give_equal_bytes(stocks: Mapping[str, LabelStock], label: MakeLabel) -> None:
    """Written twice, the same labels make the same file: no date, no random mark."""
    first, second = BytesIO(), BytesIO()

    for out in (first, second):
        write_labels([label(1), label(2)], stocks["a4-3x7-64x38"], 0, out)

    assert first.getvalue() == second.getvalue()
    assert b"/CreationDate (D:2000" in first.getvalue()


def test_characters_the_face_lacks_are_reported(
    stocks: Mapping[str, LabelStock], label: MakeLabel
) -> None:
    """A label in an unknown script is written, and the report names its characters."""
    report = write_labels(
        [label(1), label(2, food="小麦 wheat 小")], stocks["a4-3x7-64x38"], 0, BytesIO()
    )

    assert [(each.pouch, each.characters) for each in report.unprintable] == [(2, "小麦")]
    assert report.labels == 2


def test_markup_in_a_name_is_printed_as_it_stands(
    stocks: Mapping[str, LabelStock], label: MakeLabel, text_of: TextOf
) -> None:
    """Nothing a person types is taken for an instruction to the printer."""
    out = BytesIO()

    write_labels([label(1, food=r"<b>Rye</b> \(1) &amp;")], stocks["a4-2x4-99x68"], 0, out)

    assert r"<b>Rye</b>\(1)&amp;" in text_of(out)[0]


def test_progress_counts_the_labels(stocks: Mapping[str, LabelStock], label: MakeLabel) -> None:
    """The caller hears of every label as it is set."""
    heard: list[tuple[int, int]] = []

    write_labels(
        [label(n) for n in range(3)], stocks["a4-3x7-64x38"], 0, BytesIO(),
        progress=lambda done, of: heard.append((done, of)),
    )  # fmt: skip

    assert heard == [(1, 3), (2, 3), (3, 3)]


def test_work_stopped_half_way_leaves_no_file(
    stocks: Mapping[str, LabelStock], label: MakeLabel, tmp_path: Path
) -> None:
    """What the progress listener raises ends the work before anything is written."""

    def stop(done: int, of: int) -> NoReturn:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        write_labels([label(1)], stocks["a4-3x7-64x38"], 0, tmp_path / "labels.pdf", progress=stop)

    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_is_a_trouble_and_the_old_sheet_stays(
    stocks: Mapping[str, LabelStock],
    label: MakeLabel,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """When the disk is full the person reads why and what to do; the old file is untouched."""
    out = tmp_path / "labels.pdf"
    out.write_bytes(b"the old sheet")

    def full(_: int) -> NoReturn:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Trouble) as trouble:
        write_labels([label(1)], stocks["a4-3x7-64x38"], 0, out)

    assert "the disk is full" in trouble.value.sentence
    assert out.read_bytes() == b"the old sheet"
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.parametrize(
    ("count", "first_cell", "offset_mm", "words"),
    [
        (0, 0, (0.0, 0.0), "no label to print"),
        (1, 21, (0.0, 0.0), "First label 22 is not on the sheet. Choose 1 to 21."),
        (1, -1, (0.0, 0.0), "not on the sheet"),
        (1, 0, (0.0, 5.5), "5.5 mm down is more than 5 mm"),
        (1, 0, (float("nan"), 0.0), "offset"),
    ],
)
def test_impossible_requests_are_refused_in_words(
    count: int,
    first_cell: int,
    offset_mm: tuple[float, float],
    words: str,
    stocks: Mapping[str, LabelStock],
    label: MakeLabel,
) -> None:
    """What cannot be printed is refused with what is wrong, the figure and the cure."""
    labels = [label(n) for n in range(count)]

    with pytest.raises(ValueError, match=words):
        write_labels(labels, stocks["a4-3x7-64x38"], first_cell, BytesIO(), offset_mm=offset_mm)


def test_each_label_leaves_the_page_as_it_found_it(
    stocks: Mapping[str, LabelStock], label: MakeLabel, pages: Pages
) -> None:
    """The same label looks the same in a cell whatever labels came before it."""
    stock = stocks["letter-2x5-102x51"]
    alone, last = BytesIO(), BytesIO()
    before = [label(n, food="Rye", caution="Keep cool.") for n in range(2, 9)]

    write_labels([label(1)], stock, 7, alone)
    write_labels([*before, label(1)], stock, 0, last)

    assert np.array_equal(
        _inside(pages(alone, 150)[0], stock, 7, 0.5), _inside(pages(last, 150)[0], stock, 7, 0.5)
    )


# --------------------------------------------------------------------------------------------
# Eyes


def _numbered(label: LabelText, identity: str) -> LabelText:
    """The same contents in another pouch."""
    code = re.sub(r"K7M2-\d+", identity, label.code)
    return replace(label, identity=f"Pouch {identity}", code=code)


def _codes(page: np.ndarray) -> list[zxingcpp.Barcode]:
    return list(zxingcpp.read_barcodes(page, zxingcpp.BarcodeFormat.QRCode))


def _inside(page: np.ndarray, stock: LabelStock, cell: int, inset_mm: float) -> np.ndarray:
    """The part of the picture within one cell, less `inset_mm` on every side."""
    dots = page.shape[1] / stock.page_size_mm[0]
    x, y = stock.cell_origin_mm(cell)
    top, bottom = y + inset_mm, y + stock.label_height_mm - inset_mm
    left, right = x + inset_mm, x + stock.label_width_mm - inset_mm
    return page[round(top * dots) : round(bottom * dots), round(left * dots) : round(right * dots)]


def _has_ink(page: np.ndarray, stock: LabelStock, cell: int) -> bool:
    return bool(_inside(page, stock, cell, 1.0).min() < 128)


def _first_ink(page: np.ndarray) -> np.ndarray:
    """Row and column where ink begins."""
    rows, columns = np.nonzero(page < 128)
    return np.array([rows.min(), columns.min()])


def _missing(label: LabelText, text: str) -> list[str]:
    """The lines of `label` that are not in `text`, both without spaces and hyphens."""

    def bare(words: str) -> str:
        return "".join(words.split()).replace("-", "")

    return [name for name in PRINTED if bare(getattr(label, name)) not in bare(text)]


def _stock(columns: int, rows: int, width: float, height: float) -> LabelStock:
    """A sheet of small labels on A4."""

    def mm(value: float) -> Figure:
        return Figure(value, "mm", "a test", Grade.OWN, value, value)

    return LabelStock(
        key="small", name="small", columns=columns, rows=rows,
        page_width=mm(210.0), page_height=mm(297.0), label_width=mm(width),
        label_height=mm(height), left_margin=mm(4.75), top_margin=mm(10.7),
        column_pitch=mm(40.6), row_pitch=mm(21.2), corner_radius=mm(1.0),
    )  # fmt: skip
