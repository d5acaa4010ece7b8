"""How the labels shall look: their fields, the order, the size of the name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.catalog.label_stock import LabelStock
from packdesk.desk.ports import Choices
from packdesk.present.label_design import FOOD_SCALES, STANDARD, LabelDesign
from packdesk.present.label_text import label_texts
from packdesk.present.label_wish import design_in_words, fields_in_words, fields_of
from packdesk.settings.chosen import Settings
from packdesk.ui.pages.form import THIRD, TWO_THIRDS, WHOLE, Form
from packdesk.ui.pages.inputs import AtField, TypedInput
from packdesk.ui.pages.label_preview import LabelPreview
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.typed import Whole
from packdesk.ui.theme.theme import Theme
from packdesk.units import NotUnderstood


def _fields(text: str) -> tuple:
    try:
        return fields_of(text)
    except ValueError as wrong:
        raise NotUnderstood(str(wrong)) from None


class DesignForm(Form):
    """What stands beside the code, what below the seam, how large the name is.

    `look` is one label as it is designed so far, or why it cannot be; it stands on the page below.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        above = TypedInput(theme, "Beside the code, in this order", _fields, letters=True)
        self.add("above", above, TWO_THIRDS)
        least, most = (round(100 * scale) for scale in FOOD_SCALES)
        size = TypedInput(theme, "Size of the first line, in %", Whole("%", least, most), empty=100)
        self.add("size", size, THIRD)
        below = TypedInput(theme, "Below the seam, in this order", _fields, letters=True)
        self.add("below", below, WHOLE)
        self.look = LabelPreview(theme)
        self.look.hide()

    def show_design(self, design: LabelDesign) -> None:
        """Put a design into the fields, where nothing was typed."""
        self.inputs["above"].preset(fields_in_words(design.above))
        self.inputs["below"].preset(fields_in_words(design.below))
        self.inputs["size"].preset(f"{100 * design.food_scale:.0f}")

    def show_look(self, stock: LabelStock | None, sight: Sight) -> None:
        """Draw the label of the first pouch; the last one stays while no design is typed."""
        design = self._so_far()
        if sight.session is None or design is None:
            return
        number = next((p.number for p in sight.session.working_pouches()), None)
        if number is None:
            self.look.say("A label is shown here once a pouch is filled.")
            return
        (text,) = label_texts(sight.session, (number,))
        self.look.show_label(text, stock, design, sight.tools.papers)

    def keep(self, typed: Mapping[str, Any], choices: Choices) -> None:
        """Make labels so from now on; raises `AtField`, and `Trouble` when it cannot be kept."""
        choices.keep(with_design(choices.settings, design_typed(typed)))
        self.clear()

    def _so_far(self) -> LabelDesign | None:
        typed = {name: item.peek() for name, item in self.inputs.items()}
        if None in typed.values():
            return None
        try:
            return design_typed(typed)
        except AtField:
            return None


def design_typed(typed: Mapping[str, Any]) -> LabelDesign:
    """The design that was typed; raises `AtField` for one that cannot be."""
    try:
        return LabelDesign(typed["above"], typed["below"], food_scale=typed["size"] / 100)
    except ValueError as wrong:
        raise AtField("above", str(wrong)) from None


def with_design(settings: Settings, design: LabelDesign) -> Settings:
    """The settings with this design."""
    usual = (design.above, design.below) == (STANDARD.above, STANDARD.below)
    said = "" if usual else design_in_words(design)
    chosen = settings.with_choice("label_fields", said)
    return chosen.with_choice("label_name_size", design.food_scale)
