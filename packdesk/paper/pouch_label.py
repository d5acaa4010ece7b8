"""Where everything stands on one pouch label; nothing is cut, what cannot fit is said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from packdesk.paper.fit import shrink, wrap
from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, lead, printable, rise, text_width
from packdesk.paper.page_sizes import MM
from packdesk.paper.qr import QUIET_MODULES
from packdesk.present.label_design import LEAST_MODULE_MM, STANDARD, LabelDesign, LabelField
from packdesk.present.papers import LabelText

INSET_MM = 3.0
"""Ink keeps this far from the label's edge: printers feed a sheet to a millimetre or so."""

SEAM_GAP_PT = 1.7
"""Between the two thin lines that part what the pouch holds from what to know about it."""

_LEAST_PT = 6.0
"""No text is smaller; its x-height is 1 mm."""

_HEAD_PT, _LEAST_HEAD_PT = 17.0, 8.0
"""Size of the first text of an ordinary label, and the least it may have."""

_HEAD_LINES = 2
_HEAD_SHRINKS = (1.0, 0.88, 0.77, 0.68, 0.6, 0.5, 0.42, 0.36, 0.3)

_SEAM_ROOM_PT, _LEAST_SEAM_ROOM_PT = 2.8, 1.4
"""Above and below the two lines on an ordinary label, and at least."""

_COLUMN_GAP_PT = 6.0

_DIGIT = re.compile(r"\d")


class _Type(NamedTuple):
    """How the text of a field is set on an ordinary label when it is not the first."""

    face: str
    size: float = 8.5
    least: float = _LEAST_PT


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


class _Try(NamedTuple):
    """One way to set a label: scale of its text, module of its code, how close its lines stand."""

    scale: float
    module_mm: float
    paired: bool = False
    """Two short texts that follow one another share a line where both fit on it."""
    leading: float = 1.16


_TRIES = (
    _Try(2.4, 0.60), _Try(2.2, 0.60), _Try(2.0, 0.60), _Try(1.8, 0.60), _Try(1.7, 0.50),
    _Try(1.6, 0.50), _Try(1.5, 0.50), _Try(1.4, 0.50), _Try(1.3, 0.50), _Try(1.22, 0.50),
    _Try(1.15, 0.50), _Try(1.08, 0.50), _Try(1.0, 0.50), _Try(1.0, 0.45), _Try(0.95, 0.45),
    _Try(0.9, 0.45), _Try(0.9, 0.40), _Try(0.85, 0.40), _Try(0.8, 0.40),
    _Try(1.1, 0.45, True), _Try(1.0, 0.45, True), _Try(1.0, 0.40, True), _Try(0.9, 0.40, True),
    _Try(0.8, 0.40, True), _Try(0.8, 0.34, True), _Try(0.75, 0.34, True), _Try(0.7, 0.34, True),
    _Try(0.65, 0.34, True), _Try(0.6, 0.34, True), _Try(0.55, 0.34, True), _Try(0.5, 0.34, True),
    _Try(0.5, 0.34, True, 1.06),
)  # fmt: skip
"""From roomy to tight; the first that fits is taken."""


class _Text(NamedTuple):
    """One field that says something, as paper takes it."""

    field: LabelField
    words: str


class _Words(NamedTuple):
    """What a label says beside its code and below its seam; digits of its identity left open."""

    above: tuple[_Text, ...]
    below: tuple[_Text, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of text: where its baseline starts, from the label's top left corner (pt)."""

    x: float
    y: float
    face: str
    size: float
    text: str


@dataclass(frozen=True, slots=True)
class Layout:
    """A label with everything in its place, in points right and down from its top left corner.

    Pouches that differ only in number and code share one and the same layout.
    """

    lines: tuple[Line, ...]
    identity: Line
    """Where the identity goes; its text is left to the label."""
    seam: tuple[float, float, float] | None
    """Left end, right end, height of the upper of the two thin lines, where they part anything."""
    code: tuple[float, float, float]
    """Left, bottom, side of the square code."""


def lay_out(
    label: LabelText,
    modules: int,
    width_mm: float,
    height_mm: float,
    design: LabelDesign = STANDARD,
) -> Layout | str:
    """The largest setting of `label` that fits, or why none does, as the rest of a sentence.

    `modules` is how many its code has to a side.
    """
    words = _Words(_texts(label, design.above), _texts(label, design.below))
    return _lay_out(words, modules, width_mm, height_mm, design)


def _texts(label: LabelText, fields: Sequence[LabelField]) -> tuple[_Text, ...]:
    """The fields that say something. All figures are equally wide: 0 stands for any number."""
    said = []
    for field in fields:
        words = printable(getattr(label, field))
        if field is LabelField.IDENTITY:
            words = _DIGIT.sub("0", words)
        if words:
            said.append(_Text(field, words))
    return tuple(said)


@lru_cache(maxsize=1024)
def _lay_out(
    words: _Words, modules: int, width_mm: float, height_mm: float, design: LabelDesign
) -> Layout | str:
    module_mm = design.module_mm or LEAST_MODULE_MM
    margin_mm = max(INSET_MM, QUIET_MODULES * module_mm)
    least_mm = modules * module_mm + 2 * margin_mm
    if least_mm > min(width_mm, height_mm):
        return (
            f"the code of {modules} × {modules} modules of {module_mm:g} mm needs a label at least "
            f"{least_mm:.1f} mm wide and high, or phones cannot read it."
        )
    for head_scale in sorted({design.food_scale, min(design.food_scale, 1.0)}, reverse=True):
        for way in _TRIES:
            if design.module_mm is not None:
                way = way._replace(module_mm=design.module_mm)
            layout = _set(words, modules, width_mm * MM, height_mm * MM, way, head_scale)
            if layout is not None:
                return layout
    longest = max((text.words for text in (*words.above, *words.below)), key=len)
    return (
        f"the words do not fit in print of {_LEAST_PT:g} points, the least that can be read; "
        f"“{longest}” is the longest text."
    )


def _set(
    words: _Words, modules: int, width: float, height: float, way: _Try, head_scale: float
) -> Layout | None:
    """The label set in one way: the first fields beside the code, the rest below the seam."""
    left, foot = INSET_MM * MM, height - INSET_MM * MM
    module = way.module_mm * MM
    quiet, side = QUIET_MODULES * module, modules * module
    edge = max(left, quiet)
    code_left, code_bottom = width - edge - side, edge + side
    beside = code_left - max(quiet, _COLUMN_GAP_PT) - left
    if beside <= 0 or code_bottom > foot:
        return None
    head = _block(words.above, left, beside, way, head_scale)
    if head is None:
        return None
    parted = bool(words.above and words.below)
    clear = max(min(way.scale, 1.0) * _SEAM_ROOM_PT, _LEAST_SEAM_ROOM_PT)
    seam_room = 2 * clear + SEAM_GAP_PT if parted else 0.0
    for across in (width - 2 * left, beside):
        tail = _block(words.below, left, across, way)
        if tail is None:
            continue
        top = foot - tail.height
        seam = top - clear - SEAM_GAP_PT
        runs_into_code = across > beside and seam < code_bottom + quiet
        if top < left + head.height + seam_room or runs_into_code:
            continue
        placed = [*head.lowered(left), *tail.lowered(top)]
        return Layout(
            tuple(line for field, line in placed if field is not LabelField.IDENTITY),
            next(line for field, line in placed if field is LabelField.IDENTITY),
            (left, left + across, seam) if parted else None,
            (code_left, code_bottom, side),
        )
    return None


@dataclass(frozen=True, slots=True)
class _Block:
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


def _block(
    texts: Sequence[_Text], left: float, width: float, way: _Try, head_scale: float | None = None
) -> _Block | None:
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


def _largest(text: _Text, width: float, way: _Try, scale: float) -> _Piece | None:
    """The first text of a label; None when it would not stand out from the one below it."""
    sizes = (_HEAD_PT * way.scale * scale * part for part in _HEAD_SHRINKS)
    usable = (*(size for size in sizes if size > _LEAST_HEAD_PT), _LEAST_HEAD_PT)
    most_lines = 1 if text.field is LabelField.IDENTITY else _HEAD_LINES
    size, lines = shrink(text.words, BOLD, usable, width, most_lines)
    mass = _TYPES[LabelField.MASS]
    if not lines or size <= max(mass.size * way.scale, mass.least) * min(scale, 1.0):
        return None
    return _measured(text.field, BOLD, size, lines)


def _piece(text: _Text, width: float, way: _Try) -> _Piece | None:
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


def _stack(pieces: Sequence[_Piece], left: float, width: float, way: _Try) -> _Block:
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
    return _Block(tuple(placed), y)


def _share(first: _Piece, second: _Piece, width: float, way: _Try) -> bool:
    """Whether two texts go on one line: the identity and its neighbour always where they fit."""
    return (
        (way.paired or LabelField.IDENTITY in (first.field, second.field))
        and len(first.lines) == len(second.lines) == 1
        and first.width + first.size + second.width <= width
    )
