"""Codes: what they hold, how large they are, and that an independent reader agrees."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import numpy as np
import pytest
import zxingcpp

from packdesk.paper.blank_pdf import blank_pdf
from packdesk.paper.qr import qr_code


@pytest.mark.parametrize(
    "text",
    [
        "PACKDESK POUCH K7M2-017 / HARD WHEAT / 1250 G / PACKED 2026-11-25",
        "Őszi búza, Κριθάρι, пшеница, 小麦",
        "a" * 150,
        "7",
    ],
)
def test_a_code_reads_back_from_paper(
    text: str, pages: Callable[[BytesIO, int], list[np.ndarray]]
) -> None:
    """Any text, also beyond ASCII, is read from the rendered page as it was given."""
    out = BytesIO()
    canvas = blank_pdf(out, (60.0, 60.0), "a code")
    canvas.addLiteral(qr_code(text).operators(30.0, 30.0, 100.0))
    canvas.save()

    (read,) = zxingcpp.read_barcodes(pages(out, 300)[0])

    assert read.text == text
    assert read.extra["ECLevel"] == "M"


@pytest.mark.parametrize(
    ("characters", "modules"), [(14, 21), (15, 25), (26, 25), (27, 29), (42, 29), (62, 33),
                                (84, 37), (106, 41), (107, 45)],
)  # fmt: skip
def test_the_smallest_code_is_chosen(characters: int, modules: int) -> None:
    """Level M holds 14, 26, 42, 62, 84 and 106 bytes in the first six sizes (ISO/IEC 18004)."""
    assert qr_code("x" * characters).modules == modules


def test_a_code_that_holds_nothing_is_refused() -> None:
    """An empty text is refused in words."""
    with pytest.raises(ValueError, match="is empty"):
        qr_code("")


def test_a_text_beyond_every_code_is_refused() -> None:
    """A text longer than the largest code is refused with its length."""
    with pytest.raises(ValueError, match="3000 characters, more than any code can hold"):
        qr_code("x" * 3000)
