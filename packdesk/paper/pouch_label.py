"""Where everything stands on one pouch label; nothing is cut, what cannot fit is said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from packdesk.paper.fit import shrink, wrap
from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, printable, rise, text_width
from packdesk.paper.page_sizes import MM
from packdesk.paper.qr import LEAST_MODULE_MM, QUIET_MODULES
from packdesk.present.cards import LabelText

INSET_MM = 3.0
"""Ink keeps this far from the label's edge: printers feed a sheet to a millimetre or so."""

SEAM_GAP_PT = 1.7
"""Between the two thin lines that part what the pouch holds from what to know about it."""

_LEAST_PT = 6.0
"""No text is smaller; its x-height is 1 mm."""

_FOOD_PT, _MASS_PT, _TEXT_PT = 17.0, 12.0, 8.5
"""Text sizes of an ordinary label."""

_LEAST_FOOD_PT, _LEAST_MASS_PT = 8.0, 7.5
_FOOD_LINES = 2
_FOOD_SHRINKS = (1.0, 0.88, 0.77, 0.68, 0.6, 0.5, 0.42, 0.36, 0.3)

_SEAM_ABOVE_PT, _SEAM_BELOW_PT = 2.8, 2.8
_COLUMN_GAP_PT = 6.0


class _Try(NamedTuple):
    """One way to set a label: scale of its text, module of its code, how close its lines stand."""

    scale: float
    module_mm: float
    paired: bool = False
    """Mass goes to the right of the food, and so on, where two short texts fit on one line."""
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


class _Words(NamedTuple):
    """What a label says but for the pouch's identity, as paper takes it."""

    food: str
    mass: str
    packed: str
    best_quality: str
    lot: str
    absorbers: str
    allergens: str
    caution: str
    advice: str


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

    Pouches that differ only in identity and code share one and the same layout.
    """

    lines: tuple[Line, ...]
    identity: Line
    """Where the identity goes; its text is left to the label."""
    seam: tuple[float, float, float]
    """Left end, right end, height of the upper of the two thin lines."""
    code: tuple[float, float, float]
    """Left, bottom, side of the square code."""


def lay_out(label: LabelText, modules: int, width_mm: float, height_mm: float) -> Layout | str:
    """The largest setting of `label` that fits, or why none does, as the rest of a sentence.

    `modules` is how many its code has to a side.
    """
    words = _Words(
        printable(label.food), printable(label.mass), printable(label.packed),
        printable(label.best_quality), printable(label.lot), printable(label.absorbers),
        printable(label.allergens), printable(label.caution), printable(label.advice),
    )  # fmt: skip
    identity_em = text_width(printable(label.identity), SEMIBOLD)
    return _lay_out(words, identity_em, modules, width_mm, height_mm)


@lru_cache(maxsize=1024)
def _lay_out(
    words: _Words, identity_em: float, modules: int, width_mm: float, height_mm: float
) -> Layout | str:
    margin_mm = max(INSET_MM, QUIET_MODULES * LEAST_MODULE_MM)
    least_mm = modules * LEAST_MODULE_MM + 2 * margin_mm
    if least_mm > min(width_mm, height_mm):
        return (
            f"its code of {modules} × {modules} modules needs a label at least "
            f"{least_mm:.1f} mm wide and high, or phones cannot read it."
        )
    for way in _TRIES:
        layout = _set(words, identity_em, modules, width_mm * MM, height_mm * MM, way)
        if layout is not None:
            return layout
    longest = max(words, key=len)
    return (
        f"its words do not fit in print of {_LEAST_PT:g} points, the least that can be read; "
        f"“{longest}” is the longest text."
    )


def _set(
    words: _Words, identity_em: float, modules: int, width: float, height: float, way: _Try
) -> Layout | None:
    """The label set in one way: food, mass and dates beside the code, the rest below the seam."""
    left, foot = INSET_MM * MM, height - INSET_MM * MM
    module = way.module_mm * MM
    quiet, side = QUIET_MODULES * module, modules * module
    edge = max(left, quiet)
    code_left, code_bottom = width - edge - side, edge + side
    beside = code_left - max(quiet, _COLUMN_GAP_PT) - left
    head = _head(words, left, beside, way) if beside > 0 and code_bottom <= foot else None
    if head is None:
        return None
    seam_room = _SEAM_ABOVE_PT + SEAM_GAP_PT + _SEAM_BELOW_PT
    for across in (width - 2 * left, beside):
        tail = _tail(words, identity_em, left, across, way)
        if tail is None:
            continue
        top = foot - tail.height
        seam = top - _SEAM_BELOW_PT - SEAM_GAP_PT
        runs_into_code = across > beside and seam < code_bottom + quiet
        if top < left + head.height + seam_room or runs_into_code:
            continue
        identity, *rest = _lowered(tail, top)
        return Layout(
            (*_lowered(head, left), *rest),
            identity,
            (left, left + across, seam),
            (code_left, code_bottom, side),
        )
    return None


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines below one another from a height of 0, and how high they stand together."""

    lines: tuple[Line, ...]
    height: float


class _Piece(NamedTuple):
    """One text wrapped into lines, and how wide the widest is (pt)."""

    face: str
    size: float
    lines: tuple[str, ...]
    width: float


def _head(words: _Words, left: float, width: float, way: _Try) -> _Block | None:
    """Food, mass and dates."""
    sizes = (_FOOD_PT * way.scale * part for part in _FOOD_SHRINKS)
    usable = (*(size for size in sizes if size > _LEAST_FOOD_PT), _LEAST_FOOD_PT)
    size, lines = shrink(words.food, BOLD, usable, width, _FOOD_LINES)
    if not lines or size <= max(_MASS_PT * way.scale, _LEAST_MASS_PT):
        return None
    food = _Piece(BOLD, size, lines, max(text_width(line, BOLD) for line in lines) * size)
    mass = _piece(words.mass, SEMIBOLD, _MASS_PT, width, way, _LEAST_MASS_PT)
    packed = _piece(words.packed, REGULAR, _TEXT_PT, width, way)
    best = _piece(words.best_quality, SEMIBOLD, _TEXT_PT, width, way)
    if mass is None or packed is None or best is None:
        return None
    return _stack([(food, mass), (packed, best)], left, width, way)


def _tail(words: _Words, identity_em: float, left: float, width: float, way: _Try) -> _Block | None:
    """Identity (first of the lines) and lot, absorbers, allergens, caution, advice."""
    size = max(_TEXT_PT * way.scale, _LEAST_PT)
    identity = _Piece(SEMIBOLD, size, ("",), identity_em * size)
    lot = _piece(words.lot, REGULAR, _TEXT_PT, width, way)
    absorbers = _piece(words.absorbers, REGULAR, _TEXT_PT, width, way)
    allergens = _piece(words.allergens, BOLD, _TEXT_PT, width, way)
    caution = _piece(words.caution, SEMIBOLD, _TEXT_PT, width, way)
    advice = _piece(words.advice, REGULAR, _TEXT_PT, width, way)
    if (
        identity.width > width or lot is None or absorbers is None or allergens is None
        or caution is None or advice is None
    ):  # fmt: skip
        return None
    first = _stack([(identity, lot)], left, width, way._replace(paired=True))
    rest = _stack([(absorbers, allergens), (caution, advice)], left, width, way)
    return _Block((*first.lines, *_lowered(rest, first.height)), first.height + rest.height)


def _piece(
    text: str, face: str, ordinary_pt: float, width: float, way: _Try, least_pt: float = _LEAST_PT
) -> _Piece | None:
    """One text at the scale of this try; None when it needs smaller print."""
    size = max(ordinary_pt * way.scale, least_pt)
    if not text:
        return _Piece(face, size, (), 0.0)
    lines = wrap(text, face, width / size, break_words=size == least_pt)
    if not lines:
        return None
    return _Piece(face, size, lines, max(text_width(line, face) for line in lines) * size)


def _stack(pairs: Sequence[tuple[_Piece, _Piece]], left: float, width: float, way: _Try) -> _Block:
    """Texts below one another, or the two of a pair at both ends of one line."""
    placed: list[Line] = []
    y = 0.0
    for first, second in pairs:
        share = (
            way.paired and len(first.lines) == len(second.lines) == 1
            and first.width + first.size + second.width <= width
        )  # fmt: skip
        for piece in (first,) if share else (first, second):
            for text in piece.lines:
                above = rise(text) * piece.size
                placed.append(Line(left, y + above, piece.face, piece.size, text))
                y += above + (way.leading - rise("")) * piece.size
        if share:
            right = left + width - second.width
            text = second.lines[0]
            placed.append(Line(right, placed[-1].y, second.face, second.size, text))
    return _Block(tuple(placed), y)


def _lowered(block: _Block, by: float) -> list[Line]:
    return [Line(line.x, line.y + by, line.face, line.size, line.text) for line in block.lines]
