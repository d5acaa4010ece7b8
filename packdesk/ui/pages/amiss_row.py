"""The place at the foot of a page for what went wrong: a heading and a control for each cure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import zip_longest

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from packdesk.present.amiss import AMISS_TITLE
from packdesk.present.cards import Control
from packdesk.ui.pages.faces import show_second
from packdesk.ui.pages.words import Words, let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl
from packdesk.ui.widgets.themed import Themed

A_ROW, MOST = 3, 4
APART = 19


class AmissRow(Themed):
    """Up to three controls in a row under their heading, and a fourth below them.

    Signals:
        asked: the `Control` that was pressed.
    """

    asked = Signal(object)

    def __init__(self, theme: Theme, tap_clock: Callable[[], float] | None = None) -> None:
        super().__init__(theme, ground="sheet")
        self._controls: tuple[Control, ...] = ()
        self._column = column = QVBoxLayout(self)
        self.title = Words(theme, Role.BODY, weight=Weight.SEMIBOLD)
        column.addWidget(self.title)
        self._row = QHBoxLayout()
        self.buttons = [SecondControl(theme, clock=tap_clock) for _ in range(MOST)]
        for place, button in enumerate(self.buttons):
            let_grow(button)
            button.acted.connect(lambda place=place: self.asked.emit(self._controls[place]))
            if place < A_ROW:
                self._row.addWidget(button, 1)
        self._rows = QVBoxLayout()
        self._rows.addLayout(self._row)
        for button in self.buttons[A_ROW:]:
            self._rows.addWidget(button)
        column.addLayout(self._rows)
        self.restyle()

    def restyle(self) -> None:
        """Keep the millimetres between the controls on any screen."""
        super().restyle()
        if hasattr(self, "_rows"):
            theme = self.theme
            self._column.setContentsMargins(0, theme.whole(6), 0, 0)
            self._column.setSpacing(theme.whole(6))
            self._rows.setSpacing(theme.whole(APART))
            self._row.setSpacing(theme.whole(APART))

    def show_controls(self, controls: Sequence[Control]) -> None:
        """Offer these; without any the place is gone."""
        self._controls = tuple(controls[:MOST])
        self.setVisible(bool(self._controls))
        self.title.say(AMISS_TITLE if self._controls else "")
        for button, control in zip_longest(self.buttons, self._controls):
            show_second(button, control)
