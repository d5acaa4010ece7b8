"""Pages as pictures for the screen."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import pytest
import zxingcpp

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import PagePicture, Trouble
from packdesk.paper.label_sheet import write_labels
from packdesk.paper.preview import label_picture, page_picture
from packdesk.present.label_design import LabelDesign
from packdesk.present.papers import LabelText

MakeLabel = Callable[..., LabelText]


def _pixels(picture: PagePicture) -> np.ndarray:
    """The blue, green and red of each pixel."""
    rows = np.frombuffer(picture.pixels, np.uint8).reshape(picture.height_px, picture.stride)
    return rows[:, : 4 * picture.width_px].reshape(picture.height_px, picture.width_px, 4)[..., :3]


@pytest.fixture
def sheet(stocks: Mapping[str, LabelStock], label: MakeLabel, tmp_path: Path) -> Path:
    """Two sheets of labels."""
    out = tmp_path / "labels.pdf"
    write_labels([label(n) for n in range(25)], stocks["a4-3x7-64x38"], 0, out)
    return out


def test_a_page_is_shown_as_wide_as_asked_in_its_own_proportions(sheet: Path) -> None:
    """A page of A4, 840 px wide, is 1188 px high; what is not printed is white."""
    picture = page_picture(sheet, 0, 840)

    assert (picture.width_px, picture.page, picture.pages) == (840, 0, 2)
    assert picture.height_px == pytest.approx(840 * 297 / 210, abs=1)
    pixels = _pixels(picture)
    assert pixels[:10].min() == 255
    assert pixels.min() < 50


def test_the_second_page_is_another_picture(sheet: Path) -> None:
    """Each page shows what it holds: the second sheet has four labels."""
    first, second = (_pixels(page_picture(sheet, page, 400)) for page in (0, 1))

    assert (first < 128).sum() > 3 * (second < 128).sum() > 0


def test_the_live_preview_is_the_label_as_it_will_be_printed(
    stocks: Mapping[str, LabelStock], label: MakeLabel
) -> None:
    """One label alone, in the proportions of its stock, with a code that reads back."""
    stock = stocks["a4-3x7-64x38"]

    picture = label_picture(label(7), stock, 900)

    assert isinstance(picture, PagePicture)
    assert picture.height_px == pytest.approx(900 * 38.1 / 63.5, abs=1)
    (code,) = zxingcpp.read_barcodes(_pixels(picture).mean(axis=2).astype(np.uint8))
    assert code.text == label(7).code


def test_the_live_preview_follows_the_design(
    stocks: Mapping[str, LabelStock], label: MakeLabel
) -> None:
    """Another design is another picture."""
    stock = stocks["a4-2x4-99x68"]

    usual, smaller = (
        label_picture(label(7), stock, 600, design=design)
        for design in (LabelDesign(), LabelDesign(food_scale=0.5))
    )

    assert isinstance(usual, PagePicture)
    assert isinstance(smaller, PagePicture)
    assert usual.pixels != smaller.pixels


def test_a_label_that_cannot_be_is_said_instead_of_shown(
    stocks: Mapping[str, LabelStock], label: MakeLabel
) -> None:
    """Where the words do not fit, the preview is the reason."""
    said = label_picture(label(1, caution="long " * 200), stocks["letter-3x10-67x25"], 600)

    assert isinstance(said, str)
    assert "do not fit" in said


def test_a_page_that_is_not_there_is_refused(sheet: Path) -> None:
    """The third page of two is asked for in vain."""
    with pytest.raises(ValueError, match="Page 3 is not there; the file has 2 pages"):
        page_picture(sheet, 2, 400)


@pytest.mark.parametrize("width", [0, -5, 100_000])
def test_a_picture_of_no_size_or_too_large_is_refused(width: int, sheet: Path) -> None:
    """Memory is not filled by a slip."""
    with pytest.raises(ValueError, match="Ask for 1 to 8000"):
        page_picture(sheet, 0, width)


def test_a_file_that_is_gone_or_no_pdf_is_a_trouble(tmp_path: Path) -> None:
    """The person reads which file, and what to do."""
    odd = tmp_path / "odd.pdf"
    odd.write_bytes(b"not a pdf")

    for path in (tmp_path / "gone.pdf", odd):
        with pytest.raises(Trouble) as trouble:
            page_picture(path, 0, 400)
        assert str(path) in trouble.value.sentence
        assert trouble.value.cure == "Make it again."
