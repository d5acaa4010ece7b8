"""The form by which a remainder is shut up: how many, in what, where it stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from packdesk.present.cards import Control
from packdesk.present.packet_words import VESSEL_WORDS
from packdesk.session.commands import ShutRemainder
from packdesk.session.state import SessionState
from packdesk.session.terms import Vessel
from packdesk.ui.pages.form import HALF, THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import PickInput, TypedInput
from packdesk.ui.pages.typed import Sentence, Whole
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice


def jar_form(theme: Theme) -> Form:
    """How many absorbers are in the hand, what they are shut up in, and where that stands."""
    form = Form(theme)
    count = Whole("absorbers", least=0)
    form.add("counted", TypedInput(theme, "You count", count, empty=None, counts=True), THIRD)
    vessel = PickInput(theme, "Put into", "Choose a jar or a pouch.")
    vessel.show_choices(
        tuple(Choice(each.value, words) for each, words in VESSEL_WORDS.items()),
        Vessel.PINT_JAR.value,
    )
    form.add("vessel", vessel, HALF)
    form.add(
        "place",
        TypedInput(
            theme,
            "Where it stands",
            Sentence("Say where."),
            empty="",
            letters=True,
            hint="pantry shelf",
        ),
        WHOLE,
    )
    return form


def jar_order(command: ShutRemainder, typed: Mapping[str, Any]) -> ShutRemainder:
    """The order that form comes to; without a count it is the one the control stands for."""
    counted = typed["counted"]
    return replace(
        command,
        count=command.count if counted is None else counted,
        vessel=Vessel(typed["vessel"]),
        place=typed["place"],
    )


def show_reckoned(form: Form, control: Control | None, session: SessionState | None) -> None:
    """Say beside the count how many absorbers the round is reckoned to have left."""
    command = control.command if control is not None else None
    if session is None or not isinstance(command, ShutRemainder):
        return
    left = session.rounds[command.round].left
    counted = form.inputs["counted"]
    counted.set_label(f"You count ({left} reckoned)")
    counted.box.set_hint(str(left if command.count is None else command.count))
