"""The face: what it prints, what it lacks, and how texts are made ready for it."""

from __future__ import annotations

import subprocess
import sys
from io import BytesIO

import numpy as np
import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from packdesk.paper.fonts import (
    BOLD,
    REGULAR,
    SEMIBOLD,
    lacking,
    lead,
    printable,
    register_faces,
    rise,
    text_width,
)


def test_signs_of_the_trade_and_of_europe_can_be_printed() -> None:
    """Everything that labels and records use is in the face."""
    signs = "° ² ³ − × ± ≤ ≥ ≈ → ½ ⅔ ő Ž ğ ş å œ Ł ẞ Ж Ω µ – — ‘ ’ “ ” … № ✓ \u202f\u00a0"

    assert lacking(signs) == ""


def test_characters_beyond_the_face_are_named_once_each() -> None:
    """Missing characters come in order of appearance, without repetition."""
    assert lacking("日本 rice 本日 ข") == "日本ข"


def test_letters_in_parts_are_put_together() -> None:
    """An accent typed after its letter makes the one letter that the face has."""
    assert printable("o\u030b") == "ő"
    assert lacking("o\u030b") == ""


@pytest.mark.parametrize(
    ("typed", "set_as"),
    [
        ("two\nlines\tand  more ", "two lines and more"),
        ("1.25\u00a0kg, 20\u202f°C", "1.25\u00a0kg, 20\u202f°C"),
        ("soft\u00adhyphen\u200b\x07", "softhyphen"),
        ("thin\u2009space", "thin space"),
        ("K7M2\u2011017", "K7M2-017"),
        ("", ""),
    ],
)
def test_texts_are_made_plain(typed: str, set_as: str) -> None:
    """Line ends and odd spaces become plain spaces, invisible characters go, no-break ones stay."""
    assert printable(typed) == set_as


def test_figures_are_of_one_width() -> None:
    """Columns of figures line up, and labels that differ in a figure share one layout."""
    for face in (REGULAR, SEMIBOLD):
        assert len({text_width(figure, face) for figure in "0123456789"}) == 1


def test_accented_capitals_stand_higher() -> None:
    """A line with accented capitals asks for more room above."""
    assert rise("Ősz") > rise("ősz") > rise("Osz") == rise("Rice (long)")


@pytest.mark.parametrize("char", [*"ÅŐάűjfĩǗ[", "ì"])
@pytest.mark.parametrize("face", [REGULAR, SEMIBOLD, BOLD])
def test_ink_is_where_the_font_file_says(char: str, face: str) -> None:
    """A character drawn large is inked no higher and no wider than is reckoned with."""
    out = BytesIO()
    register_faces()
    canvas = Canvas(out, pagesize=(300, 300))
    canvas.setFont(face, 100.0)
    canvas.drawString(100 + 100 * lead(char, face), 100, char)
    canvas.save()

    page = pypdfium2.PdfDocument(out.getvalue())[0].render(scale=4, grayscale=True).to_numpy()
    rows, columns = np.nonzero(page < 128)
    assert (1200 - rows.min()) / 4 - 100 <= 100 * rise(char) + 0.5
    assert columns.min() / 4 >= 100 - 0.5
    assert (columns.max() + 1) / 4 <= 100 + 100 * text_width(char, face) + 0.5


def test_the_face_is_read_only_when_needed() -> None:
    """Importing the room's fonts reads no font file."""
    code = (
        "import packdesk.paper.fonts as f; from reportlab.pdfbase import pdfmetrics as m; "
        "assert f.REGULAR not in m.getRegisteredFontNames(); f.register_faces(); "
        "assert f.REGULAR in m.getRegisteredFontNames()"
    )

    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
