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


def number_form(theme: Theme, stock: PickInput) -> Form:
    """The fields: for which food, which numbers if not all, on which sheet."""
    form = Form(theme)
    form.add("line", PickInput(theme, "For pouches of", "Choose the food."), THIRD)
    which = TypedInput(theme, "Which numbers", Numbers(), empty=(), hint="all still without")
    form.add("pouches", which, THIRD)
    form.add("stock", stock, THIRD)
    return form


def show_lines(form: Form, session: SessionState) -> None:
    """Offer the foods that numbers can be printed for; begin with the first that lacks some."""
    lines = lines_with_numbers(session)
    pick = form.inputs["line"]
    keys = [str(each.line) for each in lines]
    lacking = [str(each.line) for each in lines if each.to_print]
    begin = pick.key if pick.key in keys else next(iter(lacking or keys), "")
    pick.show_choices(
        tuple(
            Choice(str(each.line), f"{food_title(each.food)}, {len(each.to_come)}")
            for each in lines
        ),
        begin,
    )


def begin_with(form: Form, line: int) -> None:
    """Choose a plan line."""
    box = form.inputs["line"].box
    box.setCurrentIndex(box.findData(str(line)))


def forget_numbers(form: Form) -> None:
    """Forget what was typed and for which food: the next print begins with what lacks some."""
    form.clear()
    form.inputs["line"].box.setCurrentIndex(-1)


def numbers_so_far(form: Form, session: SessionState) -> LabelPrint | None:
    """The labels typed so far, if they can be made; says nothing about what is wrong."""
    line, pouches = form.inputs["line"].key, form.inputs["pouches"].peek()
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
