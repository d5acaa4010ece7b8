"""Where everything stands on one pouch label; nothing is cut, what cannot fit is said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packdesk.paper.fit import shrink, wrap
from packdesk.paper.fonts import BOLD, LEADING, REGULAR, SEMIBOLD, printable, rise, text_width
from packdesk.paper.page_sizes import MM
from packdesk.paper.qr import LEAST_MODULE_MM, QUIET_MODULES, QrCode
from packdesk.present.cards import LabelText

INSET_MM = 3.0
"""Ink keeps this far from the label's edge: printers feed a sheet to a millimetre or so."""

LEAST_PT = 6.0
"""No text is smaller; its x-height is 1 mm."""

_FOOD_PT, _MASS_PT, _TEXT_PT = 17.0, 12.0, 8.5
"""Text sizes of an ordinary label."""

_FOOD_SHRINKS = (1.0, 0.88, 0.77, 0.68)
_FOOD_LINES = 2
_LEAST_FOOD_PT = 8.0

_TRIES = (
    (1.6, 0.50), (1.45, 0.50), (1.3, 0.50), (1.15, 0.50), (1.0, 0.50), (1.0, 0.45), (0.9, 0.45),
    (0.9, 0.40), (0.8, 0.40), (0.72, 0.40), (0.8, 0.34), (0.72, 0.34), (0.62, 0.34), (0.5, 0.34),
)  # fmt: skip
"""Scale of the text and module of the code (mm), tried in turn until all fits."""

SEAM_GAP_PT = 1.7
_SEAM_ABOVE_PT, _SEAM_BELOW_PT = 3.2, 3.0
_COLUMN_GAP_PT = 6.0


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
    """One label with everything in its place, in points from the label's top left corner."""

    lines: tuple[Line, ...]
    seam: tuple[float, float, float]
    """Left end, right end, height of the upper of the two thin lines."""
    code: tuple[float, float, float]
    """Left, bottom, side of the square code."""


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines set below one another from a height of 0, and how high they stand together."""

    lines: tuple[Line, ...]
    height: float


def lay_out(label: LabelText, code: QrCode, width_mm: float, height_mm: float) -> Layout | str:
    """The largest setting of `label` that fits, or a sentence that says why none does."""
    quiet = QUIET_MODULES * LEAST_MODULE_MM
    side_mm = code.side_mm(LEAST_MODULE_MM) + 2 * max(INSET_MM, quiet)
    if side_mm > min(width_mm, height_mm):
        return (
            f"Its code of {code.modules} × {code.modules} modules needs a label at least "
            f"{side_mm:.1f} mm high and wide to be read by a phone."
        )
    for scale, module_mm in _TRIES:
        layout = _set(label, code, width_mm * MM, height_mm * MM, scale, module_mm * MM)
        if layout is not None:
            return layout
    return "Its words do not fit, even in the smallest print that can be read."


def _set(
    label: LabelText, code: QrCode, width: float, height: float, scale: float, module: float
) -> Layout | None:
    """The label at one scale: food, mass and dates beside the code, the rest below the seam."""
    left = INSET_MM * MM
    edge = max(INSET_MM * MM, QUIET_MODULES * module)
    side = code.modules * module
    code_left, code_bottom = width - edge - side, edge + side
    clear = code_bottom + QUIET_MODULES * module
    beside = code_left - max(QUIET_MODULES * module, _COLUMN_GAP_PT) - left
    foot = height - INSET_MM * MM
    if beside <= 0 or code_bottom > foot:
        return None
    head = _head(label, left, beside, scale)
    if head is None:
        return None
    top = INSET_MM * MM
    seam_room = _SEAM_ABOVE_PT + SEAM_GAP_PT + _SEAM_BELOW_PT
    for across in (width - 2 * left, beside):
        tail = _tail(label, left, across, scale)
        if tail is None:
            continue
        tail_top = foot - tail.height
        seam = tail_top - _SEAM_BELOW_PT - SEAM_GAP_PT
        if tail_top < top + head.height + seam_room or (across > beside and seam < clear):
            continue
        lines = (*_moved(head, top), *_moved(tail, tail_top))
        return Layout(lines, (left, left + across, seam), (code_left, code_bottom, side))
    return None


def _head(label: LabelText, left: float, width: float, scale: float) -> _Block | None:
    """Food, mass and dates, one below the other."""
    sizes = tuple(max(_FOOD_PT * scale * part, _LEAST_FOOD_PT) for part in _FOOD_SHRINKS)
    size, food = shrink(printable(label.food), BOLD, sizes, width, _FOOD_LINES)
    if not food:
        return None
    parts = ((SEMIBOLD, _MASS_PT, label.mass), (REGULAR, _TEXT_PT, label.packed),
             (SEMIBOLD, _TEXT_PT, label.best_quality))  # fmt: skip
    return _stack([(BOLD, size, food)], parts, left, width, scale)


def _tail(label: LabelText, left: float, width: float, scale: float) -> _Block | None:
    """Identity and lot on one line where they fit, absorbers, allergens, caution, advice."""
    size = _text_size(_TEXT_PT, scale)
    identity, lot = printable(label.identity), printable(label.lot)
    lot_width = text_width(lot, REGULAR) * size
    rest = ((REGULAR, _TEXT_PT, label.absorbers), (BOLD, _TEXT_PT, label.allergens),
            (SEMIBOLD, _TEXT_PT, label.caution), (REGULAR, _TEXT_PT, label.advice))  # fmt: skip
    if text_width(identity, SEMIBOLD) * size + lot_width + size > width:
        both = ((SEMIBOLD, _TEXT_PT, label.identity), (REGULAR, _TEXT_PT, label.lot))
        return _stack([], (*both, *rest), left, width, scale)
    below = _stack([(SEMIBOLD, size, (identity,))], rest, left, width, scale)
    if below is None or not lot:
        return below
    beside = Line(left + width - lot_width, below.lines[0].y, REGULAR, size, lot)
    return _Block((below.lines[0], beside, *below.lines[1:]), below.height)


def _stack(
    first: list[tuple[str, float, tuple[str, ...]]],
    parts: tuple[tuple[str, float, str], ...],
    left: float,
    width: float,
    scale: float,
) -> _Block | None:
    """Lines already wrapped, then texts to be wrapped; empty texts take no room."""
    set_parts = list(first)
    for face, ordinary, text in parts:
        size = _text_size(ordinary, scale)
        words = printable(text)
        if not words:
            continue
        lines = wrap(words, face, width / size, break_words=size == LEAST_PT)
        if not lines:
            return None
        set_parts.append((face, size, lines))
    return _Block(*_placed(set_parts, left))


def _placed(
    parts: list[tuple[str, float, tuple[str, ...]]], left: float
) -> tuple[tuple[Line, ...], float]:
    y = 0.0
    placed = []
    for face, size, lines in parts:
        for text in lines:
            placed.append(Line(left, y + rise(text) * size, face, size, text))
            y += (LEADING - 0.76 + rise(text)) * size
    return tuple(placed), y


def _moved(block: _Block, top: float) -> Iterator[Line]:
    return (Line(line.x, line.y + top, line.face, line.size, line.text) for line in block.lines)


def _text_size(ordinary: float, scale: float) -> float:
    return max(ordinary * scale, LEAST_PT)
