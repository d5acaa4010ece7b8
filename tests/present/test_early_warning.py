"""A warning comes once, in time, and a computer is held awake as long as it serves."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.desk.desk import Kept
from packdesk.present.early_warning import hold_awake, warnings_due, warns_at_s
from tests.script import SEALED, SHUT, TREATED, Script, tell

ROUND = f"{TREATED}; fill 8; ready; packet 200x10"
"""A packet of absorbers is just open; its clock runs 20 min."""


def warn(told: Script) -> list[str]:
    """Put the warnings that are due on record, and name them."""
    commands = warnings_due(told.session, told.desk.now())
    for command in commands:
        assert isinstance(told.desk.submit(command), Kept)
    return [command.clock for command in commands]


def held(told: Script) -> bool:
    """Whether the computer is held awake."""
    return hold_awake(told.session, told.desk.now())


@given(st.floats(min_value=1.0, max_value=1e6))
def test_a_warning_lies_in_the_second_half(runs_s: float) -> None:
    """Of any clock the warning comes in its second half, and before it is due."""
    assert runs_s / 2 <= warns_at_s(runs_s) < runs_s


def test_a_long_clock_warns_at_the_latest_ten_minutes_before() -> None:
    """An hour's clock warns ten minutes before its end."""
    assert warns_at_s(3600.0) == 3000.0


def test_a_warning_is_given_once() -> None:
    """At every beat the same clock is looked at; its warning is put on record a single time."""
    told = tell(ROUND).do("+9.9 min")
    assert warn(told) == []

    told.do("+0.1 min")
    assert warn(told) == ["packet:1/soon"]

    told.do("+5 min")
    assert warn(told) == []


def test_a_warning_says_how_late_it_was_given() -> None:
    """After a sleep of three minutes over its time the entry tells so."""
    told = tell(ROUND).do("+13 min")
    (command,) = warnings_due(told.session, told.desk.now())

    assert command.late_s == 180.0
    assert (command.due_at - told.session.rounds[1].started.utc).total_seconds() == 600.0


def test_what_is_due_is_not_warned_of() -> None:
    """A clock that fell due before anybody looked rings; it does not warn as well."""
    assert warn(tell(ROUND).do("+21 min")) == []


def test_a_set_wall_clock_does_not_warn_again() -> None:
    """Setting the computer's clock forward an hour repeats no warning."""
    told = tell(ROUND).do("+10 min")
    warn(told)
    told.clock.step_wall(hours=1)

    assert warn(told) == []


def test_an_at_least_clock_does_not_warn() -> None:
    """Seams that will be looked at tomorrow give no warning."""
    assert warn(tell(SEALED).do("+23.9 h")) == []


def test_pouches_sealed_one_after_another_share_a_warning() -> None:
    """Whoever seals pouches shut two minutes apart is warned once, not of each."""
    told = tell(TREATED).do("fill 8; ready; packet 200x10; place 3; +3 min; place 3; +4 min; jar")
    told.do("+43 min")
    assert warn(told) == ["pressed_shut/soon"]

    told.do("seal 1-3; +5 min")

    assert warn(told) == []


@pytest.mark.parametrize(
    ("steps", "holds"),
    [
        ("", False),
        (ROUND, True),
        (f"{ROUND}; +75 min", True),
        (f"{ROUND}; +25 h", False),
        (SEALED, False),
        (f"{SEALED}; +23.2 h", True),
        (f"{SEALED}; +9 d", False),
    ],
)
def test_the_computer_is_held_awake_within_the_hour(steps: str, holds: bool) -> None:
    """It is held for a clock due within the hour before or after now, and for no other."""
    assert held(tell().do(steps)) is holds


def test_nothing_holds_it_without_a_session() -> None:
    """With no session open the computer may sleep."""
    assert hold_awake(None, tell().desk.now()) is False


def test_a_computer_is_let_go_once_the_work_is_done() -> None:
    """Pouches pressed shut hold it; sealed, they hold it no more."""
    told = tell(SHUT)
    assert held(told)

    told.do("jar; seal 1-8")

    assert not held(told)
