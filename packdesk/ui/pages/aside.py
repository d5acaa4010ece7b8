"""The form by which pouches leave the work, at the scale and at the iron alike."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.session.commands import SetAside
from packdesk.ui.pages.form import THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import OptionInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.typed import Numbers, Sentence
from packdesk.ui.theme.theme import Theme


def aside_form(theme: Theme) -> Form:
    """Which pouches leave the work, why, and what becomes of their food."""
    form = Form(theme)
    form.add("pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"), THIRD)
    reason = Sentence("Say why, such as a wrinkle in the seam.")
    form.add("reason", TypedInput(theme, "Reason", reason, letters=True), WHOLE - THIRD)
    food = OptionInput(theme, "The food in it", "kept")
    food.show_options(
        (
            Option("kept", "Stays in", "to be shut or sealed anew"),
            Option("emptied", "Went back", "the pouch was emptied"),
        ),
        "kept",
    )
    form.add("food", food, WHOLE)
    return form


def aside_order(typed: Mapping[str, Any]) -> SetAside:
    """The order that form comes to."""
    return SetAside(typed["pouches"], typed["reason"], typed["food"] == "emptied")
