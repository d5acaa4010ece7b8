"""Which face the paper is set in, how wide its words run, and what it cannot print."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache

import font_source_sans_pro
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "SourceSansPro"
SEMIBOLD = "SourceSansProSemibold"
BOLD = "SourceSansProBold"

_RISE = 0.76
"""From a line's top down to its baseline, in units of the text size: ascenders, brackets."""

_TALL_RISE = 0.94
"""The same for a line with accented capitals."""

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
    """How far the ink of `text` may stand above its baseline, in units of the text size."""
    tall = any(char.isupper() and unicodedata.decomposition(char) for char in text)
    return _TALL_RISE if tall else _RISE


@lru_cache(maxsize=4096)
def text_width(text: str, face: str) -> float:
    """How wide `text` runs at a size of 1 point, in points."""
    register_faces()
    return pdfmetrics.stringWidth(text, face, 1.0)


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
