"""Which face the paper is set in, how wide its words run, and what it cannot print."""

from __future__ import annotations

import struct
import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any, NamedTuple

import font_source_sans_pro
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "SourceSansPro"
SEMIBOLD = "SourceSansProSemibold"
BOLD = "SourceSansProBold"

_RISE = 0.76
"""From a line's top down to its baseline, in units of the text size: ascenders, brackets."""

_KEPT_SPACES = "\u00a0\u202f"
_HYPHENS = {0x2010: "-", 0x2011: "-"}


@cache
def register_faces() -> None:
    """Make the three weights known to reportlab; done when first needed, then never again."""
    for face in (REGULAR, SEMIBOLD, BOLD):
        pdfmetrics.registerFont(_font(face))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD)


@lru_cache(maxsize=4096)
def rise(text: str) -> float:
    """How far the ink of `text` may stand above its baseline, in units of the text size.

    That of the heaviest weight, in which accents stand highest.
    """
    ink = _ink(BOLD)
    return max((ink[ord(char)].top for char in text if ord(char) in ink), default=_RISE)


@lru_cache(maxsize=4096)
def text_width(text: str, face: str) -> float:
    """How wide `text` runs at a size of 1 point, in points, ink that reaches out included."""
    register_faces()
    beyond = _ink(face).get(ord(text[-1]), _NO_INK).beyond if text else 0.0
    return pdfmetrics.stringWidth(text, face, 1.0) + lead(text, face) + beyond


@lru_cache(maxsize=4096)
def lead(text: str, face: str) -> float:
    """How far the ink of `text` reaches to the left of where it is set, at a size of 1 point."""
    return _ink(face).get(ord(text[0]), _NO_INK).before if text else 0.0


@lru_cache(maxsize=4096)
def printable(text: str) -> str:
    """The text as paper takes it: composed letters, plain spaces, no control characters.

    No-break spaces stay, so that a number is not parted from its unit.
    """
    if text.isascii() and text.isprintable():
        return " ".join(word for word in text.split(" ") if word)
    composed = unicodedata.normalize("NFC", text).translate(_HYPHENS)
    kept = (
        " " if char.isspace() and char not in _KEPT_SPACES else char
        for char in composed
        if char.isspace() or unicodedata.category(char) not in ("Cc", "Cf")
    )
    return " ".join(word for word in "".join(kept).split(" ") if word)


class _Ink(NamedTuple):
    """How far a character's ink reaches out of its own width to either side, and how high."""

    before: float
    beyond: float
    top: float


_NO_INK = _Ink(0.0, 0.0, _RISE)


@cache
def _ink(face: str) -> Mapping[int, _Ink]:
    """The ink of every character with an outline, in units of the text size.

    Read from the bounding boxes of the font file itself. Source: ISO/IEC 14496-22, tables head
    (units per em at 18, format of loca at 50) and glyf (xMin, yMin, xMax, yMax from 2).
    """
    font: Any = _font(face).face
    head, loca, glyf = (font.get_table(name) for name in ("head", "loca", "glyf"))
    (per_em,) = struct.unpack_from(">H", head, 18)
    (wide,) = struct.unpack_from(">h", head, 50)
    starts = [each[0] * (1 if wide else 2) for each in struct.iter_unpack(">I" if wide else ">H",
                                                                          loca)]  # fmt: skip
    found = {}
    for char, glyph in font.charToGlyph.items():
        if starts[glyph + 1] > starts[glyph]:
            left, _, right, top = struct.unpack_from(">4h", glyf, starts[glyph] + 2)
            beyond = right / per_em - font.charWidths[char] / 1000.0
            found[char] = _Ink(max(-left / per_em, 0.0), max(beyond, 0.0), max(top / per_em, _RISE))
    return found


@cache
def _font(face: str) -> TTFont:
    return TTFont(face, font_source_sans_pro.font_files_ttf[face])


@lru_cache(maxsize=4096)
def lacking(text: str) -> str:
    """The characters of `text` that the face cannot print, each once, in order of appearance."""
    if text.isascii():
        return ""
    known = _font(REGULAR).face.charToGlyph
    return "".join(dict.fromkeys(char for char in printable(text) if ord(char) not in known))
