"""A sheet of labels that a person measured with a ruler: a stock, or what cannot be true of it."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path

from packdesk.catalog.entry import Setting, read_entry
from packdesk.catalog.label_stock import LabelStock
from packdesk.sentences import capital

CLOSURE_MM = 2.0
"""How far margins, labels and gaps measured by hand may miss the page when added up."""


@dataclass(frozen=True, slots=True)
class MeasuredSheet:
    """What a ruler says of one sheet, all in mm, from edge to edge.

    `right_mm` and `bottom_mm`, the margins at the far edges, are a check on the others and may
    be left out. A gap is 0 where labels touch.
    """

    page_width_mm: float
    page_height_mm: float
    columns: int
    rows: int
    label_width_mm: float
    label_height_mm: float
    left_mm: float
    top_mm: float
    gap_across_mm: float = 0.0
    gap_down_mm: float = 0.0
    right_mm: float | None = None
    bottom_mm: float | None = None
    corner_radius_mm: float = 0.0
    name: str = ""


def measured_stock(
    sheet: MeasuredSheet, known: Mapping[str, LabelStock]
) -> LabelStock | tuple[str, ...]:
    """The stock that `sheet` describes, or every reason why there can be none, in words.

    `known` are the stocks there are, by key; the new one gets a key and a name of its own.
    """
    found = [*_misses(sheet, across=True), *_misses(sheet, across=False)]
    key = _unlike(_key(sheet), known, "-{}")
    setting = Setting(Path("label_stock.toml"), own=True, known={})
    stock, faults = read_entry(LabelStock, key, _table(sheet, known), setting)
    found += [_said(fault.key.removeprefix(key).lstrip("."), fault.sentence) for fault in faults]
    return tuple(found) if found or stock is None else stock


def stock_entry(stock: LabelStock) -> str:
    """The stock as an entry of a person's own `label_stock.toml`."""
    lines = [f"[{stock.key}]", f'name = "{stock.name}"']
    lines += [f"columns = {stock.columns}", f"rows = {stock.rows}"]
    lines += [f'{field} = "{figure.value:g} mm"' for field, figure in stock.figures()]
    return "\n".join(lines) + "\n"


def _misses(sheet: MeasuredSheet, *, across: bool) -> list[str]:
    """Whether margins, labels and gaps add up to the page one way."""
    far = sheet.right_mm if across else sheet.bottom_mm
    if far is None:
        return []
    count, label, gap, near, page = (
        (sheet.columns, sheet.label_width_mm, sheet.gap_across_mm, sheet.left_mm,
         sheet.page_width_mm) if across else
        (sheet.rows, sheet.label_height_mm, sheet.gap_down_mm, sheet.top_mm, sheet.page_height_mm)
    )  # fmt: skip
    total = near + count * label + (count - 1) * gap + far
    if abs(total - page) <= CLOSURE_MM:
        return []
    way, side = ("across", "wide") if across else ("down", "high")
    return [
        (
            f"Measured {way}, margins, labels and gaps add up to {total:g} mm, but the page is "
            f"{page:g} mm {side}. Measure again: over all labels at once is surest."
        )
    ]


def _table(sheet: MeasuredSheet, known: Mapping[str, LabelStock]) -> dict[str, object]:
    """The sheet as a catalogue file would have it."""
    lengths = {
        "page_width": sheet.page_width_mm,
        "page_height": sheet.page_height_mm,
        "label_width": sheet.label_width_mm,
        "label_height": sheet.label_height_mm,
        "left_margin": sheet.left_mm,
        "top_margin": sheet.top_mm,
        "column_pitch": sheet.label_width_mm + sheet.gap_across_mm,
        "row_pitch": sheet.label_height_mm + sheet.gap_down_mm,
        "corner_radius": sheet.corner_radius_mm,
    }
    return {
        "name": _unlike(_name(sheet), {stock.name for stock in known.values()}, " ({})"),
        "columns": sheet.columns,
        "rows": sheet.rows,
        **{field: {"value": round(mm, 2), "unit": "mm"} for field, mm in lengths.items()},
    }


def _name(sheet: MeasuredSheet) -> str:
    """The name that was typed, as one line that a catalogue file takes; else the geometry."""
    typed = " ".join(sheet.name.replace('"', "”").replace("\\", "/").split())
    return typed or (
        f"own sheet, {sheet.columns} × {sheet.rows}, "
        f"{sheet.label_width_mm:g} × {sheet.label_height_mm:g} mm"
    )


def _key(sheet: MeasuredSheet) -> str:
    key = f"own-{sheet.columns}x{sheet.rows}-{sheet.label_width_mm:.0f}x{sheet.label_height_mm:.0f}"
    return re.sub(r"[^a-z0-9-]", "", key)


def _unlike(wish: str, taken: Collection[str], counted: str) -> str:
    """The wish itself, or with the first number behind it that makes it new."""
    found, number = wish, 1
    while found in taken:
        number += 1
        found = wish + counted.format(number)
    return found


def _said(field: str, sentence: str) -> str:
    """A fault of a catalogue entry as a sentence about what was measured."""
    subject = field.replace("_", " ").replace("pitch", "distance from label to label")
    return f"{capital(subject)} {sentence}" if field else f"The sheet {sentence}"
