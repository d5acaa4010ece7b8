"""What the desk may expect of any record book; inherited by the tests of each kind of book."""

from __future__ import annotations

from datetime import timedelta

import msgspec
import pytest

from packdesk.desk.ports import RecordBook
from packdesk.session.envelope import BOOK_STREAM
from packdesk.session.fact import FactUnreadable
from packdesk.session.facts import AlarmRang
from tests.record.drafts import (
    CLOSED,
    LOT,
    OPENED,
    OTHER_SESSION,
    SESSION,
    START,
    STATION,
    draft,
    identity,
    voided,
)


class RecordBookContract:
    """Tests that every record book passes; a subclass has a fixture `book`, new and empty."""

    def test_knows_its_station(self, book: RecordBook) -> None:
        """A book says for which station it records."""
        assert book.station == STATION

    def test_answers_what_was_recorded(self, book: RecordBook) -> None:
        """An appended draft comes back whole, with its station and number."""
        given = draft(1, OPENED, about_min=15.0)

        (entry,) = book.append([given])

        assert (entry.station, entry.station_seq) == (STATION, 1)
        for name in ("id", "act", "stream", "happened_at", "about_min", "recorded", "who", "fact"):
            assert getattr(entry, name) == getattr(given, name), name

    def test_reads_what_append_answered(self, book: RecordBook) -> None:
        """What is read later equals what appending answered."""
        entries = book.append([draft(1, OPENED), draft(2)]) + book.append([draft(3)])

        assert book.entries({SESSION}) == entries

    def test_numbers_without_gaps(self, book: RecordBook) -> None:
        """Entries are numbered 1, 2, 3… within the station, whatever their stream."""
        book.append([draft(1, OPENED), draft(2, LOT)])
        book.append([draft(3, session=OTHER_SESSION)])

        entries = book.entries({SESSION, BOOK_STREAM, OTHER_SESSION})

        assert [entry.station_seq for entry in entries] == [1, 2, 3]

    def test_keeps_streams_apart(self, book: RecordBook) -> None:
        """Only the streams asked for are read."""
        book.append([draft(1, OPENED), draft(2, LOT), draft(3, session=OTHER_SESSION)])

        assert [entry.id for entry in book.entries({SESSION})] == [identity(1)]
        assert [entry.id for entry in book.entries([BOOK_STREAM])] == [identity(2)]
        assert book.entries(()) == ()

    def test_keeps_order_when_the_clock_goes_back(self, book: RecordBook) -> None:
        """Entries stay in the order in which they were recorded though the clock was set back."""
        book.append([draft(1, minute=60)])
        book.append([draft(2, minute=0)])

        assert [entry.id for entry in book.entries({SESSION})] == [identity(1), identity(2)]

    def test_appending_nothing_is_nothing(self, book: RecordBook) -> None:
        """A command without facts records nothing and is no fault."""
        assert book.append([]) == ()
        assert book.entries({SESSION}) == ()

    def test_recording_the_same_again_is_harmless(self, book: RecordBook) -> None:
        """Drafts that are recorded already answer their entries and are not recorded twice."""
        drafts = [draft(1, OPENED), draft(2)]
        first = book.append(drafts)
        book.append([draft(3)])

        again = book.append(drafts)

        assert again == first
        assert len(book.entries({SESSION})) == 3

    def test_refuses_a_fact_that_could_not_be_read_back(self, book: RecordBook) -> None:
        """A fact whose content does not fit its kind is a bug, and nothing of its batch is kept."""
        unfit = msgspec.structs.replace(LOT, mass_g=float("nan"))

        with pytest.raises(FactUnreadable, match="mass_g"):
            book.append([draft(1, OPENED), draft(2, unfit)])

        assert book.entries({SESSION, BOOK_STREAM}) == ()

    def test_lists_no_sessions_at_first(self, book: RecordBook) -> None:
        """A new book has no sessions, and lots of the book make none."""
        assert book.sessions() == ()

        book.append([draft(1, LOT)])

        assert book.sessions() == ()

    def test_lists_sessions_last_used_first(self, book: RecordBook) -> None:
        """The list of sessions begins with the one last recorded in."""
        book.append([draft(1, OPENED), draft(2, OPENED, session=OTHER_SESSION)])
        assert [head.session for head in book.sessions()] == [OTHER_SESSION, SESSION]

        book.append([draft(3)])

        assert [head.session for head in book.sessions()] == [SESSION, OTHER_SESSION]
        rang = AlarmRang(clock="packet:1", due_at=START, late_s=0.0)
        book.append([draft(4, rang, session=OTHER_SESSION)])
        assert [head.session for head in book.sessions()] == [SESSION, OTHER_SESSION]

    def test_says_how_a_session_stands(self, book: RecordBook) -> None:
        """A head says the session's name, its times, whether it is closed, and how much it has."""
        book.append([draft(1, OPENED, about_min=5.0), draft(2)])

        (head,) = book.sessions()

        assert head.name == OPENED.name
        assert head.opened_at == START + timedelta(minutes=1 - 5)
        assert head.last_at == START + timedelta(minutes=2)
        assert not head.closed
        assert head.entries == 2

    def test_knows_closed_sessions(self, book: RecordBook) -> None:
        """A session is closed by its closing, open again when that is voided, and so on."""
        book.append([draft(1, OPENED), draft(2, CLOSED)])
        assert [head.closed for head in book.sessions()] == [True]

        book.append([draft(3, voided(identity(2)))])
        assert [head.closed for head in book.sessions()] == [False]

        book.append([draft(4, voided(identity(3)))])
        assert [head.closed for head in book.sessions()] == [True]

        book.append([draft(5, voided(identity(4)))])
        book.append([draft(6, CLOSED)])
        assert [head.closed for head in book.sessions()] == [True]
