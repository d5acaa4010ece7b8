"""Clocks of sessions that are not in hand go on, and ring as those of the one in hand do."""

from __future__ import annotations

from collections.abc import Collection
from uuid import UUID

import pytest

from packdesk.desk.desk import Desk
from packdesk.desk.ports import Trouble
from packdesk.session.envelope import BOOK_STREAM, Entry
from packdesk.session.facts import AlarmRang, AlarmSilenced, WallClockSet
from tests.fakes.memory_book import MemoryBook
from tests.script import SEALED, Script, tell

ROUND = f"{SEALED.split('; jar')[0]}"


def look(desk: Desk) -> list[str]:
    """Let some beats go by; answer what rang elsewhere."""
    return [clock for _ in range(4) for clock in desk.ring_elsewhere()]


def two_sessions() -> Script:
    """A round lies open in the first session, the second is in hand."""
    told = tell(f"{ROUND}")
    told.do("session Rice")
    return told


def test_a_packet_open_in_another_session_rings_once() -> None:
    """Half an hour on it is put on record there, once, and the session in hand knows nothing."""
    told = two_sessions()
    assert look(told.desk) == []
    told.clock.go(minutes=40)

    assert look(told.desk) == ["packet:1"]
    assert look(told.desk) == []
    assert told.desk.ring_due() == ()
    (first,) = told.desk.elsewhere
    assert set(first.alarms) == {"packet:1"}
    assert told.session.alarms == {}


def test_a_packet_elsewhere_warns_before_it_is_due() -> None:
    """Five minutes before its time the other session's packet is warned of, once."""
    told = two_sessions()
    told.clock.go(minutes=13)

    assert look(told.desk) == ["packet:1/soon"]
    assert look(told.desk) == []


def test_what_rang_elsewhere_is_there_when_that_session_is_taken_up() -> None:
    """The ringing and its stopping are in its record, and nothing rings for it again."""
    told = two_sessions()
    told.clock.go(minutes=40)
    look(told.desk)
    (first,) = told.desk.elsewhere
    told.desk.silence_elsewhere(first.session, ("packet:1",))
    (left,) = told.desk.elsewhere

    told.desk.resume(first.session)

    kinds = [type(entry.fact) for entry in told.desk.entries]
    assert (kinds.count(AlarmRang), kinds.count(AlarmSilenced)) == (1, 1)
    assert told.desk.ring_due() == ()
    assert told.desk.state.session == left
    assert [session.name for session in told.desk.elsewhere] == []


def test_a_session_put_away_is_known_as_it_was_left() -> None:
    """What was done in it before leaving it counts for its clocks."""
    told = two_sessions()
    look(told.desk)
    (first,) = told.desk.elsewhere
    told.desk.resume(first.session)
    told.do("jar; seal 1-8")
    told.desk.leave()
    told.clock.go(hours=24)

    assert look(told.desk) == ["seal_check:1"]


def test_the_half_yearly_look_of_a_closed_session_rings_in_a_newer_one() -> None:
    """Whoever packs again in spring is called to the pouches of autumn."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +1 d; check 1-8 snug; +7 d;")
    told.do("check 1-8 snug; close; session Spring")
    told.clock.go(days=181)
    assert look(told.desk) == []
    told.clock.go(days=1)

    assert look(told.desk) == ["seal_check:3"]


def test_a_wall_clock_that_was_set_moves_the_clocks_elsewhere_too() -> None:
    """Set forward two hours, the other session's packet is no older than it is."""
    told = two_sessions()
    look(told.desk)
    told.clock.step_wall(hours=2)
    told.desk.ring_due()

    assert look(told.desk) == []
    told.clock.go(minutes=40)
    assert look(told.desk) == ["packet:1"]


def test_a_session_that_cannot_be_read_leaves_the_others_their_clocks(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It is told of once; the packet left open in the third session warns and rings."""
    told = two_sessions()
    first = next(head.session for head in told.desk.sessions() if head.name == "Autumn")
    told.do("session Spring")
    read = MemoryBook.entries

    def damaged(book: MemoryBook, streams: Collection[UUID]) -> tuple[Entry, ...]:
        if first not in streams and BOOK_STREAM in streams and len(streams) == 2:
            raise Trouble("One entry cannot be read.", "Restore a copy.")
        return read(book, streams)

    monkeypatch.setattr(MemoryBook, "entries", damaged)
    with pytest.raises(Trouble):
        look(told.desk)
    told.clock.go(minutes=40)

    assert look(told.desk) == ["packet:1"]


def test_an_alarm_elsewhere_does_not_make_that_session_the_one_used_last() -> None:
    """After a restart the session that was in hand comes back, not the one that rang."""
    told = two_sessions()
    told.clock.go(minutes=40)
    assert look(told.desk) == ["packet:1"]
    (first,) = told.desk.elsewhere
    told.desk.silence_elsewhere(first.session, ("packet:1",))

    assert [head.name for head in told.desk.sessions()] == ["Rice", "Autumn"]


def test_a_clock_that_was_set_with_nothing_in_hand_is_noted() -> None:
    """The next run of the machine knows of it, though no session was open."""
    told = two_sessions()
    told.desk.leave()
    told.clock.step_wall(hours=60)

    told.desk.ring_due()

    assert [entry.fact for entry in told.desk.entries if isinstance(entry.fact, WallClockSet)] == [
        WallClockSet(by_s=216000.0, session=None)
    ]
