"""The dose is that of the life stage that takes longest, whichever that is in a load's cold."""

from __future__ import annotations

import msgspec
import pytest

from packdesk.session.figures import KillFigures
from packdesk.session.forecast import cold_forecast, cold_if_out
from packdesk.session.load_story import begin
from tests.fakes.clock import START
from tests.script import PAIL


def stage(name: str, *kill_hours: float) -> KillFigures:
    """A life stage with invented hours at −20, −15 and −10 °C."""
    return KillFigures(
        name=name,
        temps_c=(-20.0, -15.0, -10.0),
        kill_hours=kill_hours,
        grade="published",
        source="invented for this test",
    )


EASY = stage("adult", 2.0, 8.0, 40.0)
DEEP = stage("tough in deep cold", 60.0, 70.0, 80.0)
MILD = stage("tough in mild cold", 24.0, 72.0, 500.0)


@pytest.mark.parametrize(("freezer_c", "toughest"), [(-20.0, DEEP), (-14.0, MILD)])
def test_the_stage_that_takes_longest_is_named(freezer_c: float, toughest: KillFigures) -> None:
    """Of three the one that governs has the same time as if it were the only one."""
    at_c = msgspec.structs.replace(PAIL, freezer_temp_c=freezer_c)
    every = begin(msgspec.structs.replace(at_c, life_stages=(EASY, DEEP, MILD)), START)
    alone = begin(msgspec.structs.replace(at_c, life_stages=(toughest,)), START)

    found, only = (cold_forecast(each, START, -15.0, 72.0) for each in (every, alone))

    assert found.dose_stage == toughest.name
    assert found.dose_done == only.dose_done is not None


def test_out_early_the_stage_with_least_of_its_dose_is_named() -> None:
    """After two days in the cold the easy one is dead, and is not what is told."""
    told = begin(msgspec.structs.replace(PAIL, life_stages=(EASY, MILD)), START)

    found = cold_if_out(told, told.instant(48.0), 21.0, -15.0)

    assert found.dose_stage == MILD.name
    assert found.dose is not None
    assert 0.0 < found.dose < 1.0
