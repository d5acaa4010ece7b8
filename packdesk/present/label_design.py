"""How a person wants the labels: which fields, in which order, how large the name and the code."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from packdesk.sentences import joined

LEAST_MODULE_MM = 0.34
"""The least module of a code: four dots of a 300 dpi printer; below that phones begin to fail."""

MOST_MODULE_MM = 1.0
FOOD_SCALES = (0.5, 1.6)


class LabelField(StrEnum):
    """One line of a label; the words are the attributes of `LabelText`."""

    FOOD = "food"
    MASS = "mass"
    PACKED = "packed"
    BEST_QUALITY = "best_quality"
    IDENTITY = "identity"
    LOT = "lot"
    PAIL = "pail"
    ABSORBERS = "absorbers"
    ALLERGENS = "allergens"
    CAUTION = "caution"
    ADVICE = "advice"


KEPT = (
    LabelField.FOOD,
    LabelField.IDENTITY,
    LabelField.ALLERGENS,
    LabelField.CAUTION,
    LabelField.ADVICE,
)
"""What no label may lack: what it is, which pouch it is, and what could hurt somebody."""


@dataclass(frozen=True, slots=True)
class LabelDesign:
    """Which fields stand beside the code and which below the seam, each in its order.

    The first field of all is set largest; `food_scale` (0.5 to 1.6) makes it smaller or larger
    than usual. `module_mm` is the side of one module of the code (0.34 to 1.0 mm); None: as
    large as the label has room for. Raises `ValueError`, in words, for a design that cannot be.
    """

    above: tuple[LabelField, ...] = (
        LabelField.FOOD,
        LabelField.MASS,
        LabelField.PACKED,
        LabelField.BEST_QUALITY,
    )
    below: tuple[LabelField, ...] = (
        LabelField.IDENTITY,
        LabelField.LOT,
        LabelField.PAIL,
        LabelField.ABSORBERS,
        LabelField.ALLERGENS,
        LabelField.CAUTION,
        LabelField.ADVICE,
    )
    food_scale: float = 1.0
    module_mm: float | None = None

    def __post_init__(self) -> None:
        wrong = self._faults()
        if wrong:
            raise ValueError(" ".join(wrong))

    def _faults(self) -> list[str]:
        found = []
        if not self.above:
            found.append("Nothing stands beside the code. Put the food there.")
        found += [
            f"“{name(field)}” is on the label twice. Leave one away."
            for field in LabelField
            if self.fields.count(field) > 1
        ]
        lacking = [f"“{name(field)}”" for field in KEPT if field not in self.fields]
        if lacking:
            found.append(
                f"A label may not go without {joined(lacking)}: what is inside, and what keeps "
                "somebody from harm. Nothing to say takes no room."
            )
        least, most = FOOD_SCALES
        if not least <= self.food_scale <= most:
            found.append(
                f"The name cannot be {self.food_scale:g} times as large as usual. "
                f"Choose {least:g} to {most:g}."
            )
        if self.module_mm is not None and not LEAST_MODULE_MM <= self.module_mm <= MOST_MODULE_MM:
            found.append(
                f"A code with modules of {self.module_mm:g} mm is not printed. Choose "
                f"{LEAST_MODULE_MM:g} mm, the least a phone can read, to {MOST_MODULE_MM:g} mm."
            )
        return found

    @property
    def fields(self) -> tuple[LabelField, ...]:
        """All fields, in the order they are read."""
        return (*self.above, *self.below)


STANDARD = LabelDesign()
"""Food, mass and dates beside the code; everything else below the seam."""

NUMBER_FIRST = LabelDesign(
    above=(LabelField.IDENTITY, LabelField.FOOD, LabelField.MASS, LabelField.PACKED),
    below=(
        LabelField.BEST_QUALITY,
        LabelField.LOT,
        LabelField.PAIL,
        LabelField.ABSORBERS,
        LabelField.ALLERGENS,
        LabelField.CAUTION,
        LabelField.ADVICE,
    ),
)
"""The pouch's own number is the largest: for labels that go on before filling."""


def name(field: LabelField) -> str:
    """What a field is called where a person chooses: `best quality`."""
    return field.replace("_", " ")
