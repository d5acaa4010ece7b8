"""What a measured alignment page tells: whether the printer keeps its scale, how far it is off."""

from __future__ import annotations

from dataclasses import dataclass

RULER_MM = 100
"""How long both rulers of the alignment page are."""

SCALE_TOLERANCE_MM = 0.5
"""A ruler measured to within this is as long as it should be."""

MOST_OFFSET_MM = 5.0
"""A sheet printed further off than this is in the wrong tray, not out of true."""

_RULERS_MM = (50.0, 200.0)
"""What a printed ruler can measure; anything else is a slip of the pen."""

_CURE = (
    "Choose “actual size” or “100 %” in the printer's window, never “fit to page”, and print the "
    "alignment page again. Labels are not stretched to make up for it."
)


@dataclass(frozen=True, slots=True)
class ScaleVerdict:
    """Whether both rulers came out right, in words; `cure` is empty when they did."""

    true: bool
    sentence: str
    cure: str = ""


def judge_rulers(across_mm: float, down_mm: float) -> ScaleVerdict:
    """Judge the two rulers of an alignment page as they were measured on paper (50 to 200 mm).

    Raises `ValueError`, in words, for a length that no printer makes of 100 mm.
    """
    least, most = _RULERS_MM
    for length in (across_mm, down_mm):
        if not least <= length <= most:
            raise ValueError(
                f"{length:g} mm cannot be one of the two rulers. Measure from the first to the "
                f"last line of the ruler, in millimetres; it should be {RULER_MM:g}."
            )
    off = [
        (way, length)
        for way, length in (("across", across_mm), ("down", down_mm))
        if abs(length - RULER_MM) > SCALE_TOLERANCE_MM
    ]
    if not off:
        return ScaleVerdict(True, "Both rulers are right: this printer keeps to actual size.")
    if len(off) == 2 and abs(across_mm - down_mm) <= 2 * SCALE_TOLERANCE_MM:
        mean = (across_mm + down_mm) / 2
        return ScaleVerdict(
            False, f"The rulers measure {across_mm:g} and {down_mm:g} mm, not 100: the page was "
            f"printed at about {round(mean, 1):g} % of its size.", _CURE,
        )  # fmt: skip
    said = " and ".join(f"{length:g} mm {way}" for way, length in off)
    return ScaleVerdict(
        False, f"A ruler measures {said}, not 100: the page was stretched one way more than the "
        "other.", f"{_CURE} If it stays so, try another tray or paper kind.",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PrinterTrim:
    """How far one printer's prints on one label stock are moved, right and down (mm).

    Raises `ValueError`, in words, for more than 5 mm either way.
    """

    printer: str
    stock: str
    right_mm: float = 0.0
    down_mm: float = 0.0

    def __post_init__(self) -> None:
        check_offset((self.right_mm, self.down_mm))

    @property
    def offset_mm(self) -> tuple[float, float]:
        """Right and down, as sheets of labels take it."""
        return self.right_mm, self.down_mm

    def corrected(self, off_right_mm: float, off_down_mm: float) -> PrinterTrim:
        """The trim after a page printed with this one was measured.

        `off_right_mm` and `off_down_mm` say how far the crosses lie to the right of and below
        the corners of the labels (negative: left, above): everything moves the other way.
        """
        return PrinterTrim(
            self.printer,
            self.stock,
            round(self.right_mm - off_right_mm, 2),
            round(self.down_mm - off_down_mm, 2),
        )


def check_offset(offset_mm: tuple[float, float]) -> None:
    """Raise `ValueError`, in words, for an offset of more than 5 mm right or down, either way."""
    if not all(abs(shift) <= MOST_OFFSET_MM for shift in offset_mm):
        right, down = offset_mm
        raise ValueError(
            f"An offset of {right:g} mm right and {down:g} mm down is more than "
            f"{MOST_OFFSET_MM:g} mm. Check that the sheet lies straight in the right tray."
        )
