"""Whose turn it is on a page: which control acts, which stand beside it, which form is shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from packdesk.present.cards import Control, WorkCard
from packdesk.ui.pages.form import Form

BACK = Control("Go back", icon="undo", key="Esc")
FORM_HINT = "Space bar or Enter; Esc goes back"
WORDS_HINT = "Enter; Esc goes back"
"""Where words are typed the Space bar is theirs."""


@dataclass(frozen=True)
class Turn:
    """A card, the forms of its page, and the form opened by hand (empty: none)."""

    card: WorkCard
    forms: Mapping[str, Form]
    opened: str = ""

    @property
    def acting(self) -> Control:
        """The control that the main place shows: the card's own, or the one being filled in."""
        form = self.forms.get(self.opened)
        control = self._control_of(self.opened)
        if form is None or form.beside or control is None:
            return self.card.main
        label = control.act or control.label
        hint = WORDS_HINT if form.takes_words else FORM_HINT
        return replace(control, label=label, missing="", key="", hint=hint)

    @property
    def form(self) -> Form | None:
        """The form whose fields the main control reads."""
        if self.opened:
            return self.forms[self.opened]
        standing = self.forms.get(self.card.main.form)
        if standing is None or standing.waits or (self.card.main.missing and not standing.stays):
            return None
        return standing

    @property
    def waiting(self) -> Form | None:
        """The main control's own form, if it is one that waits and is not open yet."""
        form = None if self.opened else self.forms.get(self.card.main.form)
        return form if form is not None and form.waits else None

    @property
    def beside(self) -> tuple[Control, ...]:
        """The controls beside the main one, at most two; beside an opened form the way back."""
        if not self.opened:
            return self.card.seconds[:2]
        if self.acting.title:  # an act of its own: nothing beside it belongs to it
            return (BACK,)
        others = [control for control in self.card.seconds if control.form != self.opened]
        return (BACK, *others[:1])

    @property
    def offered(self) -> bool:
        """Whether the form opened by hand still belongs to a control of the card."""
        return self._control_of(self.opened) is not None

    def _control_of(self, form: str) -> Control | None:
        controls = (*self.card.seconds, self.card.main, *self.card.amiss)
        return next((each for each in controls if form and each.form == form), None)


def means(card: WorkCard) -> tuple[object, ...]:
    """What a card offers, without the figures that change from minute to minute."""
    return tuple((each.form, type(each.command)) for each in (card.main, *card.seconds))
