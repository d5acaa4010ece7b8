"""The papers as the desk's port wants them."""

from __future__ import annotations

import errno
import os
from dataclasses import replace
from pathlib import Path
from typing import NoReturn

import pytest

from packdesk.app.papers import PdfPapers
from packdesk.catalog.read import read_catalog
from packdesk.desk.ports import Stopped, Trouble
from packdesk.present.measured_stock import MeasuredSheet, measured_stock
from packdesk.present.outlines import RecordOutline
from packdesk.present.papers import LabelText

STOCKS = read_catalog()[0].label_stocks
A4 = STOCKS["a4-3x7-64x38"]
SHEET = MeasuredSheet(210.0, 297.0, 2, 5, 90.0, 50.0, 10.0, 20.0, 5.0, 1.0)


def _label(number: int, **words: str) -> LabelText:
    said = LabelText(
        number, "Wheat", "1 kg", "Packed 2026-11-25", "Best quality until 2056+",
        f"Pouch K7M2-{number:03d}", "Lot 1", code=f"POUCH K7M2-{number:03d}",
    )  # fmt: skip
    return replace(said, **words)


def test_labels_refused_for_one_reason_are_told_together(tmp_path: Path) -> None:
    """Forty labels too long for a stock make one sentence, with the stock that has room."""
    papers = PdfPapers(tuple(STOCKS.values()))
    long = "Keep below 20 °C and look at it every month. " * 6

    made = papers.labels(
        [_label(n, caution=long) for n in range(1, 41)],
        STOCKS["letter-3x10-67x25"],
        0,
        tmp_path / "labels.pdf",
    )

    (refused,) = made.refused
    assert refused.startswith("Pouches 1 to 40: the words do not fit")
    assert "There is room on US Letter, 2 × " in refused
    assert made.labels == 0
    assert list(tmp_path.iterdir()) == []


def test_signs_the_face_lacks_are_named_with_their_pouches(tmp_path: Path) -> None:
    """The person reads which signs print as an empty box, and what can be printed."""
    made = PdfPapers().labels(
        [_label(1), _label(2, food="小麦"), _label(3, food="小麦")], A4, 0, tmp_path / "labels.pdf"
    )

    (remark,) = made.remarks
    assert remark.startswith("Pouches 2 and 3: the shipped face has no sign for “小麦”")
    assert "Latin, Greek and Cyrillic are covered" in remark


def test_a_job_that_is_stopped_leaves_no_file(tmp_path: Path) -> None:
    """Labels and record both stop where their listener says so."""

    def stop(done: int, of: int) -> NoReturn:
        raise Stopped

    with pytest.raises(Stopped):
        PdfPapers().labels([_label(1)], A4, 0, tmp_path / "labels.pdf", progress=stop)
    with pytest.raises(Stopped):
        PdfPapers().record(RecordOutline("", ""), "A4", tmp_path / "record.pdf", progress=stop)

    assert list(tmp_path.iterdir()) == []


def test_a_table_says_that_it_is_utf_8(tmp_path: Path) -> None:
    """The mark in front lets any spreadsheet read the letters rightly."""
    out = tmp_path / "pouches.csv"

    PdfPapers().table("food\r\nŐszi búza\r\n", out)

    assert out.read_bytes().startswith(b"\xef\xbb\xbf")
    assert out.read_text(encoding="utf-8-sig") == "food\nŐszi búza\n"


def test_a_measured_stock_is_kept_beside_those_kept_before(tmp_path: Path) -> None:
    """The own catalogue has both, after the folder was made for the first."""
    folder = tmp_path / "catalog"
    papers = PdfPapers(own_catalog=folder)
    first = measured_stock(SHEET, STOCKS)
    assert not isinstance(first, tuple)
    papers.keep_stock(first)
    second = measured_stock(SHEET, {**STOCKS, first.key: first})
    assert not isinstance(second, tuple)
    papers.keep_stock(second)

    catalog, faults = read_catalog(folder)

    assert faults == ()
    assert {first.key, second.key} <= set(catalog.label_stocks)
    assert second.key == f"{first.key}-2"


def test_what_stood_in_the_own_catalogue_stays(tmp_path: Path) -> None:
    """A person's own lines and remarks are kept above the new entry."""
    own = '# mine\n[a4-3x7-64x38]\nleft_margin = "8 mm"\n'
    (tmp_path / "label_stock.toml").write_text(own, encoding="utf-8")
    stock = measured_stock(SHEET, STOCKS)
    assert not isinstance(stock, tuple)

    PdfPapers(own_catalog=tmp_path).keep_stock(stock)

    catalog, faults = read_catalog(tmp_path)
    assert faults == ()
    assert catalog.label_stocks["a4-3x7-64x38"].left_margin.value == 8.0
    assert (tmp_path / "label_stock.toml").read_text(encoding="utf-8").startswith(own)


def test_a_full_disk_leaves_the_own_catalogue_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing that was kept before is lost when a new stock cannot be written."""
    file = tmp_path / "label_stock.toml"
    file.write_text("# mine\n", encoding="utf-8")
    stock = measured_stock(SHEET, STOCKS)
    assert not isinstance(stock, tuple)

    def full(_: int) -> NoReturn:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Trouble, match="the disk is full"):
        PdfPapers(own_catalog=tmp_path).keep_stock(stock)

    assert file.read_text(encoding="utf-8") == "# mine\n"
    assert list(tmp_path.iterdir()) == [file]


def test_without_a_folder_of_ones_own_a_stock_is_not_kept() -> None:
    """A rehearsal has no catalogue of its own, and says so."""
    with pytest.raises(Trouble, match="no folder for a catalogue"):
        PdfPapers().keep_stock(A4)
