"""The forms for what went wrong: pouches opened again, two mixed up, a count to compare."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.present.amiss import COUNTABLE
from packdesk.session.commands import Command, ReopenPouches, SwapPouches, TakeCount
from packdesk.session.terms import PouchStage
from packdesk.ui.pages.form import HALF, THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import OptionInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.typed import Numbers, Sentence, Whole
from packdesk.ui.theme.theme import Theme

_WORDS = {
    PouchStage.FILLED: "Filled",
    PouchStage.ABSORBERS_IN: "Absorbers in",
    PouchStage.PRESSED_SHUT: "Shut",
    PouchStage.SEALED: "Sealed",
}


AMISS = frozenset({"reopen", "swap", "compare"})
"""What the forms are called."""


def amiss_forms(theme: Theme) -> dict[str, Form]:
    """The forms by the names their controls have."""
    return {"reopen": _reopen(theme), "swap": _swap(theme), "compare": _compare(theme)}


def _reopen(theme: Theme) -> Form:
    form = Form(theme)
    form.add("pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"), THIRD)
    reason = TypedInput(
        theme, "Why, if you like", Sentence("Say why."), empty="", letters=True,
        hint="one absorber more",
    )  # fmt: skip
    form.add("reason", reason, WHOLE - THIRD)
    return form


def _swap(theme: Theme) -> Form:
    form = Form(theme)
    for name, label in (("first", "One number"), ("second", "The other number")):
        number = Whole("is a pouch number that", most=99_999)
        form.add(name, TypedInput(theme, label, number), HALF)
    return form


def _compare(theme: Theme) -> Form:
    form = Form(theme)
    what = OptionInput(theme, "You counted those that are at least", PouchStage.FILLED.value)
    what.show_options(
        tuple(Option(each.value, _WORDS[each]) for each in COUNTABLE), PouchStage.FILLED.value
    )
    form.add("what", what, WHOLE)
    form.add("counted", TypedInput(theme, "You count", Whole("pouches", least=0)), THIRD)
    return form


def amiss_order(form: str, typed: Mapping[str, Any], line: int | None) -> Command:
    """The order that one of the forms comes to; `line` is the plan line in hand (None: first)."""
    match form:
        case "reopen":
            return ReopenPouches(typed["pouches"], typed["reason"])
        case "swap":
            return SwapPouches(typed["first"], typed["second"])
        case _:
            return TakeCount(line or 1, typed["what"], typed["counted"])
