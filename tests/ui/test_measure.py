"""Type roles and lengths become pixels by the screen's density and the person's text size."""

from __future__ import annotations

import pytest

from packdesk.ui.theme.layout import MIDDLE, NARROW, WIDE, layout_for
from packdesk.ui.theme.measure import Measure, Role

# Sizes printed in the design's table for a screen of 96 dpi.
DESIGNED_PX = {
    Role.NOTE: 16,
    Role.BODY: 20,
    Role.HEAD: 26,
    Role.SAY: 34,
    Role.ACT: 38,
    Role.HOUR: 40,
    Role.FIGURE: 69,
    Role.AFAR: 76,
    Role.FAR_FIGURE: 200,
}


@pytest.mark.parametrize("role", DESIGNED_PX, ids=lambda role: role.name)
def test_type_roles_have_their_designed_size(role: Role) -> None:
    """A role's millimetres of capital height come out as the designed px at 96 dpi."""
    assert Measure().text_px(role) == DESIGNED_PX[role]


def test_forty_millimetres_are_the_main_control() -> None:
    """Forty millimetres at 96 dpi are the 151 px of the main control."""
    assert round(Measure().mm(40)) == 151


@pytest.mark.parametrize(("reported", "taken"), [(40, 80), (96, 96), (130, 130), (300, 130)])
def test_a_reported_density_is_bounded(reported: float, taken: float) -> None:
    """A screen that reports less than 80 or more than 130 dpi is taken for that."""
    assert Measure(reported).scale == pytest.approx(taken / 96)


def test_text_size_leaves_targets_alone() -> None:
    """A text size of 130 % enlarges type and keeps lengths."""
    large = Measure(text_percent=130)

    assert large.text_px(Role.BODY) == 26
    assert large.px(57) == 57


def test_an_unknown_text_size_is_refused() -> None:
    """A text size that is not offered is refused with the sizes that are."""
    with pytest.raises(ValueError, match=r"text size 110 % is none of 90, 100, 115, 130"):
        Measure(text_percent=110)


@pytest.mark.parametrize(
    ("width", "expected"),
    [(1093, NARROW), (1199, NARROW), (1200, MIDDLE), (1366, MIDDLE), (1600, WIDE), (1920, WIDE)],
)
def test_the_width_chooses_the_arrangement(width: int, expected: object) -> None:
    """The arrangement steps at 1200 and 1600 px."""
    assert layout_for(width) is expected


def test_larger_type_counts_as_less_width() -> None:
    """At 130 % a window of 1366 px takes the narrow arrangement."""
    assert layout_for(1366, Measure(text_percent=130).text_scale) is NARROW
