"""Which choices there are: name, kind, bounds, usual value, and what each is for."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

Value = str | float


@dataclass(frozen=True, slots=True)
class Declared:
    """One choice: text, or a figure from `least` to `most`; `usual` holds until one is made."""

    name: str
    usual: Value
    sentence: str
    least: float = 0.0
    most: float = 0.0
    longest: int = 200

    @property
    def kind(self) -> type[Value]:
        """`str` or `float`."""
        return str if isinstance(self.usual, str) else float

    def objection(self, value: object) -> str:
        """Why `value` cannot be chosen, in words; empty when it can."""
        if isinstance(self.usual, str):
            if not isinstance(value, str):
                return f"is {value!r}, not a text"
            if len(value) > self.longest or not value.isprintable():
                return f"is not a line of at most {self.longest} letters"
            return ""
        if isinstance(value, bool) or not isinstance(value, int | float):
            return f"is {value!r}, not a figure"
        if not self.least <= value <= self.most:  # nan is in no range
            return f"is {value:g}; it must be {self.least:g} to {self.most:g}"
        return ""


DECLARED = MappingProxyType(
    {
        each.name: each
        for each in (
            Declared(
                "name",
                "",
                "Who works here; stands beside every entry from now on. Empty: nobody is named.",
                longest=60,
            ),
            Declared(
                "palette",
                "follow_system",
                "The colours: follow_system, light, dark or high_contrast.",
            ),
            Declared("text_percent", 100.0, "The size of the text in per cent.", 90.0, 130.0),
            Declared("label_stock", "", "The label sheet to begin with; empty: the usual one."),
            Declared(
                "paper_folder",
                "",
                "The folder that papers are put into; empty: the one beside the record book.",
                longest=1000,
            ),
            Declared(
                "sleep_understood",
                "",
                "The sessions in which it is understood that this computer may fall asleep.",
            ),
            Declared("printer", "", "The printer as the system names it; empty: the usual one."),
            Declared(
                "label_fields",
                "",
                "The lines of a label in their order, those below the seam after a bar; "
                "empty: the usual ones.",
            ),
            Declared(
                "label_name_size", 1.0, "How many times larger than usual the name is.", 0.5, 1.6
            ),
        )
    }
)
"""All choices there are, by name."""
