"""The inputs of a form: each keeps what was typed or chosen and says what it comes to."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from packdesk.ui.pages.options import Options
from packdesk.ui.pages.typed import Quantity, Whole, figure
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import ChoiceField
from packdesk.ui.widgets.field import Field
from packdesk.ui.widgets.refusal import objection_of
from packdesk.units import NotUnderstood

REQUIRED: Any = object()
"""Stands for "must be filled in" where an input may otherwise stay empty."""


class AtField(NotUnderstood):
    """What was typed fits its field but not the rest; the words stand beside the field named."""

    def __init__(self, field: str, words: str) -> None:
        super().__init__(words)
        self.field = field


class TypedInput(Field):
    """A field whose text a reader turns into a value; the text stays as it was typed.

    `letters`: words are typed here, so no letter and no Space is taken for a control. `counts`:
    Space counts even while something is typed, as in the mass field beside a scale.
    """

    def __init__(
        self,
        theme: Theme,
        label: str,
        reader: Callable[[str], Any],
        *,
        empty: Any = REQUIRED,
        letters: bool = False,
        counts: bool = False,
        hint: str = "",
    ) -> None:
        super().__init__(theme, label, hint=hint)
        self.letters = letters
        self.counts = counts
        self._reader = reader
        self._empty = empty
        self.box.setProperty("input", True)
        self.edited.connect(self._recheck)
        self.committed.connect(self._check)
        self.expect(reader)

    def expect(self, reader: Callable[[str], Any]) -> None:
        """Read the text this way from now on."""
        self._reader = reader
        if isinstance(reader, Quantity):
            self.box.set_unit(reader.unit)
            self.box.setAccessibleName(f"{self._label} in {reader.unit}")

    @property
    def keeps_blanks(self) -> bool:
        """Whether a blank belongs into what stands here: into words, and into a quantity that was
        begun ("2 lb 8 oz"), but into no count."""
        if self.letters:
            return True
        return bool(self.text) and not (self.counts or isinstance(self._reader, Whole))

    @property
    def required(self) -> bool:
        """Whether it may not stay empty."""
        return self._empty is REQUIRED

    def value(self) -> Any:
        if self._may_stay_empty():
            self.show_objection(None)
            return self._empty
        try:
            found = self._reader(self.text)
        except NotUnderstood as refused:
            self.show_objection(objection_of(str(refused)))
            raise
        self.show_objection(None)
        return found

    def peek(self) -> Any:
        """What the text comes to so far, or None; says nothing about what is wrong."""
        if self._may_stay_empty():
            return self._empty
        try:
            return self._reader(self.text)
        except NotUnderstood:
            return None

    def clear(self) -> None:
        self.box.setText("")
        self.box.set_told("")
        self.show_objection(None)

    def preset(self, text: str) -> None:
        """Put a usual answer there, unless the person typed one."""
        if not self.box.isModified():
            self.show_text(text)

    def preset_quantity(self, said: str) -> None:
        """Put a usual quantity there as it is said, without the unit that stands in the box."""
        unit = self._reader.unit if isinstance(self._reader, Quantity) else ""
        self.preset(figure(said, unit))

    def _may_stay_empty(self) -> bool:
        return not self.text.strip() and self._empty is not REQUIRED

    def _check(self, _text: str = "") -> None:
        """Object as soon as the field is left; an empty one is asked for only when it is needed."""
        if not self.text.strip():
            self.show_objection(None)
            return
        try:
            self.value()
        except NotUnderstood:
            return

    def _recheck(self, _text: str = "") -> None:
        if self.refusal.objection is not None:
            self._check()


class PickInput(ChoiceField):
    """A list to pick from; nothing is picked until the person, or the page, does it.

    With `forgets` it is empty again once what it was picked for is on record.
    """

    def __init__(self, theme: Theme, label: str, wanted: str, *, forgets: bool = False) -> None:
        super().__init__(theme, label)
        self._wanted = wanted
        self._forgets = forgets
        self.chosen.connect(lambda _key: self.show_objection(None))

    def value(self) -> str:
        if not self.key:
            refused = f"Nothing is chosen. {self._wanted}"
            self.show_objection(objection_of(refused))
            raise NotUnderstood(refused)
        self.show_objection(None)
        return self.key

    def clear(self) -> None:
        self.show_objection(None)
        if self._forgets:
            self.box.setCurrentIndex(-1)


class OptionInput(Options):
    """A row of choices, one of which is always chosen; `usual` is the one to begin with."""

    def __init__(self, theme: Theme, label: str, usual: str = "") -> None:
        super().__init__(theme, label)
        self._usual = usual

    def begin_with(self, usual: str) -> None:
        """Choose `usual` now, and again whenever what was chosen is forgotten."""
        self._usual = usual
        self.choose(usual)

    def value(self) -> str:
        return self.key

    def clear(self) -> None:
        if self._usual:
            self.choose(self._usual)


def input_around(widget: QWidget | None) -> TypedInput | PickInput | OptionInput | None:
    """The input that a focused widget belongs to."""
    while widget is not None:
        if isinstance(widget, (TypedInput, PickInput, OptionInput)):
            return widget
        widget = widget.parentWidget()
    return None
