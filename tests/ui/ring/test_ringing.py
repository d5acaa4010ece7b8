"""A ring, a pause, again each minute; stopped is silent, something new rings."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.ringing import EVERY_S, VOLUMES, Ringing, Start, Stop
from packdesk.ui.ring.tones import length_s

AT = datetime(2026, 11, 20, 19, 20, tzinfo=UTC)
PACKET = frozenset({("packet:1", AT)})
SEAMS = frozenset({("pressed_shut", AT)})


def run(ringing: Ringing, start_s: float, end_s: float, step_s: float = 0.5) -> list:
    """The moves of every beat between two instants, each with when it came."""
    found = []
    for beat in range(round((end_s - start_s) / step_s) + 1):
        now_s = start_s + beat * step_s
        if (move := ringing.tick(now_s)) is not None:
            found.append((now_s - start_s, move))
    return found


@pytest.fixture
def ringing() -> Ringing:
    """An alarm that has just begun to ring as due, at 1000 s."""
    ringing = Ringing()
    ringing.tick(1000.0)
    ringing.begin(Rhythm.DUE, PACKET)
    return ringing


def test_it_rings_at_once() -> None:
    """The first ring begins with the request, not a beat later."""
    ringing = Ringing()

    assert ringing.begin(Rhythm.DUE, PACKET) == Start(Rhythm.DUE, VOLUMES[0])
    assert ringing.sounding


def test_it_rings_pauses_and_repeats_louder(ringing: Ringing) -> None:
    """Twenty seconds of sound, silence, and a louder ring at each minute."""
    moves = run(ringing, 1000.0, 1190.0)

    rest = pytest.approx(length_s(Rhythm.DUE), abs=0.5)
    assert [(at, type(move)) for at, move in moves] == [
        (rest, Stop),
        (EVERY_S, Start),
        (pytest.approx(EVERY_S + length_s(Rhythm.DUE), abs=0.5), Stop),
        (2 * EVERY_S, Start),
        (pytest.approx(2 * EVERY_S + length_s(Rhythm.DUE), abs=0.5), Stop),
        (3 * EVERY_S, Start),
    ]
    assert [move.volume for _, move in moves if isinstance(move, Start)] == [0.75, 1.0, 1.0]


def test_asking_at_every_beat_changes_nothing(ringing: Ringing) -> None:
    """The window asks twice a second; one ring is one ring."""
    ringing.tick(1000.0)

    assert ringing.begin(Rhythm.DUE, PACKET) is None
    ringing.tick(1030.0)
    assert ringing.begin(Rhythm.DUE, PACKET) is None


def test_stopped_is_silent_for_good(ringing: Ringing) -> None:
    """After a stop the same occasion rings no more, though it is asked for at every beat."""
    ringing.tick(1003.0)

    assert ringing.silence() == Stop()
    assert ringing.begin(Rhythm.DUE, PACKET) is None
    assert ringing.begin(Rhythm.OVERDUE, PACKET) is None
    assert run(ringing, 1004.0, 1200.0) == []
    assert not ringing.active


def test_stopping_twice_is_stopping_once(ringing: Ringing) -> None:
    """The second stop does nothing."""
    ringing.silence()

    assert ringing.silence() is None


def test_something_new_rings_after_a_stop(ringing: Ringing) -> None:
    """A clock that falls due later rings at once, stopped or not."""
    ringing.silence()

    assert isinstance(ringing.begin(Rhythm.DUE, PACKET | SEAMS), Start)
    assert ringing.active


def test_a_clock_that_is_due_anew_rings_after_a_stop(ringing: Ringing) -> None:
    """The same clock at a later due instant is another occasion."""
    ringing.silence()
    later = frozenset({("packet:1", AT.replace(hour=20))})

    assert isinstance(ringing.begin(Rhythm.DUE, later), Start)


def test_something_new_rings_in_the_pause(ringing: Ringing) -> None:
    """A second clock does not wait for the next minute of the first."""
    run(ringing, 1000.0, 1030.0)

    assert isinstance(ringing.begin(Rhythm.DUE, PACKET | SEAMS), Start)


def test_due_becomes_overdue_at_once(ringing: Ringing) -> None:
    """A more urgent rhythm does not wait for the next ring."""
    run(ringing, 1000.0, 1030.0)

    assert ringing.begin(Rhythm.OVERDUE, PACKET) == Start(Rhythm.OVERDUE, VOLUMES[1])


def test_a_calmer_rhythm_waits_for_the_next_ring(ringing: Ringing) -> None:
    """When the most urgent thing was acted on in a pause, the pause goes on."""
    ringing.begin(Rhythm.OVERDUE, PACKET | SEAMS)
    run(ringing, 1000.0, 1030.0)

    assert ringing.begin(Rhythm.DUE, SEAMS) is None
    (next_ring,) = run(ringing, 1030.5, 1061.0)
    assert next_ring[1].rhythm is Rhythm.DUE


def test_a_warning_rings_once(ringing: Ringing) -> None:
    """A warning sounds a single time, however long nobody acts."""
    warning = Ringing()
    warning.begin(Rhythm.WARNING, PACKET)

    assert [type(move) for _, move in run(warning, 0.0, 600.0)] == [Stop]
    assert not warning.active


def test_acted_on_is_over(ringing: Ringing) -> None:
    """Once the work is done nothing sounds, and the next alarm begins softly."""
    run(ringing, 1000.0, 1070.0)

    assert ringing.end() == Stop()
    assert run(ringing, 1071.0, 1200.0) == []
    assert ringing.begin(Rhythm.DUE, SEAMS) == Start(Rhythm.DUE, VOLUMES[0])


def test_ending_in_a_pause_stops_nothing(ringing: Ringing) -> None:
    """In a pause there is no sound to stop."""
    run(ringing, 1000.0, 1030.0)

    assert ringing.end() is None


def test_a_sleep_is_followed_by_one_ring(ringing: Ringing) -> None:
    """After two hours of sleep it rings once, not for every minute missed."""
    ringing.tick(1000.0)

    assert isinstance(ringing.tick(8200.0), Start)
    assert ringing.tick(8200.5) is None


def test_a_ring_asked_for_after_a_sleep_is_not_begun_twice() -> None:
    """What falls due in a sleep rings from its own request, whatever the beat before was."""
    ringing = Ringing()
    ringing.tick(1000.0)
    ringing.begin(Rhythm.DUE, PACKET)

    assert ringing.tick(8200.0) is None
    assert ringing.ring_age_s == 0.0


def test_it_says_when_it_rings_next(ringing: Ringing) -> None:
    """In the pause the rest of the minute is told."""
    ringing.tick(1000.0)
    ringing.tick(1025.0)

    assert ringing.next_ring_s == 35.0


def test_without_occasions_asking_again_rings_again() -> None:
    """Who names no occasion starts, keeps and after a stop restarts the ring."""
    ringing = Ringing()

    assert isinstance(ringing.begin(Rhythm.DUE), Start)
    assert ringing.begin(Rhythm.DUE) is None
    ringing.silence()
    assert isinstance(ringing.begin(Rhythm.DUE), Start)
