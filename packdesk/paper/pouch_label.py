"""Where everything stands on one pouch label; nothing is cut, what cannot fit is said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from packdesk.paper.fonts import printable
from packdesk.paper.label_block import LEAST_PT, Line, Text, Way, block
from packdesk.paper.page_sizes import MM
from packdesk.paper.qr import QUIET_MODULES
from packdesk.present.label_design import LEAST_MODULE_MM, STANDARD, LabelDesign, LabelField
from packdesk.present.papers import LabelText

INSET_MM = 3.0
"""Ink keeps this far from the label's edge: printers feed a sheet to a millimetre or so."""

SEAM_GAP_PT = 1.7
"""Between the two thin lines that part what the pouch holds from what to know about it."""

_SEAM_ROOM_PT, _LEAST_SEAM_ROOM_PT = 2.8, 1.4
"""Above and below the two lines on an ordinary label, and at least."""

_COLUMN_GAP_PT = 6.0

_DIGIT = re.compile(r"[0-9]")


_TRIES = (
    Way(2.4, 0.60), Way(2.2, 0.60), Way(2.0, 0.60), Way(1.8, 0.60), Way(1.7, 0.50),
    Way(1.6, 0.50), Way(1.5, 0.50), Way(1.4, 0.50), Way(1.3, 0.50), Way(1.22, 0.50),
    Way(1.15, 0.50), Way(1.08, 0.50), Way(1.0, 0.50), Way(1.0, 0.45), Way(0.95, 0.45),
    Way(0.9, 0.45), Way(0.9, 0.40), Way(0.85, 0.40), Way(0.8, 0.40),
    Way(1.1, 0.45, True), Way(1.0, 0.45, True), Way(1.0, 0.40, True), Way(0.9, 0.40, True),
    Way(0.8, 0.40, True), Way(0.8, 0.34, True), Way(0.75, 0.34, True), Way(0.7, 0.34, True),
    Way(0.65, 0.34, True), Way(0.6, 0.34, True), Way(0.55, 0.34, True), Way(0.5, 0.34, True),
    Way(0.5, 0.34, True, 1.06),
)  # fmt: skip
"""From roomy to tight; the first that fits is taken."""


class _Words(NamedTuple):
    """What a label says beside its code and below its seam."""

    above: tuple[Text, ...]
    below: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """A label with everything in its place, in points right and down from its top left corner.

    Pouches that differ only in number and code have equal layouts.
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
    found = _lay_out(_Words(*map(_masked, words)), modules, width_mm, height_mm, design)
    if isinstance(found, Layout):
        return _with_digits(found, words)
    return found or _why_unfit(words)


def _texts(label: LabelText, fields: Sequence[LabelField]) -> tuple[Text, ...]:
    """The fields that say something."""
    said = ((field, printable(getattr(label, field))) for field in fields)
    return tuple(Text(field, words) for field, words in said if words)


def _masked(texts: Sequence[Text]) -> tuple[Text, ...]:
    """The texts with 0 for every figure: all are equally wide, and labels differ mostly in them."""
    return tuple(Text(text.field, _DIGIT.sub("0", text.words)) for text in texts)


def _with_digits(layout: Layout, words: _Words) -> Layout:
    """The layout with its figures, which follow one another as they do in the texts."""
    said = "".join(
        text.words for texts in words for text in texts if text.field is not LabelField.IDENTITY
    )
    digits = iter(_DIGIT.findall(said))
    lines = tuple(
        Line(line.x, line.y, line.face, line.size, _DIGIT.sub(lambda _: next(digits), line.text))
        for line in layout.lines
    )
    return Layout(lines, layout.identity, layout.seam, layout.code)


@lru_cache(maxsize=1024)
def _lay_out(
    words: _Words, modules: int, width_mm: float, height_mm: float, design: LabelDesign
) -> Layout | str:
    """The largest setting; why there is none, or nothing where that is in the words."""
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
    return ""


def _why_unfit(words: _Words) -> str:
    longest = max((text.words for text in (*words.above, *words.below)), key=len)
    return (
        f"the words do not fit in print of {LEAST_PT:g} points, the least that can be read; "
        f"“{longest}” is the longest text."
    )


def _set(
    words: _Words, modules: int, width: float, height: float, way: Way, head_scale: float
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
    head = block(words.above, left, beside, way, head_scale)
    if head is None:
        return None
    parted = bool(words.above and words.below)
    clear = max(min(way.scale, 1.0) * _SEAM_ROOM_PT, _LEAST_SEAM_ROOM_PT)
    seam_room = 2 * clear + SEAM_GAP_PT if parted else 0.0
    for across in (width - 2 * left, beside):
        tail = block(words.below, left, across, way)
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
