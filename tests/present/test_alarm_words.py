"""What rings, in which rhythm, and what it says of how late it is."""

from __future__ import annotations

from itertools import pairwise

import pytest

from packdesk.present.alarm_words import (
    AlarmCall,
    Rhythm,
    alarm_call,
    asleep_words,
    closing_words,
    due_words,
    rhythm_of,
)
from packdesk.present.early_warning import warnings_due
from packdesk.session.clocks import running, standing
from tests.script import SEALED, SHUT, TREATED, Script, tell

ROUND = f"{TREATED}; fill 8; ready; packet 200x10"
"""A packet of absorbers is just open; its clock runs 20 min, less than any other."""


def call_of(told: Script) -> AlarmCall | None:
    """What rings once everything due, and every warning, is on record."""
    told.desk.ring_due()
    for command in warnings_due(told.session, told.desk.now()):
        told.desk.submit(command)
    return alarm_call(told.session, told.desk.now())


@pytest.mark.parametrize(
    ("passed", "rhythm"),
    [
        ("9 min", None),
        ("10 min", Rhythm.WARNING),
        ("20 min", Rhythm.DUE),
        ("20.9 min", Rhythm.DUE),
        ("21 min", Rhythm.OVERDUE),
        ("3 h", Rhythm.OVERDUE),
    ],
)
def test_an_open_packet_warns_falls_due_and_is_overdue(passed: str, rhythm: Rhythm | None) -> None:
    """A no-longer-than clock is silent, warns, rings as due and a minute later as overdue."""
    call = call_of(tell(ROUND).do(f"+{passed}"))

    assert (call.rhythm if call else None) == rhythm


def test_an_at_least_clock_is_never_overdue() -> None:
    """Seams that wait to be looked at ring in the due rhythm however late it is."""
    call = call_of(tell(SEALED).do("+9 d"))

    assert call is not None
    assert call.rhythm is Rhythm.DUE
    assert call.title == "8 seams are to be checked"


def test_an_at_least_clock_gives_no_warning() -> None:
    """A seal check an hour ahead rings nothing."""
    assert call_of(tell(SEALED).do("+23 h")) is None


def test_urgency_grows_from_warning_to_overdue() -> None:
    """The three rhythms stand in an order of urgency."""
    order = (Rhythm.WARNING, Rhythm.DUE, Rhythm.OVERDUE)

    assert all(less.urgency < more.urgency for less, more in pairwise(order))


def test_what_fell_due_while_nobody_looked_says_how_late() -> None:
    """Found 43 minutes late, the words name the due time and the lateness."""
    call = call_of(tell(ROUND).do("+63 min"))

    assert call is not None
    assert call.title == "Packet P1 is 43 min past its time"
    assert call.body.endswith("It was due at 19:20.")


def test_the_first_minute_is_not_called_late() -> None:
    """At the due instant the words name the time, and no lateness."""
    call = call_of(tell(ROUND).do("+20 min"))

    assert call is not None
    assert "ago" not in call.body


def test_due_words_name_the_day_when_it_is_another() -> None:
    """A clock due yesterday says the day, and how long ago that is."""
    told = tell(ROUND).do("+23 h")
    (packet,) = running(told.session)

    assert due_words(standing(packet, told.desk.now()), told.desk.now()) == (
        "due at Fri 19:20, 22 h 40 min ago"
    )


def test_several_due_clocks_make_one_call() -> None:
    """A packet and pouches without a seam ring together, each with its lateness."""
    call = call_of(tell(SHUT).do("+100 min"))

    assert call is not None
    assert call.rhythm is Rhythm.OVERDUE
    assert call.title == "2 clocks are due"
    assert "Also: " in call.body
    assert call.body.startswith("Packet P1 is 1 h 24 min past its time. ")
    assert call.body.endswith(", due at 20:04, 40 min ago.")
    assert {clock for clock, _ in call.occasions} == {"packet:1", "pressed_shut"}


def test_a_stopped_sound_rings_nothing() -> None:
    """Once silenced, what is due stays due and rings no more."""
    told = tell(ROUND).do("+25 min")
    assert call_of(told) is not None

    told.do("silence packet:1")

    assert call_of(told) is None


def test_a_warning_rings_beside_what_was_silenced() -> None:
    """While a packet's sound is stopped, the warning of the seams still rings."""
    told = tell(SHUT).do("+25 min")
    call_of(told)
    told.do("silence packet:1; +30 min")

    call = call_of(told)

    assert call is not None
    assert call.rhythm is Rhythm.WARNING
    assert call.title == "8 shut, no seam yet: 5 min left"


def test_the_rhythm_is_that_of_what_still_sounds() -> None:
    """A silenced overdue packet does not lend its rhythm to a seam that has just fallen due."""
    told = tell(SHUT).do("+25 min")
    call_of(told)
    told.do("silence packet:1; +35 min")

    call = call_of(told)

    assert call is not None
    assert call.rhythm is Rhythm.DUE
    assert {clock for clock, _ in call.occasions} == {"pressed_shut"}


def test_what_cannot_be_put_on_record_rings_all_the_same() -> None:
    """With a full disk an overdue packet is heard, and its words say how late it is."""
    told = tell(ROUND).do("+25 min")
    call = alarm_call(told.session, told.desk.now())

    assert call is not None
    assert call.rhythm is Rhythm.OVERDUE
    assert call.title == "Packet P1 is 5 min past its time"
    assert call.body.endswith("It was due at 19:20.")


def test_putting_it_on_record_makes_no_new_occasion() -> None:
    """What rang before its entry was written is the same call once it is."""
    told = tell(ROUND).do("+25 min")
    before = alarm_call(told.session, told.desk.now())

    assert before is not None
    assert call_of(told) == before


def test_what_is_off_the_record_rings_beside_what_was_silenced() -> None:
    """A silenced packet stays silent while seams that could not be put on record ring."""
    told = tell(SHUT).do("+25 min")
    call_of(told)
    told.do("silence packet:1; +35 min")

    call = alarm_call(told.session, told.desk.now())

    assert call is not None
    assert call.rhythm is Rhythm.DUE
    assert {clock for clock, _ in call.occasions} == {"pressed_shut"}
    assert "Also: 8 shut, no seam yet, due at 20:04." in call.body


def test_a_warning_says_what_is_left() -> None:
    """The warning of a packet names it, what remains and when that ends."""
    call = call_of(tell(ROUND).do("+10 min"))

    assert call is not None
    assert call.title == "Packet P1 open: 10 min left"
    assert call.body == "Due at 19:20."


def test_a_warning_is_old_news_after_a_restart() -> None:
    """A warning already on record is not rung again by a window opened a minute later."""
    told = tell(ROUND).do("+10 min")
    assert call_of(told) is not None

    told.do("+1 min")

    assert call_of(told) is None


def test_what_is_due_goes_before_a_warning() -> None:
    """While an overdue packet rings, the pouches' warning does not change the rhythm."""
    call = call_of(tell(SHUT).do("+52 min"))

    assert call is not None
    assert call.rhythm is Rhythm.OVERDUE


def test_a_clock_not_due_has_the_warning_rhythm() -> None:
    """Whatever rings before its time can only be a warning."""
    told = tell(ROUND)
    (packet,) = running(told.session)

    assert rhythm_of(packet, standing(packet, told.desk.now())) is Rhythm.WARNING


def test_a_computer_that_may_sleep_says_that_it_cannot_ring() -> None:
    """Before somebody walks off, the sentence names the limit and the next due time."""
    told = tell(ROUND)
    words = asleep_words(told.session, told.desk.now())

    assert words.startswith("A sleeping computer cannot ring.")
    assert "lid" in words
    assert words.endswith("Next: Packet P1 open, due at 19:20.")


def test_without_a_clock_there_is_nothing_to_warn_of() -> None:
    """With no clock running the sentence about sleep is not said."""
    told = tell()

    assert asleep_words(told.session, told.desk.now()) == ""


def test_closing_names_the_clock_that_would_not_ring() -> None:
    """While a clock ends within the week, or is due, the next one is named; else nothing is."""
    told = tell(ROUND)
    words = closing_words(told.session, (), told.desk.now())
    assert words.startswith("A closed PackDesk cannot ring. Next: Packet ")
    assert ", due at 19:20. Everything is saved" in words

    told.do("+21 min")
    assert ", was due at 19:20. " in closing_words(told.session, (), told.desk.now())


@pytest.mark.parametrize(
    "steps", ["receive wheat 8 kg", f"{SEALED}; +2 d; check 1-8 snug; +7 d; check 1-8 snug"]
)
def test_closing_is_not_asked_about_without_a_clock_soon(steps: str) -> None:
    """With no clock, or with the next seal check months away, nothing is to be known."""
    told = tell(steps)

    assert closing_words(told.session, (), told.desk.now()) == ""


def test_what_rang_by_a_wrong_clock_sounds_and_warns_again_at_its_time() -> None:
    """Stopped while the clock was ahead, the sound comes back when the packet is truly due."""
    told = tell(ROUND)
    told.clock.reboot(minutes=2)
    told.clock.step_wall(minutes=16)
    assert call_of(told) is not None
    told.clock.step_wall(minutes=20)
    assert call_of(told) is not None
    told.do("silence packet:1 and packet:1/soon")
    told.clock.step_wall(minutes=-36)
    assert call_of(told) is None

    rhythms = []
    for _ in range(20):
        told.do("+1 min")
        call = call_of(told)
        rhythms.append(call.rhythm if call is not None else None)

    assert rhythms.count(Rhythm.WARNING) == 1
    assert rhythms.index(Rhythm.DUE) == 17


def test_a_clock_of_another_session_is_named_before_closing() -> None:
    """Nothing runs in the session in hand, and yet a packet lies open in another."""
    left = tell(ROUND)
    other = tell("")

    words = closing_words(other.session, (left.session,), left.desk.now())

    assert words.startswith("A closed PackDesk cannot ring. Next: Autumn: Packet P1 open, due at ")
    assert closing_words(None, (left.session,), left.desk.now()) == words
