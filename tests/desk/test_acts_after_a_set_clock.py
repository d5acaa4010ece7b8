"""Acts after the wall clock was set: what happened, in which order and how long ago, stays so."""

from __future__ import annotations

import pytest

from packdesk.desk.desk import Kept
from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.clocks import running, standing
from packdesk.session.fold import fold
from tests.fakes.clock import DrivenClock
from tests.script import TREATED, Script, tell

ROUND = f"{TREATED}; fill 8; ready; packet 200x10; +4 min"
FROZEN = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat"
STEPS_H = [-60.0, -2.0, 2.0, 60.0]


def on_a_clock_set(text: str, step_h: float) -> Script:
    """The steps of `text`, the wall clock set by `step_h` where it says `set`."""
    before, after = text.split("; set; ")
    told = tell(before)
    told.clock.step_wall(hours=step_h)
    return told.do(after)


@pytest.mark.parametrize("step_h", STEPS_H)
def test_a_round_goes_on_to_its_end(step_h: float) -> None:
    """Placing, shutting up the rest and sealing come out as without the setting, to the figure."""
    steps = f"{ROUND}; set; +1 min; place 3; +2 min; place 5; jar; +1 min; seal 1-8; +30 h; "
    told = on_a_clock_set(f"{steps}check 1-8 snug", step_h)
    undisturbed = on_a_clock_set(f"{steps}check 1-8 snug", 0.0)

    for kind in (f.AbsorbersPlaced, f.RemainderShut):
        fact, as_ever = told.last(kind).fact, undisturbed.last(kind).fact
        assert isinstance(fact, kind)
        assert isinstance(as_ever, kind)
        assert fact.capacity_low_cc == as_ever.capacity_low_cc
        assert fact.capacity_likely_cc == as_ever.capacity_likely_cc
    assert all(pouch.checks for pouch in told.session.pouches.values())
    assert told.desk.state.disputed == ()


@pytest.mark.parametrize("step_h", STEPS_H)
def test_the_cold_is_as_long_as_it_lasted(step_h: float) -> None:
    """A load that was in for 60 h is not let out by a clock set two days and a half ahead."""
    told = tell(f"{FROZEN}; +60 h")
    told.clock.step_wall(hours=step_h)

    assert told.refused("out A 21 C").startswith("The cold is not complete.")

    told.do("+60 h; out A 21 C")
    out, as_ever = (
        each.last(f.LoadTakenOut).fact for each in (told, tell(f"{FROZEN}; +120 h; out A 21 C"))
    )
    assert isinstance(out, f.LoadTakenOut)
    assert isinstance(as_ever, f.LoadTakenOut)
    assert (out.held_h, out.reason) == (as_ever.held_h, "")


@pytest.mark.parametrize("step_h", [-40.0, 40.0])
def test_the_lid_waits_for_the_food(step_h: float) -> None:
    """An hour after it came out a load is cold, whatever day the wall clock says it is."""
    told = tell(f"{FROZEN}; +120 h; out A 21 C 60 %; +1 h")
    told.clock.step_wall(hours=step_h)

    assert told.refused("open A").startswith("The food is still too cold")

    opened = told.do("open A: the room is dry").last(f.LoadUncovered).fact
    assert isinstance(opened, f.LoadUncovered)
    assert opened.core_c < -10.0


@pytest.mark.parametrize("step_h", STEPS_H)
def test_every_clock_stands_as_before_once_the_record_is_read_anew(step_h: float) -> None:
    """After the setting and an act, what remains of each clock is what remained before it."""
    told = tell(f"{FROZEN}; +20 h")
    before = {c.clock: standing(c, told.desk.now()).remaining_s for c in running(told.session)}
    told.clock.step_wall(hours=step_h)
    told.do("core A -9 C, confirmed")
    told.do("undo")
    stands = {c.clock: standing(c, told.desk.now()) for c in running(told.session)}

    assert {clock: each.remaining_s for clock, each in stands.items()} == pytest.approx(before)
    assert [each.wall_moved_s for each in stands.values()] == [step_h * 3600.0]
    assert told.desk.state == fold(told.entries)


def test_a_time_said_is_by_the_clock_as_it_is_set_now() -> None:
    """Two minutes ago is two minutes ago, before and after the last entry, on a clock set back."""
    told = tell(ROUND)
    told.clock.step_wall(hours=-2)

    told.do("+3 min; 2 min ago: place 3")

    assert told.refused("30 min ago: place 2").endswith("Check the time.")


def test_a_record_shows_the_setting_and_is_read_alike_on_another_machine() -> None:
    """The entries keep what the wall clock said; another desk on the book has the same state."""
    told = on_a_clock_set(f"{ROUND}; set; +1 min; place 3", -2.0)
    again = Script(record=told.record, clock=told.clock)
    again.desk.resume(told.session.session)

    assert told.entries[-1].recorded.utc < told.entries[-3].recorded.utc
    assert again.desk.state == told.desk.state


def test_what_another_run_of_the_machine_recorded_stays_where_it_was() -> None:
    """A clock put right after a restart moves what was noted since, not the load of last week."""
    told = tell(f"{FROZEN}; +30 h")
    frozen_at = told.session.loads["A"].frozen.utc
    told.clock.reboot(days=400)
    asked = told.try_to("note: the date is wrong")
    assert isinstance(asked, Refusal)
    told.desk.submit(told.order("note: the date is wrong"), asked.when)
    told.clock.step_wall(days=-400)

    assert told.refused("out A 21 C").startswith("The cold is not complete.")
    assert told.session.loads["A"].frozen.utc == frozen_at


@pytest.mark.parametrize("in_hand", [True, False])
def test_a_setting_that_nothing_was_entered_after_is_known_to_the_next_run(in_hand: bool) -> None:
    """Set, noted at the next heartbeat, switched off: the load is as old as it is, no older."""
    told = tell(f"{FROZEN}; +60 h")
    frozen_in = told.session.session
    if not in_hand:
        told.do("session Rice")
    told.clock.step_wall(hours=60)
    told.desk.ring_due()
    told.desk.ring_due()
    assert [fact.by_s for fact in told.facts if isinstance(fact, f.WallClockSet)] == [216_000.0]
    told.clock.reboot(minutes=10)
    again = Script(record=told.record, clock=told.clock)
    again.desk.resume(frozen_in)

    assert again.refused("out A 21 C").startswith("The cold is not complete.")


# Alarms -------------------------------------------------------------------------------------------


def test_an_alarm_that_rang_by_a_wrong_date_rings_again_when_it_is_due() -> None:
    """Rung 400 days ahead and silenced, the date put right: at its time it rings, once."""
    told = tell(f"{FROZEN}; +30 h")
    told.clock.reboot(days=400)
    assert told.desk.ring_due() == ("cold:A",)
    told.do("silence cold:A")
    told.clock.step_wall(days=-400)
    assert told.desk.ring_due() == ()

    (clock,) = running(told.session)
    told.do(f"+{standing(clock, told.desk.now()).remaining_s} s")

    assert told.desk.ring_due() == ("cold:A",)
    assert told.desk.ring_due() == ()
    told.do("+2 h")
    assert told.desk.ring_due() == ()


def test_a_packet_that_rang_by_a_wrong_clock_rings_again_where_runs_are_not_named() -> None:
    """Rung two hours early and silenced, the clock put back: at the true time it rings, once."""
    clock = DrivenClock(boot="")
    told = tell(f"{TREATED}; fill 8; packet 200x10; +5 min", clock=clock)
    clock.step_wall(hours=2)
    assert told.desk.ring_due() == ("packet:1",)
    told.do("silence packet:1; +5 min")
    clock.step_wall(hours=-2)
    assert told.desk.ring_due() == ()

    told.do("+11 min")

    assert told.desk.ring_due() == ("packet:1",)
    assert told.desk.ring_due() == ()


# Where nobody knows how long it was ---------------------------------------------------------------


def back_over_a_restart(text: str) -> Script:
    """A machine switched off for ten minutes, its wall clock two hours behind afterwards."""
    told = tell(text)
    told.clock.step_wall(hours=-2)
    told.clock.reboot(minutes=10)
    return told


def test_a_clock_behind_the_record_is_asked_about() -> None:
    """The question names the last entry; kept, the act counts as just after it."""
    told = back_over_a_restart(ROUND)
    last = told.entries[-1].happened_at

    answer = told.try_to("place 3")

    assert isinstance(answer, Refusal)
    assert answer.question
    assert answer.sentence.startswith(
        "By this computer's clock that would be before the last entry, of 2026-11-20 19:00. "
    )
    kept = told.desk.submit(told.order("place 3"), answer.when)
    assert isinstance(kept, Kept)
    assert told.last(f.AbsorbersPlaced).happened_at == last
    assert told.desk.state.disputed == ()


def test_absorbers_open_for_nobody_knows_how_long_count_as_at_the_end_of_their_time() -> None:
    """With the time of the packet unknown its absorbers are reckoned as at its limit."""
    told = back_over_a_restart(ROUND)
    answer = told.try_to("place 3")
    assert isinstance(answer, Refusal)
    told.desk.submit(told.order("place 3"), answer.when)
    at_limit = tell(f"{ROUND}; +16 min; place 3").last(f.AbsorbersPlaced).fact

    placed = told.last(f.AbsorbersPlaced).fact

    assert isinstance(placed, f.AbsorbersPlaced)
    assert isinstance(at_limit, f.AbsorbersPlaced)
    assert placed.capacity_low_cc == at_limit.capacity_low_cc < 198.0


def test_a_date_far_ahead_is_asked_about_once() -> None:
    """Restarted 400 days on, the first act is asked about, and the next ones are not."""
    told = tell(f"{FROZEN}; +30 h")
    told.clock.reboot(days=400)
    told.desk.ring_due()

    asked = told.try_to("out A 21 C")

    assert isinstance(asked, Refusal)
    assert asked.question
    assert asked.sentence.startswith(
        "By this computer's clock 401 d 6 h have passed since the last entry, of 2026-11-20 19:00. "
    )
    assert isinstance(told.desk.submit(told.order("out A 21 C"), asked.when), Kept)
    told.do("+1 min; note: the house was shut up")


@pytest.mark.parametrize(
    ("steps", "days"),
    [(f"{FROZEN}; +30 h", 20), (f"{ROUND}; place 8; jar; seal 1-8", 182), (TREATED, 400)],
)
def test_a_long_rest_with_nothing_under_way_is_not_asked_about(steps: str, days: int) -> None:
    """Three weeks of cold, half a year till the next look, a year of planning: all may be."""
    told = tell(steps)
    told.clock.reboot(days=days)

    told.do("note: here again")


def test_what_is_wrong_anyway_is_not_asked_about_the_clock() -> None:
    """A command that would not be followed at any time is refused with its own words."""
    told = back_over_a_restart(ROUND)

    assert told.refused("place 30") == "8 pouches wait for an absorber. Enter 1 to 8."
    assert told.refused("1 min ago: place 3").endswith("Check the time.")


def test_put_right_again_the_clock_is_asked_about_no_more() -> None:
    """What was kept while the clock was behind then happened when it was entered."""
    told = back_over_a_restart(ROUND)
    answer = told.try_to("place 3")
    assert isinstance(answer, Refusal)
    told.desk.submit(told.order("place 3"), answer.when)
    told.clock.step_wall(hours=2)

    told.do("+2 min; place 5; jar; seal 1-8")

    (first, *_) = told.session.pouches[1].placed
    assert (first.at - told.session.rounds[1].started.utc).total_seconds() == 840.0
    assert told.desk.state == fold(told.entries)
    assert told.desk.state.disputed == ()


@pytest.mark.parametrize("step_h", [60.0, -2.0])
def test_unnamed_runs_take_the_safe_side_of_the_cold(step_h: float) -> None:
    """By one clock the cold is complete, by the other not: it is not."""
    told = tell(f"{FROZEN}; +60 h", clock=DrivenClock(boot=""))
    told.clock.step_wall(hours=step_h)

    assert told.refused("out A 21 C").startswith("The cold is not complete.")


def test_unnamed_runs_take_the_safe_side_of_the_thaw() -> None:
    """By one clock the food is warm, by the other frozen: the lid stays on."""
    told = tell(f"{FROZEN}; +120 h; out A 21 C 60 %; +1 h", clock=DrivenClock(boot=""))
    told.clock.step_wall(hours=40)

    assert told.refused("open A").startswith("The food is still too cold")


def test_unnamed_runs_take_the_safe_side_of_the_open_packet() -> None:
    """By one clock the packet was open two hours, by the other a minute: it was two hours."""
    told = tell(ROUND, clock=DrivenClock(boot=""))
    told.clock.step_wall(hours=2)
    two_hours = tell(f"{ROUND}; +2 h; place 3").last(f.AbsorbersPlaced).fact

    placed = told.do("place 3").last(f.AbsorbersPlaced).fact

    assert isinstance(placed, f.AbsorbersPlaced)
    assert isinstance(two_hours, f.AbsorbersPlaced)
    assert placed.capacity_low_cc == two_hours.capacity_low_cc
