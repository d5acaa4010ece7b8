"""A design of labels as a person writes it: fields by name, in their order, and how large."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.present.label_design import STANDARD, LabelDesign, LabelField, name
from packdesk.settings.chosen import Settings

_BAR = "|"


def fields_in_words(fields: Sequence[LabelField]) -> str:
    """Fields as they are typed, such as `food, best quality`."""
    return ", ".join(name(field) for field in fields)


def fields_of(typed: str) -> tuple[LabelField, ...]:
    """The fields that `food, best quality` names; raises `ValueError`, in words."""
    known = {name(field): field for field in LabelField}
    found = []
    for part in typed.split(","):
        said = " ".join(part.lower().split())
        if said and said not in known:
            raise ValueError(f"A label has no “{said}”. Choose from: {', '.join(known)}.")
        if said:
            found.append(known[said])
    return tuple(found)


def design_in_words(design: LabelDesign) -> str:
    """Both lists of fields as one setting."""
    return f"{fields_in_words(design.above)} {_BAR} {fields_in_words(design.below)}"


def design_of(settings: Settings) -> LabelDesign:
    """The design a person has chosen, the usual one until then; raises `ValueError`, in words."""
    said = settings.text("label_fields")
    above, bar, below = said.partition(_BAR)
    if said and not bar:
        raise ValueError("The setting “label_fields” has no bar before the fields below the seam.")
    return LabelDesign(
        fields_of(above) if said else STANDARD.above,
        fields_of(below) if said else STANDARD.below,
        food_scale=settings.figure("label_name_size"),
    )
