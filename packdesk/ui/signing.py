"""Whose name stands beside what is entered: taken at once, and kept for the next start."""

from __future__ import annotations

from collections.abc import Callable

from packdesk.desk.desk import Desk
from packdesk.desk.ports import Choices, Trouble


class Signing:
    """Lets the desk know who is at it; `say` tells how that came out."""

    def __init__(self, desk: Desk, choices: Choices, say: Callable[[str], None]) -> None:
        self._desk = desk
        self._choices = choices
        self._say = say

    def sign(self, name: str) -> None:
        """Let a name stand beside all that is entered from now on; empty: nobody's."""
        try:
            self._choices.keep(self._choices.settings.with_choice("name", name))
        except ValueError as wrong:
            self._say(str(wrong))
            return
        except Trouble as trouble:
            self._say(f"{trouble} The name holds until PackDesk is closed.")
        self._desk.who = name
        by = f"say that {name} made them" if name else "name nobody"
        self._say(f"Entries from now on {by}.")
