from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.catalog.foods import Food, LowOxygen, Suitability
from packdesk.catalog.read import read_catalog
from packdesk.physics.ranges import OutOfRange
from packdesk.planning.suitability import BOTULISM_CAUTION, Refusal, Suitable, judge, most_activity

CATALOG, _ = read_catalog()
RICE = CATALOG.foods["white_rice"]


def with_fat(food: Food, percent: float) -> Food:
    """The same food with another share of fat."""
    return replace(food, fat=replace(food.fat, value=percent, low=percent, high=percent))


def with_water(food: Food, percent: float) -> Food:
    """The same food as it is sold elsewhere, with another share of water."""
    return replace(food, moisture=replace(food.moisture, value=percent, low=percent, high=percent))


@pytest.mark.parametrize(
    "key",
    [
        "white_rice", "hard_wheat", "rolled_oats", "pinto_beans", "black_beans", "lentils",
        "split_peas", "white_flour", "macaroni", "nonfat_dry_milk",
    ],
)  # fmt: skip
def test_the_staples_of_the_trade_are_packed_with_absorbers(key: str) -> None:
    """What extension services and studies put up for decades is planned, not refused."""
    verdict = judge(CATALOG.foods[key])
    assert isinstance(verdict, Suitable)
    assert verdict.absorbers


@pytest.mark.parametrize("key", ["granulated_sugar", "salt"])
def test_sugar_and_salt_go_without_absorbers_and_say_why(key: str) -> None:
    """No absorber where nothing spoils by oxygen."""
    verdict = judge(CATALOG.foods[key])
    assert isinstance(verdict, Suitable)
    assert not verdict.absorbers
    assert any(each.startswith("No absorber goes in") for each in verdict.warnings)


def test_peanuts_are_refused_for_their_oil() -> None:
    """Kindly and exactly, with the caution and the authorities it defers to."""
    verdict = judge(CATALOG.foods["peanuts"])
    assert isinstance(verdict, Refusal)
    assert verdict.what == "Too oily to seal."
    assert verdict.figure == "49 % fat, far over the limit of 10 %."
    assert verdict.advice == "Keep it cool in its own packing and use it within 1 year."
    assert "botulism" in verdict.caution
    assert "local food-safety authority" in verdict.caution


def test_brown_rice_is_refused_for_its_short_life() -> None:
    """Half a year (Utah State University Extension) is no matter of absorbers."""
    verdict = judge(CATALOG.foods["brown_rice"])
    assert isinstance(verdict, Refusal)
    assert verdict.what == "Does not keep for years."
    assert "6 months" in verdict.figure


def test_a_short_lived_food_that_bears_low_oxygen_is_planned_with_a_warning() -> None:
    """A person may put it up for a few years, knowing it."""
    noodles = replace(
        RICE, suitability=Suitability.SHORT_LIVED, low_oxygen=LowOxygen.OPTIONAL,
        suitability_reason="egg turns stale",
    )  # fmt: skip
    verdict = judge(noodles)
    assert isinstance(verdict, Suitable)
    assert any("egg turns stale" in each for each in verdict.warnings)


@pytest.mark.parametrize(("percent", "refused"), [(10.0, False), (13.0, False), (13.1, True)])
def test_measured_water_is_refused_above_thirteen_per_cent(percent: float, refused: bool) -> None:
    """Ten per cent passes, to thirteen it is warned of, above it is not sealed."""
    verdict = judge(RICE, moisture_percent=percent)
    assert isinstance(verdict, Refusal) is refused
    if isinstance(verdict, Suitable):
        assert bool(verdict.warnings) is (percent > 10.0)
    else:
        assert verdict.what == "Too moist to seal."
        assert verdict.figure == "13.1 % water measured, above 13 %."


def test_a_known_water_activity_outweighs_the_moisture() -> None:
    """Moist by the scale but dry by the hygrometer is packed; the other way round it is not."""
    assert isinstance(judge(RICE, moisture_percent=14.0, water_activity=0.58), Suitable)
    assert isinstance(judge(RICE, moisture_percent=9.0, water_activity=0.70), Refusal)


@given(st.floats(0.85, 1.0))
def test_where_germs_grow_nothing_is_packed(activity: float) -> None:
    """The botulism caution stands with it."""
    verdict = judge(RICE, water_activity=activity)
    assert isinstance(verdict, Refusal)
    assert verdict.what == "Far too moist to store."
    assert verdict.caution == BOTULISM_CAUTION


def test_wheat_as_it_is_often_sold_asks_for_a_measurement() -> None:
    """Hard red winter wheat is listed at 13.1 % water: below 0.65 by its isotherm, but measure it.

    ASABE D245 at 20 °C has an activity of 0.57 to 0.59 at 13 % (from memory); in a warm store, and
    with the isotherm's own error, up to 0.64.
    """
    verdict = judge(CATALOG.foods["hard_wheat"])
    assert isinstance(verdict, Suitable)
    assert "have the lot measured" in verdict.warnings[0]
    assert BOTULISM_CAUTION in verdict.warnings
    most = most_activity(CATALOG.foods["hard_wheat"], 13.1)
    assert most is not None
    assert 0.59 < most < 0.65
    dry = judge(CATALOG.foods["hard_wheat"], moisture_percent=9.5)
    assert dry == Suitable(absorbers=True, warnings=())


@pytest.mark.parametrize(("food", "percent"), [("hard_wheat", 14.5), ("white_rice", 13.1)])
def test_grain_dry_enough_for_an_aired_bin_is_not_for_a_pouch(food: str, percent: float) -> None:
    """Wheat up to 14.5 % counts as dry on farms (Canadian Grain Commission); sealed it moulds.

    Rice has no isotherm here, so that the line of 13 % holds.
    """
    verdict = judge(CATALOG.foods[food], moisture_percent=percent)
    assert isinstance(verdict, Refusal)
    assert verdict.what == "Too moist to seal."


def test_a_food_without_an_isotherm_is_judged_by_what_it_may_hold() -> None:
    """Sometimes drier than 13 %: warned of until it is measured."""
    moist = replace(RICE.moisture, value=14.0, low=11.0, high=15.0)
    verdict = judge(replace(RICE, moisture=moist))
    assert isinstance(verdict, Suitable)
    assert verdict.warnings[0].startswith("Often sold with 14 % water")


def test_an_isotherm_answers_within_its_own_range_only() -> None:
    """No activity is made up for soaked wheat, nor for a food without constants."""
    assert most_activity(CATALOG.foods["hard_wheat"], 35.0) is None
    assert most_activity(RICE, 12.0) is None


def test_a_food_that_is_always_too_moist_is_refused() -> None:
    """Leathery dried fruit holds 15 to 32 % water (University of Georgia extension)."""
    verdict = judge(with_water(RICE, 20.0))
    assert isinstance(verdict, Refusal)
    assert verdict.figure == "20 % water at its driest, above 13 %."


@given(st.floats(0.0, 60.0))
def test_fat_is_passed_warned_of_or_refused(percent: float) -> None:
    """Up to 2 % is good, above 10 % is refused, and in between the person is told."""
    verdict = judge(with_fat(RICE, percent), moisture_percent=9.0)
    if percent > 10.0:
        assert isinstance(verdict, Refusal)
        assert verdict.what == "Too oily to seal."
    else:
        assert isinstance(verdict, Suitable)
        assert bool(verdict.warnings) is (percent > 2.0)
        assert (BOTULISM_CAUTION in verdict.warnings) is (percent > 7.0)


@given(st.floats(0.0, 60.0), st.floats(0.0, 100.0), st.floats(0.0, 1.0))
def test_every_refusal_has_its_three_sentences(fat: float, wet: float, activity: float) -> None:
    """What, figure and advice each end with a full stop, and the caution is never missing."""
    verdict = judge(with_fat(RICE, fat), moisture_percent=wet, water_activity=activity)
    if isinstance(verdict, Refusal):
        for sentence in (verdict.what, verdict.figure, verdict.advice, verdict.caution):
            assert sentence.endswith(".")
            assert sentence[0].isupper() or sentence[0].isdigit()


def test_a_water_activity_above_one_is_refused_as_a_reading() -> None:
    """Per cent typed for a fraction does not pass."""
    with pytest.raises(OutOfRange, match="water_activity"):
        judge(RICE, water_activity=58.0)
