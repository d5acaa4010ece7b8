"""Texts of a label below one another: how large each is set, on which lines, side by side where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from packdesk.paper.fit import shrink, wrap
from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, lead, rise, text_width
from packdesk.present.label_design import LabelField

LEAST_PT = 6.0
"""No text is smaller; its x-height is 1 mm."""

_HEAD_PT, _LEAST_HEAD_PT = 17.0, 8.0
"""Size of the first text of an ordinary label, and the least it may have."""

_HEAD_LINES = 2
_HEAD_SHRINKS = (1.0, 0.88, 0.77, 0.68, 0.6, 0.5, 0.42, 0.36, 0.3)


class _Type(NamedTuple):
    """How the text of a field is set on an ordinary label when it is not the first."""

    face: str
    size: float = 8.5
    least: float = LEAST_PT


_TYPES = {
    LabelField.FOOD: _Type(BOLD, 12.0, 7.5),
    LabelField.MASS: _Type(SEMIBOLD, 12.0, 7.5),
    LabelField.PACKED: _Type(REGULAR),
    LabelField.BEST_QUALITY: _Type(SEMIBOLD),
    LabelField.IDENTITY: _Type(SEMIBOLD),
    LabelField.LOT: _Type(REGULAR),
    LabelField.PAIL: _Type(REGULAR),
    LabelField.ABSORBERS: _Type(REGULAR),
    LabelField.ALLERGENS: _Type(BOLD),
    LabelField.CAUTION: _Type(SEMIBOLD),
    LabelField.ADVICE: _Type(REGULAR),
}


class Way(NamedTuple):
    """One way to set a label: scale of its text, module of its code, how close its lines stand."""

    scale: float
    module_mm: float
    paired: bool = False
    """Two short texts that follow one another share a line where both fit on it."""
    leading: float = 1.16


class Text(NamedTuple):
    """One field that says something, as paper takes it."""

    field: LabelField
    words: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of text: where its baseline starts, from the label's top left corner (pt)."""

    x: float
    y: float
    face: str
    size: float
    text: str


@dataclass(frozen=True, slots=True)
class Block:
    """Lines below one another from a height of 0, and how high they stand together."""

    lines: tuple[tuple[LabelField, Line], ...]
    height: float

    def lowered(self, by: float) -> list[tuple[LabelField, Line]]:
        """The same lines further down."""
        return [
            (field, Line(line.x, line.y + by, line.face, line.size, line.text))
            for field, line in self.lines
        ]


class _Piece(NamedTuple):
    """One text wrapped into lines, and how wide the widest is (pt)."""

    field: LabelField
    face: str
    size: float
    lines: tuple[str, ...]
    width: float


def block(
    texts: Sequence[Text], left: float, width: float, way: Way, head_scale: float | None = None
) -> Block | None:
    """Texts below one another; with `head_scale` the first of them is the label's largest."""
    pieces = []
    for at, text in enumerate(texts):
        largest = head_scale is not None and at == 0
        piece = (
            _largest(text, width, way, head_scale or 1.0) if largest else _piece(text, width, way)
        )
        if piece is None:
            return None
        pieces.append(piece)
    return _stack(pieces, left, width, way)


def _largest(text: Text, width: float, way: Way, scale: float) -> _Piece | None:
    """The first text of a label; None when it would not stand out from the one below it."""
    sizes = (_HEAD_PT * way.scale * scale * part for part in _HEAD_SHRINKS)
    usable = (*(size for size in sizes if size > _LEAST_HEAD_PT), _LEAST_HEAD_PT)
    most_lines = 1 if text.field is LabelField.IDENTITY else _HEAD_LINES
    size, lines = shrink(text.words, BOLD, usable, width, most_lines)
    mass = _TYPES[LabelField.MASS]
    if not lines or size <= max(mass.size * way.scale, mass.least) * min(scale, 1.0):
        return None
    return _measured(text.field, BOLD, size, lines)


def _piece(text: Text, width: float, way: Way) -> _Piece | None:
    """One text at the scale of this try; None when it needs smaller print."""
    face, ordinary, least = _TYPES[text.field]
    size = max(ordinary * way.scale, least)
    breaks = size == least and text.field is not LabelField.IDENTITY
    lines = wrap(text.words, face, width / size, break_words=breaks)
    return _measured(text.field, face, size, lines) if lines else None


def _measured(field: LabelField, face: str, size: float, lines: tuple[str, ...]) -> _Piece | None:
    if field is LabelField.IDENTITY and len(lines) > 1:
        return None
    return _Piece(field, face, size, lines, max(text_width(line, face) for line in lines) * size)


def _stack(pieces: Sequence[_Piece], left: float, width: float, way: Way) -> Block:
    """Texts below one another, or two at both ends of one line."""
    placed: list[tuple[LabelField, Line]] = []
    y = 0.0
    waiting = list(pieces)
    while waiting:
        piece = waiting.pop(0)
        for text in piece.lines:
            above = rise(text) * piece.size
            x = left + lead(text, piece.face) * piece.size
            placed.append((piece.field, Line(x, y + above, piece.face, piece.size, text)))
            y += above + (way.leading - rise("")) * piece.size
        if waiting and _share(piece, waiting[0], width, way):
            second = waiting.pop(0)
            (text,), baseline = second.lines, placed[-1][1].y
            x = left + width - second.width + lead(text, second.face) * second.size
            placed.append((second.field, Line(x, baseline, second.face, second.size, text)))
    return Block(tuple(placed), y)


def _share(first: _Piece, second: _Piece, width: float, way: Way) -> bool:
    """Whether two texts go on one line: the identity and its neighbour always where they fit."""
    return (
        (way.paired or LabelField.IDENTITY in (first.field, second.field))
        and len(first.lines) == len(second.lines) == 1
        and first.width + first.size + second.width <= width
    )
