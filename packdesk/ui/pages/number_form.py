"""The fields for labels with numbers alone, and the labels they come to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.present.label_text import food_title
from packdesk.present.number_labels import lines_with_numbers, wanted_numbers
from packdesk.session.state import SessionState
from packdesk.ui.pages.form import THIRD, Form
from packdesk.ui.pages.inputs import AtField, PickInput, TypedInput
from packdesk.ui.pages.label_print import LabelPrint
from packdesk.ui.pages.typed import Numbers
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice


class NumberForm(Form):
    """For pouches of which food, which numbers if not all that have none, on which sheet."""

    def __init__(self, theme: Theme, stock: PickInput) -> None:
        super().__init__(theme)
        self._line = PickInput(theme, "For pouches of", "Choose the food.")
        self.add("line", self._line, THIRD)
        which = TypedInput(theme, "Which numbers", Numbers(), empty=(), hint="all still without")
        self.add("pouches", which, THIRD)
        self.add("stock", stock, THIRD)

    def show_lines(self, session: SessionState) -> None:
        """Offer the foods that numbers can be printed for; begin with the first lacking some."""
        lines = lines_with_numbers(session)
        keys = [str(each.line) for each in lines]
        lacking = [str(each.line) for each in lines if each.to_print]
        chosen = self._line.key
        begin = chosen if chosen in keys else next(iter(lacking or keys), "")
        foods = (f"{food_title(each.food)}, {len(each.to_come)}" for each in lines)
        self._line.show_choices(tuple(map(Choice, keys, foods)), begin)

    def begin_with(self, wanted: LabelPrint) -> None:
        """Put labels of numbers there as if they had been typed."""
        self._line.box.setCurrentIndex(self._line.box.findData(str(wanted.line)))
        self.inputs["pouches"].show_text(", ".join(map(str, wanted.pouches)))

    def clear(self) -> None:
        """Forget what was typed and for which food: the next print begins with one that lacks."""
        super().clear()
        self._line.box.setCurrentIndex(-1)

    def so_far(self, session: SessionState) -> LabelPrint | None:
        """The labels typed so far, if they can be made; says nothing about what is wrong."""
        line, pouches = self._line.key, self.inputs["pouches"].peek()
        if pouches is None or not line:
            return None
        try:
            return numbers_typed({"line": line, "pouches": pouches}, session)
        except AtField:
            return None


def numbers_typed(typed: Mapping[str, Any], session: SessionState) -> LabelPrint:
    """The labels that were asked for; raises `AtField` for numbers that cannot be."""
    line = int(typed["line"])
    try:
        numbers, again = wanted_numbers(session, line, typed["pouches"])
    except ValueError as wrong:
        raise AtField("pouches", str(wrong)) from None
    return LabelPrint(numbers, line, again)
