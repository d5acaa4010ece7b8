"""The fields for a sheet of labels that a person measured, and the stock it comes to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.catalog.label_stock import LabelStock
from packdesk.present.measured_stock import MeasuredSheet, measured_stock
from packdesk.ui.pages.form import THIRD, Form
from packdesk.ui.pages.inputs import AtField, PickInput, TypedInput
from packdesk.ui.pages.typed import Quantity, Sentence, Whole
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice
from packdesk.units import Dimension

PAGES_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MEASURE = "measure"
"""Stands in the list of sheets for one that is not in it yet."""

MEASURE_CHOICE = Choice(MEASURE, "Another sheet: measure it")
MOST_ACROSS, MOST_DOWN = 20, 40
_DOWN = ("down", "height", "top", "row", "bottom")
_LENGTHS = (
    ("width", "Label width", None),
    ("height", "Label height", None),
    ("left", "Left edge to the first label", None),
    ("top", "Top edge to the first label", None),
    ("gap_across", "Gap between columns", 0.0),
    ("gap_down", "Gap between rows", 0.0),
    ("right", "Last label to the right edge", False),
    ("bottom", "Last label to the bottom edge", False),
)
"""Field, label, and what it is when left empty (None: it must be typed, False: not known)."""


def stock_form(theme: Theme) -> Form:
    """The fields: the page, how many labels, their size, margins and gaps."""
    form = Form(theme)
    page = PickInput(theme, "Page", "Choose the page.")
    page.show_choices(tuple(Choice(key, key) for key in PAGES_MM), "A4")
    form.add("page", page, THIRD)
    columns = Whole("labels side by side", 1, MOST_ACROSS)
    form.add("columns", TypedInput(theme, "Labels side by side", columns), THIRD)
    rows = Whole("labels one below another", 1, MOST_DOWN)
    form.add("rows", TypedInput(theme, "Labels one below another", rows), THIRD)
    for name, label, empty in _LENGTHS:
        reader = Quantity(Dimension.LENGTH, "mm", (0.0, 300.0))
        left_out = {} if empty is None else {"empty": None if empty is False else empty}
        form.add(name, TypedInput(theme, label, reader, **left_out), THIRD)
    called = TypedInput(
        theme, "Name, if you like", Sentence("Write a name.", 60), empty="", letters=True
    )
    form.add("name", called, THIRD)
    return form


def speak(form: Form, units: str) -> None:
    """Take lengths in the unit people of a unit system measure in, where none is typed."""
    for name, _, _ in _LENGTHS:
        unit = "in" if units == "us" else "mm"
        form.inputs[name].expect(Quantity(Dimension.LENGTH, unit, (0.0, 300.0)))


def stock_of(typed: Mapping[str, Any], known: Mapping[str, LabelStock]) -> LabelStock:
    """The stock that was measured; raises `AtField` with every reason why there can be none."""
    width, height = PAGES_MM[typed["page"]]
    found = measured_stock(
        MeasuredSheet(
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
            name=typed["name"],
        ),
        known,
    )
    if isinstance(found, LabelStock):
        return found
    downward = any(word in found[0].lower() for word in _DOWN)
    raise AtField("top" if downward else "left", " ".join(found))
