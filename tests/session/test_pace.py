"""The pace told by presses, held against hands whose true pace is known beforehand."""

from __future__ import annotations

import pytest

from packdesk.session.pace import USUAL_S, Pace, pace, round_pace
from packdesk.session.round_size import still_in_time
from tests.script import Script, tell

SIXTY = (
    "receive wheat 60 kg; bypass wheat: treated; agree wheat 60 x 1 kg; fill 60; ready; "
    "packet 200x100"
)


def singly(count: int, each_s: int, round_: int | None = None) -> str:
    """So many pouches, each entered as it is shut."""
    source = f", from round {round_}" if round_ else ""
    return "; ".join(f"+{each_s} s; place 1{source}" for _ in range(count))


@pytest.mark.parametrize(
    ("work", "true_s"),
    [
        (singly(8, 30), 30.0),
        (singly(8, 60), 60.0),
        ("; ".join(f"+{s} s; place 1" for s in (20, 50, 25, 45, 30, 22, 40, 28)), 32.5),
        ("+150 s; place 5; +150 s; place 5", 30.0),
        # Entered together after the work, one press for each: no hands take a second.
        (f"+240 s; place 1; {singly(4, 1)}", 48.8),
        # Two packets lie open, and the hands are at one of them.
        (f"packet 200x50; {singly(8, 30, 1)}; {singly(8, 30, 2)}", 30.0),
    ],
)
def test_hands_that_do_not_rest_are_measured_as_they_are(work: str, true_s: float) -> None:
    """Evenly or unevenly, singly or in groups, entered meanwhile or after: seconds by pouches."""
    told = tell(f"{SIXTY}; {work}")

    newest = told.session.rounds[max(told.session.rounds)]
    for found in (pace(told.session), round_pace(told.session, newest)):
        assert (found.each_s, found.measured) == (true_s, True)


@pytest.mark.parametrize(
    "work",
    [
        f"+12 min; {singly(12, 30)}",
        f"{singly(6, 30)}; +10 min; {singly(6, 30)}",
        f"{singly(5, 30)}; +8 min; place 1; {singly(6, 30)}",
    ],
)
def test_a_rest_is_no_work(work: str) -> None:
    """A slow start or a call at the door, at 30 s a pouch: at most one pouch more in twelve, where
    time by pouches would tell 70 to 90 s."""
    found = pace(tell(f"{SIXTY}; {work}").session)

    assert 30.0 <= found.each_s <= 30.0 * 13 / 12 + 0.1


def fit(told: Script, waiting: int) -> int:
    """How many still fit into the time of the first round."""
    session = told.session
    return still_in_time(
        session, session.plan.lines[0], session.rounds[1], waiting, told.desk.now().utc
    )


def test_one_group_alone_is_held_against_the_usual() -> None:
    """Three in 12 min, entered together, are a slow start; three in 90 s are the pace."""
    slow, plain = (tell(f"{SIXTY}; +{wait} s; place 3") for wait in (720, 90))

    assert (pace(slow.session).each_s, pace(plain.session).each_s) == (60.0, 30.0)


@pytest.mark.parametrize("each_s", [24, 30, 36, 44])
def test_what_a_press_means_stands_still_while_a_group_is_worked_at(each_s: int) -> None:
    """Nobody has shown the pace yet: hands up to half slower than the usual 30 s come to their
    press of 20 pouches with all 20 meant."""
    told = tell(SIXTY)
    for _ in range(20):
        told.do(f"+{each_s} s")
        assert fit(told, 20) >= 20


def test_a_group_nobody_is_at_is_told_before_the_time_is_over() -> None:
    """20 pouches take 10 min, slow hands 15: after 16 without a press 8 fit into 4 min."""
    assert fit(tell(f"{SIXTY}; +16 min"), 20) == 8


@pytest.mark.parametrize(
    "work",
    [
        "+4 s; place 10",
        "+4 s; place 10; +2 s; place 5",
        f"+4 s; place 10; {singly(5, 1)}",
        "+4 s; place 10; +5 min; place 10",
        f"+4 s; place 10; {singly(10, 30)}",
        f"{singly(10, 30)}; +4 s; place 10",
        f"{singly(10, 30)}; +4 s; place 10; {singly(10, 30)}",
        "+300 s; place 10; +4 s; place 30",
    ],
)
def test_what_no_hands_can_do_makes_no_forecast_hopeful(work: str) -> None:
    """At 30 s a pouch, of which some are entered late or ahead, no more are told to fit than do."""
    told = tell(f"{SIXTY}; {work}")

    room_s = (told.session.rounds[1].due - told.desk.now().utc).total_seconds()
    assert fit(told, 20) <= room_s / 30.0
    assert pace(told.session).each_s >= 30.0


def test_one_group_alone_is_not_taken_at_its_word_where_it_is_quick() -> None:
    """Ten within 100 s of an opening that was entered late, say, forecast 15 s each, not 10."""
    assert pace(tell(f"{SIXTY}; +100 s; place 10").session).each_s == 15.0


def test_a_group_entered_with_its_packet_leaves_the_usual_pace() -> None:
    """Ten that were shut before the opening was entered measure nothing, in this round or later."""
    told = tell(f"{SIXTY}; +4 s; place 10")

    usual = Pace(USUAL_S, measured=False)
    assert (pace(told.session), round_pace(told.session, told.session.rounds[1])) == (usual, usual)
