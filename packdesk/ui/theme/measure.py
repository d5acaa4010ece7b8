"""How large things are: type roles and lengths in millimetres, turned into pixels."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

MM_PER_INCH = 25.4
DESIGN_DPI = 96.0
LOWEST_DPI, HIGHEST_DPI = 80.0, 130.0
"""Screens report wrong sizes; outside this band a report is taken for its nearest end."""

CAP_HEIGHT_EM = 0.660
"""Cap height of Source Sans Pro in ems, read from its OS/2 table."""

TEXT_PERCENTS = (90, 100, 115, 130)

LINE_HEIGHT = 1.28
SAY_LINE_HEIGHT = 1.2


class Weight(Enum):
    """The three cuts that are loaded; at most two stand on one line."""

    REGULAR = 400
    SEMIBOLD = 600
    BOLD = 700


class Role(Enum):
    """A voice on the screen: the height of its capitals in mm and its usual weight."""

    NOTE = (2.8, Weight.REGULAR)
    BODY = (3.5, Weight.SEMIBOLD)
    HEAD = (4.5, Weight.SEMIBOLD)
    SAY = (5.9, Weight.SEMIBOLD)
    ACT = (6.6, Weight.SEMIBOLD)
    HOUR = (7.0, Weight.SEMIBOLD)
    ACT_WIDE = (7.7, Weight.SEMIBOLD)
    FIGURE = (12.0, Weight.SEMIBOLD)
    AFAR = (13.3, Weight.SEMIBOLD)
    FAR_FIGURE = (34.9, Weight.SEMIBOLD)

    @property
    def caps_mm(self) -> float:
        """Height of a capital letter on the screen, in mm at 100 % text size."""
        return self.value[0]

    @property
    def weight(self) -> Weight:
        """The weight this voice speaks in unless told otherwise."""
        return self.value[1]

    @property
    def line_height(self) -> float:
        """Distance of base lines in ems."""
        return SAY_LINE_HEIGHT if self in (Role.SAY, Role.AFAR) else LINE_HEIGHT

    @property
    def is_figure(self) -> bool:
        """Whether the voice is set 1.5 % tighter, as large figures are."""
        return self.caps_mm >= Role.HOUR.caps_mm


@dataclass(frozen=True, slots=True)
class Measure:
    """Turns the design's lengths into this screen's pixels.

    `dots_per_inch` is what the screen reports (clamped to 80..130); `text_percent` is the
    person's text size and moves type alone, so that targets keep their millimetres.
    """

    dots_per_inch: float = DESIGN_DPI
    text_percent: int = 100

    def __post_init__(self) -> None:
        if self.text_percent not in TEXT_PERCENTS:
            sizes = ", ".join(str(size) for size in TEXT_PERCENTS)
            raise ValueError(f"text size {self.text_percent} % is none of {sizes}")

    @property
    def scale(self) -> float:
        """Pixels of this screen for one design pixel (1/96 inch)."""
        return min(max(self.dots_per_inch, LOWEST_DPI), HIGHEST_DPI) / DESIGN_DPI

    @property
    def text_scale(self) -> float:
        """The same for type, with the person's text size."""
        return self.scale * self.text_percent / 100

    def px(self, design_px: float) -> float:
        """A length of the design (px at 96 dpi) on this screen."""
        return design_px * self.scale

    def whole(self, design_px: float) -> int:
        """The same in whole pixels, for what a layout wants as integers."""
        return round(design_px * self.scale)

    def mm(self, length_mm: float) -> float:
        """A length in mm on this screen."""
        return length_mm / MM_PER_INCH * DESIGN_DPI * self.scale

    def text_px(self, role: Role) -> int:
        """The em of a type role in whole pixels."""
        return round(self.mm(role.caps_mm / CAP_HEIGHT_EM) * self.text_percent / 100)

    def line_px(self, role: Role) -> int:
        """The line height of a type role in whole pixels."""
        return round(self.text_px(role) * role.line_height)
