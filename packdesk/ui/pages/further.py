"""What can be done beyond the two controls beside the main one: a third, or all others in rows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import zip_longest

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from packdesk.present.cards import Control
from packdesk.ui.icons import Icon
from packdesk.ui.pages.faces import show_second
from packdesk.ui.pages.turn import BACK
from packdesk.ui.pages.words import let_grow
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.themed import Themed

A_ROW, MOST = 3, 6
MORE = "More"


class Further(QObject):
    """One control `third` below the two; where more than one is left over it opens `rows`.

    Signals:
        asked: the `Control` that was pressed.
    """

    asked = Signal(object)

    def __init__(
        self, theme: Theme, page: QWidget, tap_clock: Callable[[], float] | None = None
    ) -> None:
        super().__init__(page)
        self._controls: tuple[Control, ...] = ()
        self._opened = False
        self.third = SecondControl(theme, clock=tap_clock)
        let_grow(self.third)
        self.third.hide()
        self.third.acted.connect(self._press_third)
        self.third.missing_asked.connect(self._press_third)
        self.rows = FurtherRows(theme, [SecondControl(theme, clock=tap_clock) for _ in range(MOST)])
        self.rows.hide()
        for place, button in enumerate(self.rows.buttons):
            button.acted.connect(lambda place=place: self._ask(place))
            button.missing_asked.connect(lambda place=place: self._ask(place))

    @property
    def opened(self) -> bool:
        """Whether the rows are open."""
        return self._opened

    def show_controls(self, controls: Sequence[Control]) -> None:
        """Offer these; without any the place is gone."""
        self._controls = tuple(controls)
        assert len(self._controls) <= MOST, "more than the rows hold"
        self._opened = self._opened and len(self._controls) > 1
        self.third.setVisible(bool(self._controls))
        if len(self._controls) == 1:
            show_second(self.third, self._controls[0])
        elif self._opened:
            show_second(self.third, BACK)
        elif self._controls:
            letters = " ".join(each.key for each in self._controls)
            self.third.show_face(SecondFace(MORE, letters, Icon.MORE))
            words = ", ".join(each.label for each in self._controls)
            self.third.setAccessibleName(f"{MORE}: {words}")
        self.rows.setVisible(self._opened)
        if self._opened:
            self.rows.show_controls(self._controls)

    def close(self) -> bool:
        """Close the rows; whether they were open."""
        was, self._opened = self._opened, False
        if was:
            self.show_controls(self._controls)
        return was

    def _press_third(self) -> None:
        if len(self._controls) == 1:
            self._ask(0)
            return
        self._opened = not self._opened
        self.show_controls(self._controls)
        if self._opened:
            self.rows.buttons[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _ask(self, place: int) -> None:
        control = self._controls[place]
        self.close()
        self.asked.emit(control)


class FurtherRows(Themed):
    """Controls in rows of three."""

    def __init__(self, theme: Theme, buttons: list[SecondControl]) -> None:
        super().__init__(theme, ground="sheet")
        self.buttons = buttons
        self._grid = QGridLayout(self)
        for place, button in enumerate(buttons):
            let_grow(button)
            self._grid.addWidget(button, place // A_ROW, place % A_ROW)
        for column in range(A_ROW):
            self._grid.setColumnStretch(column, 1)
            self._grid.setColumnMinimumWidth(column, 1)
        self.restyle()

    def restyle(self) -> None:
        """Keep the millimetres between the controls on any screen."""
        super().restyle()
        if hasattr(self, "_grid"):
            self._grid.setContentsMargins(0, 0, 0, 0)
            self._grid.setSpacing(self.theme.whole(self.theme.layout.target_gap))

    def show_controls(self, controls: Sequence[Control]) -> None:
        """Show these, one a button."""
        for button, control in zip_longest(self.buttons, controls):
            show_second(button, control)
