"""How the labels shall look: their fields, the order, the size of the name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.present.label_design import FOOD_SCALES, STANDARD, LabelDesign
from packdesk.present.label_wish import design_in_words, fields_in_words, fields_of
from packdesk.settings.chosen import Settings
from packdesk.ui.pages.form import THIRD, TWO_THIRDS, WHOLE, Form
from packdesk.ui.pages.inputs import AtField, TypedInput
from packdesk.ui.pages.typed import Whole
from packdesk.ui.theme.theme import Theme
from packdesk.units import NotUnderstood


def _fields(text: str) -> tuple:
    try:
        return fields_of(text)
    except ValueError as wrong:
        raise NotUnderstood(str(wrong)) from None


def design_form(theme: Theme) -> Form:
    """The fields: what stands beside the code, what below the seam, how large the name is."""
    form = Form(theme)
    above = TypedInput(theme, "Beside the code, in this order", _fields, letters=True)
    form.add("above", above, TWO_THIRDS)
    least, most = (round(100 * scale) for scale in FOOD_SCALES)
    size = TypedInput(theme, "Size of the first line, in %", Whole("%", least, most), empty=100)
    form.add("size", size, THIRD)
    below = TypedInput(theme, "Below the seam, in this order", _fields, letters=True)
    form.add("below", below, WHOLE)
    return form


def show_design(form: Form, design: LabelDesign) -> None:
    """Put a design into the fields, where nothing was typed."""
    form.inputs["above"].preset(fields_in_words(design.above))
    form.inputs["below"].preset(fields_in_words(design.below))
    form.inputs["size"].preset(f"{100 * design.food_scale:.0f}")


def design_typed(typed: Mapping[str, Any]) -> LabelDesign:
    """The design that was typed; raises `AtField` for one that cannot be."""
    try:
        return LabelDesign(typed["above"], typed["below"], food_scale=typed["size"] / 100)
    except ValueError as wrong:
        raise AtField("above", str(wrong)) from None


def design_so_far(form: Form) -> LabelDesign | None:
    """The design typed so far, if it is one; says nothing about what is wrong."""
    typed = {name: item.peek() for name, item in form.inputs.items()}
    if None in typed.values():
        return None
    try:
        return design_typed(typed)
    except AtField:
        return None


def with_design(settings: Settings, design: LabelDesign) -> Settings:
    """The settings with this design."""
    usual = (design.above, design.below) == (STANDARD.above, STANDARD.below)
    said = "" if usual else design_in_words(design)
    chosen = settings.with_choice("label_fields", said)
    return chosen.with_choice("label_name_size", design.food_scale)
