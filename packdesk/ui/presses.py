"""What a key, a typed figure or a line of a scale does in the window, near or from afar."""

from __future__ import annotations

from typing import TYPE_CHECKING

from packdesk.session.envelope import Entry

if TYPE_CHECKING:
    from packdesk.ui.window import Window


class Presses:
    """Does in `window` what `Keys` made out of the keys; each answer says whether it did."""

    def __init__(self, window: Window) -> None:
        self._window = window

    @property
    def entries(self) -> tuple[Entry, ...]:
        """What is on record, to tell afterwards whether a press put anything there."""
        return self._window.desk.entries

    def press_main(self) -> bool:
        """Do what the main control says, as a tap on it would."""
        window = self._window
        (window.far if window.from_afar else window.page).main.act()
        return True

    def press_letter(self, letter: str) -> bool:
        """Press the control that has this letter; whether there is one."""
        window = self._window
        if not window.from_afar and window.page.press_key(letter):
            return True
        if window.desk.state.session is None or letter not in ("F", "H"):
            return False
        if letter == "H":
            window.show_story()
        elif window.from_afar:
            window.afar.show_near()
        else:
            window.afar.show_far()
        return True

    def take_figure(self, text: str) -> bool:
        """Let a typed figure go to the field for figures; whether there is one."""
        self._window.afar.show_near()
        return self._window.page.take_digits(text)

    def take_line(self, line: str, *, entered: bool) -> None:
        """Take a line that a scale typed, and what its Enter asks for; or say why not."""
        window = self._window
        if not line.strip():
            return
        window.afar.show_near()
        if not entered and not any(letter.isdecimal() for letter in line):
            window.say(
                f"“{line.strip()}” came faster than a hand types. Nothing was done.", fleeting=True
            )
        elif not window.page.take_digits(line, anew=True):
            window.say(
                f"The scale sent “{line.strip()}”. Nothing here takes a mass now.", fleeting=True
            )
        elif entered:
            self.press_main()

    def take_blank_back(self, before: tuple[Entry, ...]) -> None:
        """What was taken for the Space bar was the blank before a scale's figure.

        `before` are the entries there were then; what it put on record is taken back.
        """
        window = self._window
        if window.desk.entries is not before:
            window.undo()
            window.say(
                "The scale sends a blank before its figure. The blank counted as the Space bar "
                "once and was taken back; the mass counts."
            )
        for main in (window.page.main, window.far.main):
            main.forget_tap()

    def go_back(self) -> bool:
        """Take a notice away, else close what was opened last: a form, a check, the story.

        A notice comes first: reading it costs no figure typed and nothing ticked."""
        window = self._window
        if window.from_afar:
            window.afar.show_near()
        elif window.notices.understood() or window.page.close_form():
            return True
        elif window.page in (window.start, window.story):
            window.show_now()
        return True

    def undo(self) -> bool:
        """Take the last entry back."""
        self._window.undo()
        return True
