"""What absorbers lose in the open, how long they may lie there, and whether they are enough."""

from __future__ import annotations

from dataclasses import replace as with_fields
from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from packdesk.session.exposure import capacity_left, open_limit, open_time
from packdesk.session.figures import AgreedLine
from packdesk.session.pouch import Placed, Pouch
from packdesk.session.state import Plan, Round
from packdesk.session.terms import OpenLimit
from packdesk.session.verdicts import Enough, verdict
from tests.fakes.clock import START, DrivenClock
from tests.script import agreed, tell

WHEAT = agreed(1, "wheat", "2611-1", 8, 1000.0)


def plan(*lines: AgreedLine) -> Plan:
    """A plan at sea level."""
    return Plan(lines, False, 0.0, 25.0, None, START)


def a_round(low_cc: float = 200.0, likely_cc: float = 200.0, room_c: float = 25.0) -> Round:
    """A round just begun with ten absorbers of 200 cc."""
    return Round(
        round=1,
        source="P1",
        rating_cc=200,
        count=10,
        capacity_low_cc=low_cc,
        capacity_likely_cc=likely_cc,
        limit=OpenLimit.PRACTICE_CAP,
        limit_min=20.0,
        room_c=room_c,
        started=DrivenClock().reading(),
        last_at=START,
    )


# What is left -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("minutes", "low_cc", "likely_cc"),
    [
        (0.0, 200.0, 200.0),
        (20.0, 158.9, 180.4),  # 200 exp(−0.69/3), 200 exp(−0.31/3)
        (60.0, 100.3, 146.7),  # 200 exp(−0.69), 200 exp(−0.31)
    ],
)
def test_loses_by_the_law_of_decay(minutes: float, low_cc: float, likely_cc: float) -> None:
    """At 25 °C 200 cc fall at 0.69 an hour at the fast end and 0.31 likely; worked by hand."""
    left = capacity_left(a_round(), START + timedelta(minutes=minutes))

    assert left == (pytest.approx(low_cc, abs=0.1), pytest.approx(likely_cc, abs=0.1))


@given(st.lists(st.floats(0.0, 1e6), min_size=2, max_size=6), st.floats(0.0, 200.0))
def test_capacity_never_grows(minutes: list[float], start_cc: float) -> None:
    """However long it lies, and however often it is looked at, nothing comes back."""
    left = [
        capacity_left(a_round(start_cc, start_cc), START + timedelta(minutes=each))
        for each in sorted(minutes)
    ]

    for (low, likely), (later_low, later_likely) in pairwise(left):
        assert start_cc + 0.05 >= low >= later_low >= 0.0
        assert start_cc + 0.05 >= likely >= later_likely >= 0.0
        assert low <= likely


def test_a_time_before_the_opening_costs_nothing() -> None:
    """A typed minute that lies before the recorded second gives back no capacity."""
    assert capacity_left(a_round(), START - timedelta(seconds=40)) == (200.0, 200.0)


def test_forgotten_absorbers_are_spent() -> None:
    """A jar forgotten open for half a year has nothing left, and can still be shut."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 8 x 1 kg; packet 200x4; +180 d; jar")

    assert told.book.remainders["R1"].capacity_low_cc == 0.0


# How long it may lie ------------------------------------------------------------------------------


def test_the_cap_of_practice_comes_first_where_margin_is_ample() -> None:
    """200 cc for a need of 115 last 60 ln(200/115)/0.69 = 48 min; the cap is 20; by hand."""
    assert open_limit(plan(WHEAT), 200, 0.0, 25.0) == (OpenLimit.PRACTICE_CAP, 20.0)


def test_the_margin_comes_first_where_it_is_small() -> None:
    """120 cc for a need of 100 last 60 ln(1.2)/0.69 = 15.9 min, less than the cap; by hand."""
    tight = replace(WHEAT, absorbers_cc=(120,), oxygen_need_cc=100.0)

    assert open_limit(plan(tight), 120, 0.0, 25.0) == (OpenLimit.MARGIN, 15.9)


def test_the_line_with_the_least_margin_decides() -> None:
    """One packet for two foods is open no longer than the needier of them allows."""
    needy = replace(WHEAT, line=2, oxygen_need_cc=180.0)

    limit, minutes = open_limit(plan(WHEAT, needy), 200, 0.0, 25.0)

    assert limit is OpenLimit.MARGIN
    assert minutes == pytest.approx(9.2, abs=0.1)  # 60 ln(200/180)/0.69


def test_what_was_lost_before_shortens_it() -> None:
    """A remainder that lost 20 cc has 60 ln(180/150)/0.69 = 15.9 min; by hand."""
    line = replace(WHEAT, oxygen_need_cc=150.0)

    assert open_limit(plan(line), 200, 20.0, 25.0) == (OpenLimit.MARGIN, 15.9)


def test_what_was_lost_before_was_lost_by_each() -> None:
    """Two of 300 cc that lost 30 each have 60 ln(540/480)/0.69 = 10.2 min for 480; by hand."""
    line = replace(WHEAT, absorbers_cc=(300, 300), oxygen_need_cc=480.0)

    assert open_limit(plan(line), 300, 30.0, 25.0) == (OpenLimit.MARGIN, 10.2)


def test_a_time_too_short_to_work_in_is_reckoned_with_one_absorber_more() -> None:
    """Of 500 cc needed two sound ones of 300 leave 15.9 min, two of 270 only 6.7, less than half
    of it: three, 810 cc, have 60 ln(810/500)/0.69 = 42.0 min, past the cap; by hand."""
    line = replace(WHEAT, absorbers_cc=(300, 300), oxygen_need_cc=500.0)

    found = open_time(plan(line), 300, 30.0, 25.0)

    assert (found.limit, found.limit_min) == (OpenLimit.PRACTICE_CAP, 20.0)
    assert found.margin_min == 42.0


def test_all_absorbers_of_a_pouch_count_together() -> None:
    """500 and 300 cc for a need of 700 last 60 ln(800/700)/0.69 = 11.6 min; by hand."""
    line = replace(WHEAT, absorbers_cc=(500, 300), oxygen_need_cc=700.0)

    assert open_limit(plan(line), 500, 0.0, 25.0) == (OpenLimit.MARGIN, 11.6)


def test_a_margin_that_was_never_there_is_no_limit() -> None:
    """Absorbers that just meet the need have none to use up; the cap stands, and that is said."""
    line = replace(WHEAT, oxygen_need_cc=200.0)

    assert open_limit(plan(line), 200, 0.0, 25.0) == (OpenLimit.PRACTICE_CAP, 20.0)
    assert open_time(plan(line), 200, 0.0, 25.0).margin_min == 0.0


@pytest.mark.parametrize("of", [None, plan(replace(WHEAT, absorbers_cc=(500,)))])
def test_an_absorber_nobody_planned_has_the_cap(of: Plan | None) -> None:
    """Where no plan line uses the rating only the cap of practice is known."""
    assert open_limit(of, 200, 0.0, 25.0) == (OpenLimit.PRACTICE_CAP, 20.0)


def test_a_cooler_room_leaves_more_time() -> None:
    """At 10 °C absorbers work more slowly than at 25 °C."""
    line = replace(WHEAT, oxygen_need_cc=180.0)

    assert open_limit(plan(line), 200, 0.0, 10.0)[1] > open_limit(plan(line), 200, 0.0, 25.0)[1]


# Whether they are enough --------------------------------------------------------------------------


def a_pouch(*placed: tuple[int, float, float]) -> Pouch:
    """A pouch with absorbers: how many, and what one had left, low and likely."""
    found = tuple(Placed(200, each, low, likely, 1) for each, low, likely in placed)
    return Pouch(1, 1, None, False, START, 60, placed=found)


@pytest.mark.parametrize(
    ("placed", "found"),
    [
        (((1, 120.0, 130.0),), Enough.ENOUGH),
        (((1, 115.0, 130.0),), Enough.ENOUGH),
        (((1, 114.9, 115.0),), Enough.MARGINAL),
        (((1, 100.0, 114.9),), Enough.ADD_ONE),
        (((2, 58.0, 60.0),), Enough.ENOUGH),
        (((1, 60.0, 70.0), (1, 50.0, 60.0)), Enough.MARGINAL),
    ],
)
def test_is_judged_against_the_need(
    placed: tuple[tuple[int, float, float], ...], found: Enough
) -> None:
    """For a need of 115 cc: enough at the fast end, marginal at the likely rate, else add one."""
    judged = verdict(WHEAT, a_pouch(*placed))

    assert judged is not None
    assert judged.verdict is found
    assert judged.need_cc == 115.0


def test_without_absorbers_there_is_no_verdict_yet() -> None:
    """A pouch that still waits for its absorbers is not judged."""
    assert verdict(WHEAT, a_pouch()) is None


def test_what_needs_none_has_enough() -> None:
    """Salt needs no absorber, and is told so."""
    salt = replace(WHEAT, absorbers_cc=(), oxygen_need_cc=0.0)

    judged = verdict(salt, a_pouch())

    assert judged is not None
    assert judged.verdict is Enough.NOT_NEEDED


def test_what_was_in_it_before_it_was_opened_does_not_count() -> None:
    """Spent absorbers of a pouch brought back say nothing of its verdict now."""
    pouch = a_pouch((1, 120.0, 130.0))

    assert verdict(WHEAT, with_fields(pouch, placed=(), spent=pouch.placed)) is None
