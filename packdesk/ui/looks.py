"""How the window looks by choice: colours and the size of the text, kept for the next start."""

from __future__ import annotations

from collections.abc import Callable

from packdesk.desk.ports import Choices, Trouble
from packdesk.settings.chosen import Settings
from packdesk.ui.theme.choice import PaletteChoice
from packdesk.ui.theme.dress import Dress
from packdesk.ui.theme.measure import TEXT_PERCENTS
from packdesk.ui.theme.theme import Theme

USUAL_PERCENT = 100


def kept_palette(settings: Settings) -> PaletteChoice:
    """The colours chosen the last time; as the system has them where the word is not known."""
    try:
        return PaletteChoice(settings.text("palette"))
    except ValueError:
        return PaletteChoice.FOLLOW_SYSTEM


def kept_percent(settings: Settings) -> int:
    """The size of the text chosen the last time; the usual one where there is no such step."""
    percent = int(settings.figure("text_percent"))
    return percent if percent in TEXT_PERCENTS else USUAL_PERCENT


class Looks:
    """Takes a choice at once and keeps it; `say` is told where it cannot be kept."""

    def __init__(
        self, choices: Choices, theme: Theme, dress: Dress | None, say: Callable[[str], None]
    ) -> None:
        self._choices = choices
        self._theme = theme
        self._dress = dress
        self._say = say

    def choose_palette(self, choice: PaletteChoice) -> None:
        """Take the colours a person chose."""
        if self._dress is not None:
            self._dress.choose(choice)
        self._keep("palette", choice.value)

    def choose_text_size(self, percent: int) -> None:
        """Take the size of the text a person chose, in per cent."""
        self._theme.set_text_percent(percent)
        self._keep("text_percent", float(percent))

    def _keep(self, name: str, value: str | float) -> None:
        try:
            self._choices.keep(self._choices.settings.with_choice(name, value))
        except Trouble as trouble:
            self._say(f"{trouble} The choice holds until PackDesk is closed.")
