"""A sheet of labels as far as it is typed: its labels, in words, and what cannot be true of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from packdesk.catalog.label_stock import LabelStock
from packdesk.present.measured_stock import MeasuredSheet, measured_stock
from packdesk.ui.widgets.measured_sheet_view import MeasuredFace

PAGES_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}

_ACROSS = ("columns", "width", "left", "gap_across", "right")
_DOWN = ("rows", "height", "top", "gap_down", "bottom")
_CORNER = ("corner",)
WAYS = ((_ACROSS, "left"), (_DOWN, "top"), (_CORNER, "corner"))
"""The fields that must go together, and beside which of them it is told when they do not."""

_DOWNWARD = ("down", "height", "top", "row", "bottom")


def sheet_typed(typed: Mapping[str, Any]) -> MeasuredSheet:
    """The sheet, once everything that must be typed is."""
    width, height = PAGES_MM[typed["page"]]
    return MeasuredSheet(
        page_width_mm=width,
        page_height_mm=height,
        columns=typed["columns"],
        rows=typed["rows"],
        label_width_mm=typed["width"],
        label_height_mm=typed["height"],
        left_mm=typed["left"],
        top_mm=typed["top"],
        gap_across_mm=typed["gap_across"],
        gap_down_mm=typed["gap_down"],
        right_mm=typed["right"],
        bottom_mm=typed["bottom"],
        corner_radius_mm=typed["corner"],
        name=typed["name"],
    )


def labels_so_far(typed: Mapping[str, Any]) -> tuple[tuple[float, float, float, float], ...]:
    """The labels as far as they are known: one of them, at the edge, until more is typed."""
    width, height = typed["width"], typed["height"]
    if not width or not height:
        return ()
    left, top = typed["left"] or 0.0, typed["top"] or 0.0
    across = width + (typed["gap_across"] or 0.0)
    down = height + (typed["gap_down"] or 0.0)
    return tuple(
        (left + column * across, top + row * down, width, height)
        for row in range(typed["rows"] or 1)
        for column in range(typed["columns"] or 1)
    )


def told_so_far(typed: Mapping[str, Any], face: MeasuredFace) -> str:
    """The drawing in words: how many labels, and how much of the page is left beyond them."""
    if not face.labels_mm:
        return "The sheet is drawn here as you type."
    x, y, width, height = face.labels_mm[-1]
    page_width, page_height = face.page_mm
    count = len(face.labels_mm)
    named = "1 label" if count == 1 else f"{count} labels"
    return (
        f"{named} of {width:g} × {height:g} mm. {_rest(page_width - x - width, 'right')}, "
        f"{_rest(page_height - y - height, 'below')}."
    )


def _rest(room_mm: float, side: str) -> str:
    room = round(room_mm, 2)
    return f"{-room:g} mm too far {side}" if room < 0 else f"{room:g} mm free {side}"


def misfit(fields: tuple[str, ...], typed: Mapping[str, Any]) -> str:
    """What cannot be true of these fields together; empty while some are not typed yet."""
    needed = (*fields, "width", "height") if fields is _CORNER else fields
    if any(typed[name] is None for name in needed if name not in ("right", "bottom")):
        return ""
    sheet = sheet_typed({**typed, "name": ""})
    if fields is not _DOWN:
        sheet = replace(sheet, rows=1, top_mm=0.0, gap_down_mm=0.0, bottom_mm=None)
    if fields is not _ACROSS:
        sheet = replace(sheet, columns=1, left_mm=0.0, gap_across_mm=0.0, right_mm=None)
    if fields is _ACROSS:
        sheet = replace(sheet, label_height_mm=50.0)
    if fields is _DOWN:
        sheet = replace(sheet, label_width_mm=50.0)
    found = measured_stock(sheet, {})
    return "" if isinstance(found, LabelStock) else about(fields, found)


def about(fields: tuple[str, ...], faults: tuple[str, ...]) -> str:
    """Those of the faults that these fields can mend."""

    def way(fault: str) -> tuple[str, ...]:
        said = fault.lower()
        if "corner" in said:
            return _CORNER
        return _DOWN if any(word in said for word in _DOWNWARD) else _ACROSS

    return " ".join(fault for fault in faults if way(fault) is fields)
