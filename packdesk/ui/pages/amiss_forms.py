"""The forms for what went wrong: pouches opened again, two mixed up, a count to compare."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from packdesk.present.absorbers_felt import FELT
from packdesk.present.amiss import COUNTABLE, countable_lines
from packdesk.present.cards import Control, WorkCard
from packdesk.present.plan_change import lines_apart
from packdesk.sentences import capital
from packdesk.session.commands import Command, FeelAbsorbers, ReopenPouches, SwapPouches, TakeCount
from packdesk.session.state import SessionState
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


AMISS = frozenset({"reopen", "swap", "compare", FELT})
"""What the forms are called."""


def amiss_forms(theme: Theme) -> dict[str, Form]:
    """The forms by the names their controls have."""
    return {
        "reopen": _reopen(theme),
        "swap": _swap(theme),
        "compare": _compare(theme),
        FELT: _felt(theme),
    }


def _reopen(theme: Theme) -> Form:
    form = Form(theme)
    form.add("pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"), THIRD)
    reason = TypedInput(
        theme, "Why, if you like", Sentence("Say why."), empty="", letters=True,
        hint="one absorber more",
    )  # fmt: skip
    form.add("reason", reason, WHOLE - THIRD)
    return form


def _felt(theme: Theme) -> Form:
    form = Form(theme, waits=True)
    form.add(
        "without",
        TypedInput(theme, "Which have none", Numbers(), hint="such as 3, 5"),
        HALF,
    )
    return form


def _swap(theme: Theme) -> Form:
    form = Form(theme)
    for name, label in (("first", "One number"), ("second", "The other number")):
        number = Whole("is a pouch number that", most=99_999)
        form.add(name, TypedInput(theme, label, number), HALF)
    return form


def _compare(theme: Theme) -> Form:
    form = Form(theme)
    form.add("line", OptionInput(theme, "Of which food"), WHOLE)
    what = OptionInput(theme, "You counted those that are at least", PouchStage.FILLED.value)
    what.show_options(
        tuple(Option(each.value, _WORDS[each]) for each in COUNTABLE), PouchStage.FILLED.value
    )
    form.add("what", what, WHOLE)
    form.add("counted", TypedInput(theme, "You count", Whole("pouches", least=0)), THIRD)
    return form


def offer_count(form: Form, card: WorkCard, session: SessionState) -> None:
    """Begin a count with the food and the step that are in hand; which food, where there are more.

    Only while the form is not open: what a person chose there stays.
    """
    counts = [each.command for each in card.amiss if isinstance(each.command, TakeCount)]
    if not counts:
        return
    foods = countable_lines(session)
    names = lines_apart(foods, session.units, short=True)
    options = tuple(Option(str(each), capital(name)) for each, name in names.items())
    line = form.inputs["line"]
    line.show_options(options, str(counts[0].line))
    line.begin_with(str(counts[0].line))
    line.setVisible(len(foods) > 1)
    form.inputs["what"].begin_with(counts[0].what)


def amiss_order(control: Control, typed: Mapping[str, Any]) -> Command:
    """The order that the form of one of the controls comes to."""
    match control.form:
        case "reopen":
            return ReopenPouches(typed["pouches"], typed["reason"])
        case form if form == FELT:
            assert isinstance(control.command, FeelAbsorbers), "the card feels with this form"
            return replace(control.command, without=typed["without"])
        case "swap":
            return SwapPouches(typed["first"], typed["second"])
        case _:
            assert isinstance(control.command, TakeCount), "the card counts with this form"
            line = int(typed.get("line", control.command.line))
            return TakeCount(line, typed["what"], typed["counted"])
