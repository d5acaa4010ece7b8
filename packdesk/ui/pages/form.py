"""The inputs that one control needs, in rows; reads them all at once or says which are wrong."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from packdesk.ui.pages.inputs import OptionInput, PickInput, TypedInput
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.themed import Themed
from packdesk.units import NotUnderstood

COLUMNS = 6
FIELD_GAP = 11
THIRD, HALF, TWO_THIRDS, WHOLE = 2, 3, 4, 6


class Form(Themed):
    """Inputs by name on a grid of six columns, filled from the left, a new row when one is full.

    `beside` marks a form that stands beside the main control and changes what it means, instead
    of being completed by a control of its own; `stays` one that is shown even while the main
    control is "not yet", `waits` one that is not shown before its control is pressed, or a figure
    typed, even where that is the main control.
    """

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        beside: bool = False,
        stays: bool = False,
        waits: bool = False,
    ) -> None:
        super().__init__(theme, parent, ground="sheet")
        self.beside = beside
        self.stays = stays
        self.waits = waits
        self.inputs: dict[str, TypedInput | PickInput | OptionInput] = {}
        self._row, self._column = 0, 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        for column in range(COLUMNS):
            self._grid.setColumnStretch(column, 1)
            self._grid.setColumnMinimumWidth(column, 1)
        self.restyle()
        self.hide()

    def add(
        self, name: str, item: TypedInput | PickInput | OptionInput, span: int = THIRD
    ) -> TypedInput | PickInput | OptionInput:
        """Put an input at the next free place, `span` sixths of the width wide."""
        if self._column + span > COLUMNS:
            self.new_row()
        self._grid.addWidget(item, self._row, self._column, 1, span, Qt.AlignmentFlag.AlignTop)
        self._column += span
        self.inputs[name] = item
        return item

    def add_words(self, words: QWidget) -> None:
        """Put a sentence under the inputs, over the whole width."""
        self.new_row()
        self._grid.addWidget(words, self._row, 0, 1, COLUMNS)
        self.new_row()

    def add_picture(self, picture: QWidget, share: int = 2) -> None:
        """Put a picture to the right of all inputs, `share` sixths of their width wide."""
        self._grid.addWidget(picture, 0, COLUMNS, self._row + 1, 1)
        self._grid.setColumnStretch(COLUMNS, share)

    def new_row(self) -> None:
        """Begin a new row."""
        self._row, self._column = self._row + 1, 0

    def values(self) -> Mapping[str, Any] | None:
        """What all inputs come to; None when one objects, which then has the focus."""
        found: dict[str, Any] = {}
        wrong: list[TypedInput | PickInput | OptionInput] = []
        for name, item in self.inputs.items():
            if item.isHidden():
                continue
            try:
                found[name] = item.value()
            except NotUnderstood:
                wrong.append(item)
        if not wrong:
            return found
        self.focus_on(wrong[0])
        if isinstance(wrong[0], TypedInput) and wrong[0].counts:
            wrong[0].box.selectAll()  # what a scale sends next takes its place
        return None

    def clear(self) -> None:
        """Forget what was typed."""
        for item in self.inputs.values():
            item.clear()

    def first(self) -> TypedInput | PickInput | OptionInput | None:
        """The first input to fill in: an empty field, or simply the first."""
        shown = [item for item in self.inputs.values() if not item.isHidden()]
        empty = [item for item in shown if isinstance(item, TypedInput) and not item.text]
        return (empty or shown or [None])[0]

    @property
    def only_counts(self) -> bool:
        """Whether all that is filled in here are counts and masses, for which Space counts."""
        shown = [item for item in self.inputs.values() if not item.isHidden()]
        return all(isinstance(item, TypedInput) and item.counts for item in shown)

    @property
    def takes_words(self) -> bool:
        """Whether words have to be typed here, so that the Space bar belongs to them."""
        shown = [item for item in self.inputs.values() if not item.isHidden()]
        words = [item for item in shown if isinstance(item, TypedInput) and item.letters]
        return any(item.required for item in words)

    def digits(self) -> TypedInput | None:
        """The field that typed digits go to while the focus is on the main control."""
        for item in self.inputs.values():
            if isinstance(item, TypedInput) and not item.letters and not item.isHidden():
                return item
        return None

    def objecting(self) -> TypedInput | PickInput | None:
        """The first input beside which something is said to be wrong."""
        for item in self.inputs.values():
            if not isinstance(item, OptionInput) and item.refusal.objection is not None:
                return item
        return None

    def focus_on(self, item: QWidget) -> None:
        """Give an input the focus."""
        if isinstance(item, OptionInput):
            item = next((b for b in item.buttons if b.isChecked()), item)
        item.setFocus(Qt.FocusReason.OtherFocusReason)

    def restyle(self) -> None:
        super().restyle()
        gap = self.theme.whole(FIELD_GAP)
        self._grid.setVerticalSpacing(gap)
        self._grid.setHorizontalSpacing(self.theme.whole(16))
