"""The air of a freezer: whose loads warm it, and what its thermometer tells of it."""

from __future__ import annotations

from datetime import datetime, timedelta

import msgspec
import pytest

from packdesk.session.clocks import running
from packdesk.session.commands import FreezeLoad
from packdesk.session.freezer_air import freezer_air
from tests.script import PAIL, Script, tell

FIGURES = msgspec.structs.replace(PAIL, spare_power_w=60.0, frozen_food_kg=10.0)


def freeze(told: Script, freezer: int = 1, **said: float) -> None:
    """Put a pail of 14 kg into a freezer."""
    figures = msgspec.structs.replace(FIGURES, freezer=freezer, **said)
    lot = told.lot_of("wheat")
    told.desk.submit(FreezeLoad(lot, "pail-19l", "pail", 14000.0, figures, confirmed=True))


def due(told: Script) -> dict[str, datetime]:
    """When each load is cold enough."""
    return {clock.subject: clock.due_at for clock in running(told.session)}


@pytest.fixture
def two_pails() -> Script:
    """A second pail goes in two hours after the first."""
    told = tell("receive wheat 60 kg; agree wheat 8 x 1 kg")
    freeze(told)
    told.do("+2 h")
    freeze(told)
    return told


def test_read_in_the_minute_of_a_loading_it_labours(two_pails: Script) -> None:
    """Warm air read as a pail goes in is what the pail does, not a freezer that has failed."""
    before = due(two_pails)

    two_pails.do("freezer -10 C, confirmed")

    assert freezer_air(two_pails.session, 1)[-1].settled_c == -18.0
    assert due(two_pails).keys() == before.keys()
    for load, at in before.items():
        assert timedelta(0) <= due(two_pails)[load] - at < timedelta(hours=2)


def test_read_in_the_minute_of_a_loading_it_is_at_rest(two_pails: Script) -> None:
    """Cold air read as a pail goes in is the air before it; the pail still warms it."""
    before = due(two_pails)

    two_pails.do("freezer -18 C")

    warmest_c = max(step.temp_c for step in freezer_air(two_pails.session, 1))
    assert warmest_c > -17.0
    assert due(two_pails)["B"] == before["B"]


def test_no_reading_makes_a_freezer_warmer_than_can_be(two_pails: Script) -> None:
    """Read far too warm while it hardly labours any more, it does not have failed all along."""
    two_pails.do("+0.9 h")
    now = two_pails.clock.reading().utc
    until_now = [step.temp_c for step in freezer_air(two_pails.session, 1) if step.at <= now]
    reckoned_k = until_now[-1] + 18.0

    two_pails.do("freezer 5 C, confirmed")

    later = [step.temp_c for step in freezer_air(two_pails.session, 1) if step.at >= now]
    assert 1.0 < reckoned_k < 7.0
    assert max(later) <= -18.0 + 3.0 * reckoned_k + 1e-9
    assert set(due(two_pails)) == {"A", "B"}


def test_a_load_in_the_second_freezer_leaves_the_first_alone() -> None:
    """Each freezer has an air of its own."""
    told = tell("receive wheat 60 kg; agree wheat 8 x 1 kg")
    freeze(told)
    alone, air = due(told)["A"], freezer_air(told.session, 1)

    freeze(told, freezer=2)

    assert due(told)["A"] == alone
    assert freezer_air(told.session, 1) == air
    freeze(told)
    assert due(told)["A"] > alone


def test_a_capacity_once_said_is_not_forgotten() -> None:
    """A second pail, of which nothing is said, does not make a weak freezer a usual one."""
    told = tell("receive wheat 60 kg; agree wheat 8 x 1 kg")
    freeze(told, spare_power_w=16.0, capacity_g=4500.0)
    alone = due(told)["A"]
    told.do("+1 h")

    freeze(told)

    assert due(told)["A"] > alone
    assert due(told)["B"] > due(told)["A"]


def test_a_reading_that_stops_clocks_is_asked_about(two_pails: Script) -> None:
    """Air read too warm to be at rest for good is asked about before any clock is gone."""
    two_pails.do("+30 h")
    before = due(two_pails)

    words = two_pails.refused("freezer -12 C")

    assert due(two_pails) == before
    assert "loads A, B never get cold enough, and their clocks would stop" in words
    assert "Does its door shut?" in words
    two_pails.do("freezer -12 C, confirmed")
    assert due(two_pails) == {}


@pytest.mark.parametrize("hour", [1.5, 2.0, 4.0])
def test_warm_air_soon_after_a_load_says_how_weak_the_freezer_is(
    two_pails: Script, hour: float
) -> None:
    """Read hours after a load, a freezer of unknown capacity is taken to be as weak as it shows."""
    weak = tell("receive wheat 60 kg; agree wheat 8 x 1 kg")
    freeze(weak, spare_power_w=16.0)
    weak.do("+2 h")
    freeze(weak, spare_power_w=16.0)
    two_pails.do(f"+{hour} h")
    read_at = two_pails.clock.reading().utc
    shown_c = [step.temp_c for step in freezer_air(weak.session, 1) if step.at <= read_at][-1]
    assert -16.0 < shown_c < -5.0

    two_pails.do(f"freezer {shown_c:.1f} C, confirmed")

    assert freezer_air(two_pails.session, 1)[-1].settled_c == -18.0
    for load, at in due(weak).items():
        assert abs(due(two_pails)[load] - at) < timedelta(hours=1)
