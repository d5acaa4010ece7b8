"""Labels of invented contents, the shipped stocks, and eyes: pages as pictures and as text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from io import BytesIO
from typing import Any

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from numpy.typing import NDArray

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import read_catalog
from packdesk.present.papers import LabelText

Picture = NDArray[np.uint8]


@pytest.fixture(scope="session")
def stocks() -> Mapping[str, LabelStock]:
    """Every label stock that ships."""
    return read_catalog()[0].label_stocks


@pytest.fixture(scope="session")
def label() -> Callable[..., LabelText]:
    """Makes the label of pouch `number`, any of its lines changed."""

    def make(number: int = 1, **changed: str) -> LabelText:
        words = {
            "food": "Hard red wheat",
            "mass": "1.25 kg",
            "packed": "2026-11-25 packed",
            "best_quality": "Best quality to 2046–2056",
            "identity": f"Pouch K7M2-{number:03d}",
            "lot": "Lot 2611-1",
            "pail": "",
            "absorbers": "1 × 500 cc oxygen absorber",
            "allergens": "Contains WHEAT",
            "caution": "",
            "advice": "Take out the absorber before cooking.",
            "code": (
                f"PACKDESK POUCH K7M2-{number:03d} / HARD RED WHEAT / 1250 G "
                "/ PACKED 2026-11-25 / BEST TO 2046-2056 / LOT 2611-1"
            ),
        }
        return LabelText(pouch=number, **(words | changed))

    return make


@pytest.fixture(scope="session")
def hardest() -> dict[str, str]:
    """The hardest contents expected: three scripts, five allergens, a long caution."""
    food = "Κριθάρι, пшеница, Őszi búza, Ångrön äkta"
    assert len(food) == 40
    return {
        "food": food,
        "pail": "Pail cellar, second shelf",
        "absorbers": "2 × 300 cc oxygen absorbers, placed 14:02",
        "allergens": "Contains WHEAT, BARLEY, SOYA, SESAME, LUPIN",
        "caution": (
            "Packed above 10 % moisture: check the seal every month and use within one year."
        ),
        "code": "PACKDESK POUCH K7M2-017 / ΚΡΙΘΑΡΙ ПШЕНИЦА ŐSZI BÚZA / 1250 G / PACKED 2026-11-25",
    }


@pytest.fixture(scope="session")
def pages() -> Callable[..., list[Picture]]:
    """Renders each page of a PDF in grey at so many dots per inch."""

    def render(pdf: bytes | BytesIO, dpi: int) -> list[Picture]:
        return [page.render(scale=dpi / 72, grayscale=True).to_numpy() for page in _document(pdf)]

    return render


@pytest.fixture(scope="session")
def text_of() -> Callable[[Any], list[str]]:
    """Extracts the text of each page of a PDF, without spaces and line ends."""

    def extract(pdf: bytes | BytesIO) -> list[str]:
        return ["".join(page.get_textpage().get_text_bounded().split()) for page in _document(pdf)]

    return extract


@pytest.fixture(scope="session")
def stands_clear() -> Callable[[Picture, zxingcpp.Barcode, int], None]:
    """Asserts that a code has modules of 0.34 mm or more and four white ones on every side."""

    def look(page: Picture, code: zxingcpp.Barcode, dpi: int) -> None:
        left, top = code.position.top_left.x, code.position.top_left.y
        right, bottom = code.position.bottom_right.x, code.position.bottom_right.y
        module = (right - left + 1) / (4 * int(code.extra["Version"]) + 17)
        assert module >= 0.34 * dpi / 25.4 - 0.1
        quiet = int(4 * module) - 2
        around = page[top - quiet : bottom + quiet + 1, left - quiet : right + quiet + 1].copy()
        around[quiet - 2 : -quiet + 2, quiet - 2 : -quiet + 2] = 255
        assert around.min() > 200

    return look


def _document(pdf: bytes | BytesIO) -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(pdf if isinstance(pdf, bytes) else pdf.getvalue())
