"""The fields for labels printed again, and for those that did not come out of the printer."""

from __future__ import annotations

from packdesk.ui.pages.form import THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import PickInput, TypedInput
from packdesk.ui.pages.typed import Numbers
from packdesk.ui.theme.theme import Theme


def reprint_form(theme: Theme, stock: PickInput) -> Form:
    """Whose labels are printed again, and on which sheet."""
    form = Form(theme)
    form.add("pouches", _pouches(theme, "Which pouches"), THIRD)
    form.add("stock", stock, WHOLE - THIRD)
    return form


def torn_form(theme: Theme) -> Form:
    """Which labels of a print did not come out."""
    form = Form(theme)
    form.add("pouches", _pouches(theme, "Labels that did not come out"), THIRD)
    return form


def _pouches(theme: Theme, label: str) -> TypedInput:
    return TypedInput(theme, label, Numbers(), hint="such as 3, 5")
