"""What a person may change about a label, and what not."""

from __future__ import annotations

from dataclasses import fields

import pytest

from packdesk.present.label_design import KEPT, NUMBER_FIRST, STANDARD, LabelDesign, LabelField
from packdesk.present.papers import LabelText


def test_every_field_of_a_label_can_be_placed() -> None:
    """The usual designs hold each field of a label once; only the code has its own place."""
    spoken = {field.name for field in fields(LabelText)} - {"pouch", "code"}

    for design in (STANDARD, NUMBER_FIRST):
        assert sorted(design.fields) == sorted(spoken)


@pytest.mark.parametrize("field", KEPT)
def test_what_keeps_somebody_from_harm_cannot_be_left_out(field: LabelField) -> None:
    """Food, identity, allergens, caution and advice are on every label."""
    with pytest.raises(ValueError, match=f"without “{field}”"):
        LabelDesign(
            above=tuple(each for each in STANDARD.above if each != field),
            below=tuple(each for each in STANDARD.below if each != field),
        )


def test_the_rest_can_be_left_out() -> None:
    """A label may do without mass, dates, lot and absorbers."""
    design = LabelDesign(above=KEPT[:1], below=KEPT[1:])

    assert set(design.fields) == set(KEPT)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"above": ()}, "Nothing stands beside the code"),
        ({"above": (LabelField.FOOD, LabelField.LOT)}, "“lot” is on the label twice"),
        ({"food_scale": 3.0}, "Choose 0.5 to 1.6"),
        ({"food_scale": float("nan")}, "Choose 0.5 to 1.6"),
        ({"module_mm": 0.2}, "0.34 mm, the least a phone can read"),
        ({"module_mm": 2.0}, "to 1 mm"),
    ],
)
def test_a_design_that_cannot_be_says_why(changed: dict[str, object], words: str) -> None:
    """Every limit of a design is told with its cure."""
    with pytest.raises(ValueError, match=words):
        LabelDesign(**changed)  # type: ignore[arg-type]


def test_all_faults_are_told_at_once() -> None:
    """Two faults make two sentences."""
    with pytest.raises(ValueError, match=r"Choose 0\.5 to 1\.6\..*0\.34 mm"):
        LabelDesign(food_scale=9.0, module_mm=0.1)


def test_what_a_label_lacks_is_told_in_one_sentence() -> None:
    """Four fields left away are one fault with four names, not the same sentence four times."""
    with pytest.raises(ValueError, match="may not go without") as fault:
        LabelDesign(above=(LabelField.FOOD,), below=(LabelField.LOT,))

    said = str(fault.value)
    assert said.count("may not go without") == 1
    assert "“identity”, “allergens”, “caution” and “advice”" in said
