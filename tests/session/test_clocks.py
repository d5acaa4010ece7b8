"""Clocks: what runs, how it stands, and which side it fails to when the machine's clocks do."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.session.clocks import Clock, ClockKind, running, standing
from packdesk.session.terms import OpenLimit
from tests.fakes.clock import DrivenClock
from tests.script import SEALED, SHUT, TREATED, Script, tell

FILLED = f"{TREATED}; fill 8"
DAY_S = 86_400.0


def a_clock(kind: ClockKind, started: DrivenClock, runs_s: float = 3600.0) -> Clock:
    """A clock of a kind, started now, that runs an hour."""
    return Clock(f"{kind}:1", kind, "1", "wheat", started.reading(), runs_s)


def of_kind(told: Script, kind: ClockKind) -> list[Clock]:
    """The clocks of one kind that run."""
    return [clock for clock in running(told.session) if clock.kind is kind]


every_kind = pytest.mark.parametrize("kind", list(ClockKind))
AT_LEAST = [ClockKind.COLD, ClockKind.THAW, ClockKind.SEAL_CHECK]
NO_LONGER = [ClockKind.PACKET, ClockKind.PRESSED_SHUT]


# How a clock stands -------------------------------------------------------------------------------


@every_kind
def test_counts_what_goes_by(kind: ClockKind) -> None:
    """After twenty minutes of an hour forty remain, and it is not due."""
    machine = DrivenClock()
    clock = a_clock(kind, machine)
    machine.go(minutes=20)

    stands = standing(clock, machine.reading())

    assert (stands.passed_s, stands.remaining_s, stands.due) == (1200.0, 2400.0, False)
    assert stands.due_at == clock.due_at
    assert stands.certain


@every_kind
def test_is_due_at_its_time_and_not_before(kind: ClockKind) -> None:
    """A second before the hour it is not due, at the hour it is."""
    machine = DrivenClock()
    clock = a_clock(kind, machine)
    machine.go(seconds=3599)
    assert not standing(clock, machine.reading()).due
    machine.go(seconds=1)
    assert standing(clock, machine.reading()).due


@every_kind
def test_counts_through_sleep(kind: ClockKind) -> None:
    """A machine that slept for an hour has passed the hour."""
    machine = DrivenClock()
    clock = a_clock(kind, machine)
    machine.sleep(minutes=59)
    assert not standing(clock, machine.reading()).due
    machine.sleep(minutes=1)
    assert standing(clock, machine.reading()).due


@every_kind
@pytest.mark.parametrize("step_h", [-30.0, -1.0, 1.0, 30.0])
def test_setting_the_wall_clock_changes_nothing(kind: ClockKind, step_h: float) -> None:
    """While the machine runs on, its own clock counts; only the time of day shown is another."""
    machine = DrivenClock()
    clock = a_clock(kind, machine)
    machine.go(minutes=20)
    machine.step_wall(hours=step_h)

    stands = standing(clock, machine.reading())

    assert (stands.remaining_s, stands.due, stands.certain) == (2400.0, False, True)
    assert stands.wall_moved_s == step_h * 3600.0
    assert stands.due_at == machine.reading().utc + timedelta(minutes=40)


@every_kind
def test_a_change_of_season_changes_nothing(kind: ClockKind) -> None:
    """When the local time is set an hour forward the same forty minutes remain."""
    machine = DrivenClock()
    clock = a_clock(kind, machine)
    machine.go(minutes=20)
    machine.change_season(+60)

    stands = standing(clock, machine.reading())

    assert (stands.remaining_s, stands.wall_moved_s, stands.certain) == (2400.0, 0.0, True)


@every_kind
def test_goes_on_by_the_wall_clock_after_a_restart(kind: ClockKind) -> None:
    """After a restart the wall clock is all there is; the figure stands, and is not certain."""
    machine = DrivenClock()
    clock = a_clock(kind, machine)
    machine.go(minutes=20)
    machine.reboot(minutes=10)

    stands = standing(clock, machine.reading())

    assert stands.remaining_s == 1800.0
    assert not stands.certain
    assert not stands.contradicted


def test_a_clock_set_back_over_a_restart_runs_on_where_at_least_is_meant() -> None:
    """Nobody knows how long it was; cold and warmth are then counted from nothing."""
    machine = DrivenClock()
    clocks = [a_clock(kind, machine) for kind in AT_LEAST]
    machine.step_wall(hours=-5)
    machine.reboot(minutes=30)

    for clock in clocks:
        stands = standing(clock, machine.reading())
        assert (stands.passed_s, stands.due, stands.contradicted) == (0.0, False, True)


def test_a_clock_set_back_over_a_restart_is_due_where_no_longer_is_meant() -> None:
    """Nobody knows how long it was; an open packet is then taken as over its time."""
    machine = DrivenClock()
    clocks = [a_clock(kind, machine) for kind in NO_LONGER]
    machine.step_wall(hours=-5)
    machine.reboot(minutes=30)

    for clock in clocks:
        stands = standing(clock, machine.reading())
        assert (stands.due, stands.contradicted, stands.certain) == (True, True, False)


@pytest.mark.parametrize("step_min", [-45.0, 45.0])
def test_clocks_that_disagree_are_taken_on_the_safe_side(step_min: float) -> None:
    """A machine that does not name its runs may have been restarted: each kind takes its side."""
    machine = DrivenClock(boot="")
    at_least, no_longer = a_clock(ClockKind.COLD, machine), a_clock(ClockKind.PACKET, machine)
    machine.go(minutes=20)
    machine.step_wall(minutes=step_min)

    cold = standing(at_least, machine.reading())
    packet = standing(no_longer, machine.reading())

    by_wall = max(0.0, 20.0 + step_min) * 60.0
    assert cold.passed_s == min(1200.0, by_wall)
    assert packet.passed_s == max(1200.0, by_wall)
    assert cold.contradicted
    assert not cold.certain


def test_an_unnamed_run_whose_clocks_agree_is_certain() -> None:
    """Where wall clock and steady clock say the same nothing is in doubt."""
    machine = DrivenClock(boot="")
    clock = a_clock(ClockKind.PACKET, machine)
    machine.go(minutes=20)

    assert standing(clock, machine.reading()).certain


@given(
    st.floats(0.0, 1e6),
    st.floats(-1e6, 1e6),
    st.floats(0.0, 1e5),
    st.sampled_from(["boot 1", ""]),
    st.booleans(),
)
def test_no_kind_fails_to_the_wrong_side(
    awake_s: float, step_s: float, off_s: float, boot: str, restart: bool
) -> None:
    """Whatever was done to the clocks, at-least never runs ahead of no-longer-than."""
    machine = DrivenClock(boot=boot)
    cold, packet = a_clock(ClockKind.COLD, machine), a_clock(ClockKind.PACKET, machine)
    machine.go(seconds=awake_s)
    machine.step_wall(seconds=step_s)
    if restart:
        machine.reboot(seconds=off_s)
    now = machine.reading()

    assert standing(cold, now).passed_s <= standing(packet, now).passed_s
    assert standing(cold, now).passed_s >= 0.0
    if standing(cold, now).due:
        assert standing(packet, now).due


# What runs ----------------------------------------------------------------------------------------


def test_nothing_runs_in_a_new_session() -> None:
    """Without work there is nothing to wait for."""
    assert running(tell(FILLED).session) == ()


def test_a_packet_runs_while_absorbers_lie_open() -> None:
    """From the opening until the rest is shut up, with what is left told."""
    told = tell(f"{FILLED}; packet 200x10")
    (clock,) = of_kind(told, ClockKind.PACKET)
    assert (clock.count, clock.limit, clock.runs_s) == (10, OpenLimit.PRACTICE_CAP, 1200.0)

    told.do("+2 min; place 8")
    assert of_kind(told, ClockKind.PACKET)[0].count == 2
    assert of_kind(told, ClockKind.PACKET)[0].started == clock.started

    told.do("jar")
    assert of_kind(told, ClockKind.PACKET) == []


def test_a_packet_runs_while_its_absorbers_lie_in_open_pouches() -> None:
    """An absorber in a pouch that stands open is as exposed as one on the counter."""
    told = tell(f"{FILLED}; packet 200x8; place 8, open")
    (clock,) = of_kind(told, ClockKind.PACKET)
    assert clock.count == 8

    told.do("shut 1-8")

    assert of_kind(told, ClockKind.PACKET) == []


def test_packets_of_two_ratings_run_side_by_side() -> None:
    """Each open packet has its own clock."""
    told = tell(f"{FILLED}; packet 200x4; +3 min; packet 100x4")

    clocks = of_kind(told, ClockKind.PACKET)
    assert [clock.name for clock in clocks] == ["P1", "P2"]
    assert clocks[1].started.utc - clocks[0].started.utc == timedelta(minutes=3)


def test_pouches_that_wait_for_the_iron_have_one_clock() -> None:
    """It is that of the pouch that has waited longest, and tells how many wait."""
    told = tell(f"{FILLED}; packet 200x10; place 3; +10 min; place 5")
    (clock,) = of_kind(told, ClockKind.PRESSED_SHUT)
    assert (clock.subject, clock.count, clock.runs_s) == ("1", 8, 3600.0)

    told.do("seal 1-3")

    (later,) = of_kind(told, ClockKind.PRESSED_SHUT)
    assert (later.subject, later.count) == ("4", 5)
    assert later.clock == clock.clock
    assert later.due_at - clock.due_at == timedelta(minutes=10)


def test_a_gap_in_a_seam_has_a_clock() -> None:
    """A seam with a gap is to be closed at once, zip or no zip."""
    told = tell("receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000")
    told.do("fill 1; packet 2000x1; place 1, open; seal 1, gap left")
    (clock,) = of_kind(told, ClockKind.PRESSED_SHUT)
    assert clock.runs_s == 600.0

    told.do("seal 1, one seam")

    assert of_kind(told, ClockKind.PRESSED_SHUT) == []


def test_seams_are_looked_at_after_a_day_a_week_and_every_half_year() -> None:
    """Pouches checked equally often are looked at together, each look later than the last."""
    told = tell(SEALED)
    waits = []
    for _ in range(4):
        (clock,) = of_kind(told, ClockKind.SEAL_CHECK)
        assert clock.count == 8
        waits.append(clock.due_at - told.clock.reading().utc)
        told.clock.go(seconds=waits[-1].total_seconds())
        told.do("check 1-8 snug")

    assert waits == [
        timedelta(hours=24),
        timedelta(days=7),
        timedelta(days=182),
        timedelta(days=182),
    ]


def test_pouches_checked_before_are_looked_at_apart() -> None:
    """Three looked at today and five still to be looked at are two clocks."""
    told = tell(SEALED).do("+1 d; check 1-3 snug")

    assert {clock.subject: clock.count for clock in of_kind(told, ClockKind.SEAL_CHECK)} == {
        "1": 5,
        "2": 3,
    }


def test_a_closed_session_looks_at_its_seams_only() -> None:
    """After the closing nothing waits but the next look."""
    told = tell(f"{SHUT}; jar; seal 1-6; close all the same")

    assert {clock.kind for clock in running(told.session)} == {ClockKind.SEAL_CHECK}


def test_loads_have_a_clock_in_the_cold_and_one_in_the_room(story: Script) -> None:
    """Each load is waited for in the freezer, then in the room, then not at all."""
    told = tell("receive wheat 16 kg; agree wheat 16 x 1 kg; freeze wheat; +1 h; freeze wheat")
    assert [clock.clock for clock in running(told.session)] == ["cold:A", "cold:B"]

    told.do("+110 h; out A 21 C")
    assert [clock.clock for clock in running(told.session)] == ["thaw:A", "cold:B"]

    told.do("+60 h; open A")
    assert [clock.clock for clock in running(told.session)] == ["cold:B"]
    load = told.session.loads["B"]
    assert load.forecast.hold_done is not None
    assert running(told.session)[0].due_at == load.forecast.hold_done.likely


def test_a_load_that_never_gets_cold_has_no_clock() -> None:
    """In a freezer that is too warm there is no time to wait for."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; freezer -14 C, confirmed")

    assert told.session.loads["A"].forecast.hold_done is None
    assert running(told.session) == ()


def test_a_clock_entered_late_started_when_it_happened() -> None:
    """A packet opened ten minutes ago and entered now has ten minutes left of its twenty."""
    told = tell(FILLED).do("+30 min; 10 min ago: packet 200x10")
    (clock,) = of_kind(told, ClockKind.PACKET)

    assert standing(clock, told.desk.now()).remaining_s == 600.0


def test_the_instant_due_is_of_the_clocks_own_making() -> None:
    """When a clock is due depends on its start and its length alone."""
    machine = DrivenClock()
    clock = a_clock(ClockKind.PACKET, machine)

    assert clock.due_at == machine.reading().utc + timedelta(hours=1)
    assert replace(clock, runs_s=DAY_S).due_at == machine.reading().utc + timedelta(days=1)


def test_a_pouch_with_absorbers_of_two_rounds_is_in_one_clock() -> None:
    """Opened a second time it waits once, though two packets have gone into it."""
    told = tell(f"{SHUT}; jar; reopen 3; packet 200x1; place in 3; +5 min; reopen 3-4")
    found = [clock for clock in running(told.session) if clock.open_pouches]

    assert [clock.open_pouches for clock in found] == [(3, 4)]


def test_a_pouch_that_was_never_shut_is_named_once_its_packet_is_put_away() -> None:
    """Its time runs on from the packet's opening, and no packet is said to be open."""
    told = tell("receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000")
    told.do("fill 1; packet 2000x2; +3 min; place 1, open")
    (packet,) = running(told.session)
    (liner,) = running(told.do("+1 min; jar").session)

    assert (packet.open_pouches, liner.open_pouches) == ((), (1,))
    assert (liner.again, liner.due_at) == (False, packet.due_at)
