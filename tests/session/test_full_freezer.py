"""Which loads a freezer is asked about: what is frozen in it already decides, not its air."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import pytest

from packdesk.desk.desk import Kept
from packdesk.session import commands as c
from packdesk.session.figures import LoadFigures
from tests.script import PAIL, tell

USUAL = msgspec.structs.replace(PAIL, fill_height_mm=308.0, spare_power_w=60.0, frozen_food_kg=10.0)
WEAK = msgspec.structs.replace(USUAL, spare_power_w=14.0)
"""A plate that says 4 kg in 24 hours: 310 kJ a kilogram (``TEST_PACKAGE_HEAT_J_KG``) in a day."""


def asked(figures: LoadFigures, *hours: float) -> list[bool]:
    """Whether each pail is asked about; it then goes in whatever the answer, `hours` after it."""
    told = tell("receive wheat 80 kg; agree wheat 8 x 1 kg")
    found = []
    for hour in hours:
        told.clock.go(hours=hour)
        load = c.FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 15_000.0, figures)
        answer = told.desk.submit(load)
        found.append(not isinstance(answer, Kept))
        if found[-1]:
            assert "food frozen in it would warm to about" in answer.sentence
            told.desk.submit(replace(load, confirmed=True))
    return found


@pytest.mark.parametrize(
    ("figures", "hours", "expected"),
    [
        (USUAL, (0.0,), [False]),
        (USUAL, (0.0, 6.0), [False, False]),
        (USUAL, (0.0, 24.0, 24.0), [False, False, False]),
        (USUAL, (0.0, 0.0), [False, True]),
        (WEAK, (0.0,), [True]),
    ],
)
def test_only_what_spoils_frozen_food_is_asked_about(
    figures: LoadFigures, hours: tuple[float, ...], expected: list[bool]
) -> None:
    """One pail of 15 kg, a second hours later, one a day: no question; two at once: one."""
    assert asked(figures, *hours) == expected
