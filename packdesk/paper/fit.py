"""How a text is set within a width: on one line, on several, smaller; and when it cannot be."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from packdesk.paper.fonts import text_width

_UNIT = (
    "%|°C|°F|mm|cm|m|ft|L|gal|g|kg|lb|oz|cc|d|h|min|s|K|years?|months?|weeks?|days?|µm|"
    "g/cc|kg/m³|cc/|W/|J/"
)
_TIED = re.compile(
    rf"(?<=[\d)+]) (?=(?:{_UNIT})(?![A-Za-z]))|(?<=\d) (?=[×x] ?\d)|(?<=[×±]) (?=\d)"
    r"|(?<=\d{4}-\d\d-\d\d) (?=\d\d:\d\d)|(?<=\(m) (?=K\))|(?<=\(kg) (?=K\))"
    r"|(?<=\(m²) (?=K\)|day\))|(?<= lb) (?=\d)|(?<=[Ll]ot) (?=\d{4}-\d)"
)


@lru_cache(maxsize=4096)
def tied(text: str) -> str:
    """The text with no-break spaces between figure and unit, date and time: no line ends there."""
    return _TIED.sub("\u00a0", text)


@lru_cache(maxsize=4096)
def wrap(text: str, face: str, width_em: float, break_words: bool = False) -> tuple[str, ...]:
    """The lines of `text` within `width_em` (width over text size); empty when it cannot be set.

    Lines end at plain spaces only. A word wider than the line makes the answer empty, unless
    `break_words` allows it to go on in the next line; a hyphen then marks a break between two
    letters. Nothing is ever left out.
    """
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if text_width(longer, face) <= width_em:
            line = longer
            continue
        if line:
            lines.append(line)
        pieces = [word]
        if text_width(word, face) > width_em:
            pieces = _pieces(word, face, width_em) if break_words else []
            if not pieces:
                return ()
        lines += pieces[:-1]
        line = pieces[-1]
    return (*lines, line)


def _pieces(word: str, face: str, width_em: float) -> list[str]:
    """The word in parts that fit the width; empty when not even one character does."""
    room = width_em - text_width("-", face)
    pieces = []
    start = 0
    while text_width(word[start:], face) > width_em:
        end = start
        while text_width(word[start : end + 1], face) <= room:
            end += 1
        if end == start:
            return []
        hyphen = "-" if word[end - 1].isalpha() and word[end].isalpha() else ""
        pieces.append(word[start:end] + hyphen)
        start = end
    return [*pieces, word[start:]]


def shrink(
    text: str, face: str, sizes_pt: Sequence[float], width_pt: float, most_lines: int
) -> tuple[float, tuple[str, ...]]:
    """The first of `sizes_pt` at which `text` takes at most `most_lines`, and its lines.

    Without one the last size stands, with as many lines as it takes and long words broken.
    """
    for size in sizes_pt:
        lines = wrap(text, face, width_pt / size)
        if lines and len(lines) <= most_lines:
            return size, lines
    return sizes_pt[-1], wrap(text, face, width_pt / sizes_pt[-1], break_words=True)
