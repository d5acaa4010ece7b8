"""Two sessions on one book: what they share, and what they leave alone."""

from __future__ import annotations

import pytest

from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import ReceiveLot, UndoLast, VoidFact
from packdesk.session.fold import fold
from tests.fakes.memory_book import MemoryBook
from tests.script import SHUT, TREATED, Script, tell


@pytest.fixture
def autumn() -> Script:
    """A session with wheat pressed shut and two absorbers in a jar."""
    return tell(f"{SHUT}; jar")


@pytest.fixture
def winter(autumn: Script) -> Script:
    """A later session on the same book, with rice filled."""
    autumn.clock.go(days=30)
    return tell(
        "receive rice 4 kg; bypass rice; agree rice 4 x 1 kg; fill 4",
        record=autumn.record,
        clock=autumn.clock,
    )


def test_see_the_same_book(autumn: Script, winter: Script) -> None:
    """Lots, packets and jars are the book's; pouches are the session's own."""
    assert set(winter.book.lots) == {"2611-1", "2612-1"}
    assert set(winter.book.remainders) == {"R1"}
    assert [pouch.line for pouch in winter.session.pouches.values()] == [1, 1, 1, 1]
    assert len(autumn.session.pouches) == 8


def test_a_jar_is_taken_for_good(autumn: Script, winter: Script) -> None:
    """A remainder that a later session takes is gone for every other, the first included."""
    winter.do("ready; take R1; place 2")

    autumn.desk.resume(autumn.session.session)

    assert autumn.book.remainders["R1"].taken
    assert "taken already. Open a packet" in autumn.refused("take R1")
    third = tell(record=autumn.record, clock=autumn.clock)
    assert third.book.remainders["R1"].taken


def test_a_jar_brings_its_age_along(winter: Script) -> None:
    """The later session begins with what the absorbers had left, not with new ones."""
    winter.do("take R1")

    round_, jar = winter.session.rounds[1], winter.book.remainders["R1"]
    assert (round_.rating_cc, round_.count) == (200, 2)
    assert round_.capacity_low_cc <= jar.capacity_low_cc < 200.0


@pytest.mark.parametrize("step", ["receive beans 2 kg", "packet 200x4", "label 1"])
def test_undo_leaves_the_other_session_alone(autumn: Script, winter: Script, step: str) -> None:
    """What another session noted in the book is not what Undo takes back here."""
    winter.do(step)
    winter_state = winter.desk.state
    autumn.desk.resume(autumn.session.session)
    book = autumn.book

    autumn.do("undo")

    assert autumn.session.rounds[1].left == 2  # it was its own jar that was opened again
    assert autumn.book.lots == book.lots
    assert autumn.book.packets == book.packets
    assert autumn.book.sheets == book.sheets
    winter.desk.resume(winter.session.session)
    assert winter.session == winter_state.session
    assert winter.desk.state.disputed == ()


def test_undo_leaves_alone_what_another_voided(autumn: Script, winter: Script) -> None:
    """A voiding made on purpose in another session is not undone here."""
    winter.do("receive beans 2 kg")
    beans = winter.last(f.LotReceived).id
    winter.desk.submit(VoidFact(beans, "sent back"))
    autumn.desk.resume(autumn.session.session)

    autumn.do("undo; undo")

    assert "2612-2" not in autumn.book.lots


def test_what_another_session_uses_stays(autumn: Script, winter: Script) -> None:
    """A jar that the other session has opened cannot be undone or voided under it."""
    winter.do("take R1; place 2")
    autumn.desk.resume(autumn.session.session)

    assert "Undo it there first" in autumn.refused("undo")
    jar = autumn.last(f.RemainderShut).id
    answer = autumn.desk.submit(VoidFact(jar, "miscounted"))
    assert isinstance(answer, Refusal)
    assert "Undo it there first" in answer.sentence


def test_what_was_noted_in_another_session_is_voided_there(winter: Script) -> None:
    """An entry of the book that another session made is voided in that one."""
    wheat = next(e for e in winter.entries if isinstance(e.fact, f.LotReceived))

    answer = winter.desk.submit(VoidFact(wheat.id, "wrong"))

    assert isinstance(answer, Refusal)
    assert "Void it there" in answer.sentence


def test_what_another_session_does_after_the_closing_is_no_misfit(
    autumn: Script, winter: Script
) -> None:
    """A closed session reads the book's later entries as they are."""
    autumn.desk.resume(autumn.session.session)
    autumn.do("seal 1-8; close")
    winter.desk.resume(winter.session.session)
    winter.do("packet 200x4; place 4; seal 1-4; label 1-4; +1 d; check 1-4 snug")

    autumn.desk.resume(autumn.session.session)

    assert autumn.desk.state.disputed == ()
    assert autumn.book == winter.book


def test_the_book_is_the_same_from_every_session(autumn: Script, winter: Script) -> None:
    """Whoever looks, and also when no session is open, the book holds the same."""
    winter.do("take R1; place 2; packet 100x5; jar; label 1-4")
    autumn.desk.resume(autumn.session.session)
    book = autumn.book
    winter.desk.resume(winter.session.session)
    assert winter.book == book

    winter.desk.leave()

    assert winter.book == book


def test_a_lot_received_for_no_session_is_undone_where_none_is_open() -> None:
    """What was received between sessions is taken back between sessions, not in one."""
    told = Script()
    told.desk.submit(ReceiveLot("wheat", "Wheat", 8000.0))
    assert told.last(f.LotReceived).fact.session is None

    told.do("session Autumn")
    assert "nothing to undo yet" in told.refused("undo")

    told.desk.leave()
    told.desk.submit(UndoLast())
    assert told.book.lots == {}


def test_entries_of_two_stations_that_cross_are_kept_and_not_counted() -> None:
    """Where two stations filled the same pouch the later entry is set aside, nothing is lost."""
    told = tell(f"{TREATED}; fill 3")
    crossing = told.last(f.PouchesFilled)
    state = fold((*told.entries, crossing))

    assert state.session is not None
    assert len(state.session.pouches) == 3
    assert state.disputed == (crossing.id,)


def test_a_book_may_be_shared_by_scripts() -> None:
    """The fixtures above lie on one book indeed."""
    book = MemoryBook(tell().record.station)

    first = tell("note: one", record=book)
    second = tell("note: two", record=book)

    assert {head.session for head in book.sessions()} == {
        first.session.session,
        second.session.session,
    }
