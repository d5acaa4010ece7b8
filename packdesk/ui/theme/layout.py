"""Which of the three arrangements a window width asks for, and its measures."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.ui.theme.measure import Role

NARROW_BELOW = 1200
WIDE_FROM = 1600


@dataclass(frozen=True, slots=True)
class Layout:
    """One step of the window's width; every length is in design px (1/96 inch).

    `rail` tells that the path is a strip of knots without words; `full_cards` is how many
    clocks are shown at full size.
    """

    name: str
    rail: bool
    path_width: int
    path_row: int
    path_row_pressed: int
    work_margin: int
    target_gap: int
    main_height: int
    main_label: Role
    second_width: int
    second_height: int
    clocks_width: int
    clocks_margin: int
    full_cards: int
    tally_height: int
    tally_cell: int
    band_height: int
    band_first: Role
    band_second: Role


NARROW = Layout(
    name="narrow",
    rail=True,
    path_width=76,
    path_row=62,
    path_row_pressed=52,
    work_margin=24,
    target_gap=16,
    main_height=132,
    main_label=Role.SAY,
    second_width=188,
    second_height=57,
    clocks_width=220,
    clocks_margin=12,
    full_cards=1,
    tally_height=100,
    tally_cell=17,
    band_height=76,
    band_first=Role.HEAD,
    band_second=Role.NOTE,
)

MIDDLE = Layout(
    name="middle",
    rail=False,
    path_width=256,
    path_row=66,
    path_row_pressed=56,
    work_margin=32,
    target_gap=19,
    main_height=151,
    main_label=Role.ACT,
    second_width=240,
    second_height=66,
    clocks_width=304,
    clocks_margin=16,
    full_cards=1,
    tally_height=120,
    tally_cell=23,
    band_height=92,
    band_first=Role.SAY,
    band_second=Role.BODY,
)

WIDE = Layout(
    name="wide",
    rail=False,
    path_width=320,
    path_row=84,
    path_row_pressed=66,
    work_margin=48,
    target_gap=19,
    main_height=151,
    main_label=Role.ACT_WIDE,
    second_width=240,
    second_height=66,
    clocks_width=400,
    clocks_margin=16,
    full_cards=2,
    tally_height=136,
    tally_cell=30,
    band_height=104,
    band_first=Role.SAY,
    band_second=Role.BODY,
)


def layout_for(width_px: float, text_scale: float = 1.0) -> Layout:
    """The arrangement for a window this wide, larger type counting as less width."""
    design_width = width_px / text_scale
    if design_width < NARROW_BELOW:
        return NARROW
    return WIDE if design_width >= WIDE_FROM else MIDDLE
