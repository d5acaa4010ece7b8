"""The fields for a sheet of labels that a person measured, drawn as they are typed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from packdesk.catalog.label_stock import LabelStock
from packdesk.present.measured_stock import measured_stock
from packdesk.ui.pages.form import THIRD, Form
from packdesk.ui.pages.inputs import AtField, PickInput, TypedInput
from packdesk.ui.pages.stock_so_far import (
    PAGES_MM,
    WAYS,
    about,
    labels_so_far,
    misfit,
    sheet_typed,
    told_so_far,
)
from packdesk.ui.pages.typed import Quantity, Sentence, Whole
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice
from packdesk.ui.widgets.measured_sheet_view import MeasuredFace, MeasuredSheetView
from packdesk.ui.widgets.refusal import objection_of
from packdesk.units import Dimension

MEASURE = "measure"
"""Stands in the list of sheets for one that is not in it yet."""

MEASURE_CHOICE = Choice(MEASURE, "Another sheet: measure it")
MOST_ACROSS, MOST_DOWN = 20, 40
_LENGTHS = (
    ("width", "Label width", None),
    ("height", "Label height", None),
    ("corner", "Corner radius", 0.0),
    ("left", "Left edge to first label", None),
    ("gap_across", "Gap between columns", 0.0),
    ("right", "Last label to right edge", False),
    ("top", "Top edge to first label", None),
    ("gap_down", "Gap between rows", 0.0),
    ("bottom", "Last label to bottom edge", False),
)
"""Field, label, and what it is when left empty (None: it must be typed, False: not known)."""

HINTS = {
    "corner": "0 if square",
    "gap_across": "0 if none",
    "gap_down": "0 if none",
    "right": "as a check",
    "bottom": "as a check",
}


class StockForm(Form):
    """The page, how many labels, their size, margins and gaps; the sheet is drawn beside them.

    The drawing follows each figure. What does not go together is told beside the field it was
    typed into last as soon as that is left.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        page = PickInput(theme, "Page", "Choose the page.")
        page.show_choices(tuple(Choice(key, key) for key in PAGES_MM), "A4")
        self.add("page", page, THIRD)
        columns = Whole("labels side by side", 1, MOST_ACROSS)
        self.add("columns", TypedInput(theme, "Labels side by side", columns), THIRD)
        rows = Whole("labels one below another", 1, MOST_DOWN)
        self.add("rows", TypedInput(theme, "One below another", rows), THIRD)
        for name, label, empty in _LENGTHS:
            left_out = {} if empty is None else {"empty": None if empty is False else empty}
            hint = HINTS.get(name, "")
            self.add(name, TypedInput(theme, label, _length("mm"), hint=hint, **left_out), THIRD)
        called = TypedInput(
            theme, "Name, if you like", Sentence("Write a name.", 60), empty="", letters=True
        )
        self.add("name", called, THIRD)
        self.drawing = MeasuredSheetView(theme)
        self._told = Words(theme, Role.NOTE, weight=Weight.REGULAR)
        self.add_picture(_under_each_other(theme, self._told, self.drawing))
        page.chosen.connect(lambda _key: self._follow())
        for name, item in self.inputs.items():
            if isinstance(item, TypedInput):
                item.edited.connect(lambda _text: self._follow())
                item.committed.connect(lambda _text, name=name: self._check(name))
        self._follow()

    def speak(self, units: str) -> None:
        """Take lengths in the unit people of a unit system measure in, where none is typed."""
        for name, _, _ in _LENGTHS:
            self.inputs[name].expect(_length("in" if units == "us" else "mm"))

    def clear(self) -> None:
        super().clear()
        self._follow()

    def stock(self, typed: Mapping[str, Any], known: Mapping[str, LabelStock]) -> LabelStock:
        """The stock that was typed; raises `AtField` with every reason why there can be none."""
        found = measured_stock(sheet_typed(typed), known)
        if isinstance(found, LabelStock):
            return found
        for fields, beside in WAYS:
            if wrong := about(fields, found):
                raise AtField(beside, wrong)
        raise AtField("left", " ".join(found))

    def _follow(self) -> None:
        """Draw what is typed so far."""
        typed = self._so_far()
        face = MeasuredFace(PAGES_MM[typed["page"]], labels_so_far(typed), typed["corner"] or 0.0)
        self.drawing.show_face(face)
        self._told.say(told_so_far(typed, face))

    def _check(self, name: str) -> None:
        """Tell beside the field just left what does not go together with the others."""
        typed = self._so_far()
        for fields, _beside in WAYS:
            if name not in fields or self.inputs[name].refusal.objection is not None:
                continue
            if wrong := misfit(fields, typed):
                self.inputs[name].show_objection(objection_of(wrong))
            else:
                self._stop_objecting(fields)

    def _stop_objecting(self, fields: tuple[str, ...]) -> None:
        """What was told beside another field has been mended in this one."""
        for name in fields:
            item = self.inputs[name]
            if item.refusal.objection is not None and item.peek() is not None:
                item.show_objection(None)

    def _so_far(self) -> dict[str, Any]:
        """What each field comes to so far, None where to nothing."""
        found = {
            name: item.peek() for name, item in self.inputs.items() if isinstance(item, TypedInput)
        }
        return {**found, "page": self.inputs["page"].key}


def _length(unit: str) -> Quantity:
    return Quantity(Dimension.LENGTH, unit, (0.0, 300.0))


def _under_each_other(theme: Theme, *widgets: QWidget) -> QWidget:
    both = QWidget()
    column = QVBoxLayout(both)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(theme.whole(6))
    for widget in widgets:
        column.addWidget(widget)
    column.setStretch(1, 1)
    return both
