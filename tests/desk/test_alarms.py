"""Alarms: each clock rings once for each time it falls due, also when nobody was looking."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta

import msgspec
import pytest

from packdesk.desk.ports import Trouble
from packdesk.session import facts as f
from packdesk.session.commands import FreezeLoad, UndoLast
from tests.script import PAIL, SEALED, SHUT, TREATED, Script, tell

ROUND = f"{TREATED}; fill 8; packet 200x10"


def late_s(told: Script) -> float:
    """How late the alarm that rang last was."""
    rang = told.last(f.AlarmRang).fact
    assert isinstance(rang, f.AlarmRang)
    return rang.late_s


def test_rings_once() -> None:
    """At its time the packet's alarm is noted, and not again at the next heartbeats."""
    told = tell(ROUND).do("+19 min")
    assert told.desk.ring_due() == ()

    told.do("+1 min")

    assert told.desk.ring_due() == ("packet:1",)
    assert late_s(told) == 0.0
    for _ in range(3):
        told.do("+5 min")
        assert told.desk.ring_due() == ()


def test_is_on_record_before_it_sounds() -> None:
    """When the answer comes the ringing is in the record already."""
    told = tell(ROUND).do("+21 min")

    (clock,) = told.desk.ring_due()

    kept = told.record.entries({told.session.session})[-1].fact
    assert isinstance(kept, f.AlarmRang)
    assert kept.clock == clock
    assert told.session.alarms[clock].due_at == kept.due_at


def test_rings_on_return_for_what_fell_due_meanwhile() -> None:
    """After a sleep it rings at once and says how late."""
    told = tell(ROUND)
    told.clock.sleep(minutes=63)

    assert told.desk.ring_due() == ("packet:1",)
    assert late_s(told) == 43 * 60.0


def test_rings_after_a_restart_for_what_fell_due_meanwhile() -> None:
    """A new desk on the same book, on a machine switched off and on, rings what is overdue."""
    told = tell(ROUND)
    told.clock.reboot(minutes=50)
    again = Script(record=told.record, clock=told.clock)
    again.desk.resume(told.session.session)

    assert again.desk.ring_due() == ("packet:1",)
    assert late_s(again) == 30 * 60.0


def test_does_not_ring_again_after_a_restart() -> None:
    """What rang before the restart has rung."""
    told = tell(ROUND).do("+21 min")
    told.desk.ring_due()
    told.clock.reboot(minutes=5)
    again = Script(record=told.record, clock=told.clock)
    again.desk.resume(told.session.session)

    assert again.desk.ring_due() == ()


@pytest.mark.parametrize("step_h", [-30, -2, 2, 30])
def test_setting_the_wall_clock_rings_nothing_anew(step_h: float) -> None:
    """An alarm that rang has rung, whatever the wall clock is set to."""
    told = tell(ROUND).do("+21 min")
    told.desk.ring_due()
    told.clock.step_wall(hours=step_h)
    told.clock.change_season(-60)

    assert told.desk.ring_due() == ()


def test_setting_the_wall_clock_rings_nothing_early() -> None:
    """Setting the clock two hours ahead makes no packet two hours older."""
    told = tell(ROUND)
    told.clock.step_wall(hours=2)

    assert told.desk.ring_due() == ()


def test_the_most_overdue_comes_first() -> None:
    """Several that are due are noted together, worst first."""
    told = tell(f"{ROUND}; place 2; +2 min; packet 100x3; +3 h")

    assert told.desk.ring_due() == ("packet:1", "packet:2", "pressed_shut")


def test_pouches_shut_together_ring_once() -> None:
    """While eight pouches that are overdue are sealed one by one, the alarm does not come back."""
    told = tell(f"{SHUT}; jar; +61 min")
    assert told.desk.ring_due() == ("pressed_shut",)

    for number in range(1, 8):
        told.do(f"seal {number}; +20 s")
        assert told.desk.ring_due() == ()


def test_an_alarm_that_came_late_stands_for_all_that_was_due_by_then() -> None:
    """Rung after a sleep, the alarm also was that of the pouches that had fallen due meanwhile."""
    told = tell(f"{ROUND}; place 4; +10 min; place 4; jar")
    told.clock.sleep(minutes=90)
    assert told.desk.ring_due() == ("pressed_shut",)

    told.do("seal 1-4")

    assert told.desk.ring_due() == ()


def test_pouches_shut_later_ring_in_their_turn() -> None:
    """Those shut half an hour later are due half an hour later, and ring then."""
    told = tell(f"{ROUND}; place 4; +10 min; place 4; jar; +51 min")
    assert told.desk.ring_due() == ("pressed_shut",)
    told.do("seal 1-4")
    assert told.desk.ring_due() == ()

    told.do("+10 min")

    assert told.desk.ring_due() == ("pressed_shut",)


def test_rings_again_when_its_due_time_has_moved_on() -> None:
    """A load that rang and, read to be warmer, is due later rings at that later time."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +106 h")
    assert told.desk.ring_due() == ("cold:A",)
    first = told.session.loads["A"].forecast.hold_done
    told.do("core A -12 C, confirmed")
    later = told.session.loads["A"].forecast.hold_done
    assert first is not None
    assert later is not None
    assert later.likely > told.clock.reading().utc
    assert told.desk.ring_due() == ()

    told.clock.go(seconds=(later.likely - told.clock.reading().utc).total_seconds() + 1.0)

    assert told.desk.ring_due() == ("cold:A",)


def test_a_due_time_that_moved_back_rings_no_second_time() -> None:
    """A load that rang and is found to have been ready earlier has rung."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +106 h")
    told.desk.ring_due()
    told.do("freezer -24 C; 30 h ago: freezer -24 C")

    assert told.desk.ring_due() == ()


def cold_due(told: Script, load: str) -> datetime:
    """When the hold of a load is complete, as last reckoned."""
    done = told.session.loads[load].forecast.hold_done
    assert done is not None
    return done.likely


def test_three_loads_in_one_freezer_each_ring_once_at_their_moved_times() -> None:
    """Later loads put the earlier ones off; over a night of sleep each rings once, none early."""
    told = tell("receive wheat 60 kg; agree wheat 8 x 1 kg")
    figures = msgspec.structs.replace(PAIL, spare_power_w=40.0, frozen_food_kg=10.0)
    first_due = {}
    for letter, gap_h in (("A", 0.0), ("B", 1.0), ("C", 3.0)):
        told.clock.go(hours=gap_h)
        told.desk.submit(
            FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 14600.0, figures, confirmed=True)
        )
        first_due[letter] = cold_due(told, letter)
    due = {letter: cold_due(told, letter) for letter in first_due}
    assert due["A"] > first_due["A"] + timedelta(minutes=30)
    assert due["B"] > first_due["B"] + timedelta(minutes=30)

    rang: dict[datetime, tuple[str, ...]] = {}

    def look() -> None:
        now = told.clock.reading().utc
        for clock in told.desk.ring_due():
            rang[now] = (*rang.get(now, ()), clock)

    def look_until(at: datetime) -> None:
        while told.clock.reading().utc < at:
            told.clock.go(minutes=15)
            look()

    look_until(due["A"] - timedelta(minutes=20))
    assert not rang
    told.clock.sleep(hours=9)
    look()
    woke = told.clock.reading().utc
    look_until(max(due.values()) + timedelta(hours=24))

    assert Counter(clock for clocks in rang.values() for clock in clocks) == {
        "cold:A": 1,
        "cold:B": 1,
        "cold:C": 1,
    }
    for at, clocks in rang.items():
        for clock in clocks:
            late = at - due[clock.removeprefix("cold:")]
            assert timedelta(0) <= late
            assert late < timedelta(minutes=15) or at == woke


def test_a_new_packet_rings_in_its_turn() -> None:
    """An alarm of a round that was undone does not silence the round entered instead."""
    told = tell(ROUND).do("+21 min")
    told.desk.ring_due()
    told.desk.submit(UndoLast())
    told.do("packet 200x10; +21 min")

    assert told.desk.ring_due() == ("packet:1",)


def test_stopping_the_sound_ends_nothing() -> None:
    """The clock stays due until the work is done; only the sound has stopped."""
    told = tell(ROUND).do("+21 min")
    told.desk.ring_due()

    told.do("silence packet:1")

    alarm = told.session.alarms["packet:1"]
    assert alarm.silenced_at == told.clock.reading().utc
    assert told.desk.ring_due() == ()


def test_looks_at_the_seams_ring_after_the_closing() -> None:
    """A closed session still calls for its next look."""
    told = tell(f"{SEALED}; close; +1 d")

    assert told.desk.ring_due() == ("seal_check:1",)


def test_without_a_session_nothing_rings() -> None:
    """With no session open there is no clock."""
    assert Script().desk.ring_due() == ()


def test_rings_the_next_time_when_the_record_failed() -> None:
    """An alarm that could not be noted is not lost."""
    told = tell(ROUND).do("+21 min")
    told.record.trouble = Trouble("The disk is full.", "Free some space.")
    with pytest.raises(Trouble):
        told.desk.ring_due()

    told.record.trouble = None

    assert told.desk.ring_due() == ("packet:1",)
