"""Sessions and books that come from elsewhere: taken over whole, once, and nothing half."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from packdesk.instants import Reading
from packdesk.record.book import Book
from packdesk.record.intake import take_in
from packdesk.record.session_file import (
    FORMAT,
    FaultySessionFile,
    Header,
    SessionFile,
    read_session_text,
    write_session_file,
)
from packdesk.record.session_file import read_session_file as read
from packdesk.record.take import DoesNotFit, Taken
from packdesk.session.envelope import BOOK_STREAM, Entry
from tests.record.drafts import (
    LOT,
    OPENED,
    OTHER_SESSION,
    OTHER_STATION,
    SESSION,
    START,
    STATION,
    draft,
    identity,
    note,
)

NOW = Reading(START + timedelta(days=1), 60, 90_000.0, "boot-1")
EVERYTHING = (SESSION, OTHER_SESSION, BOOK_STREAM)


@pytest.fixture
def here(tmp_path: Path) -> Iterator[Book]:
    """The book that takes over."""
    with Book.open(tmp_path / "here" / "record.packdesk", STATION) as book:
        yield book


@pytest.fixture
def there(tmp_path: Path) -> Iterator[Book]:
    """The book of another station: two entries of one session, one of another, one of the book."""
    with Book.open(tmp_path / "there" / "record.packdesk", OTHER_STATION) as book:
        book.append([draft(1, OPENED), draft(2, LOT)])
        book.append([draft(3, session=OTHER_SESSION), draft(4)])
        yield book


def exported(book: Book, *streams: object) -> SessionFile:
    """A file of some streams of a book, written and read."""
    path = book.path.with_name("export.jsonl")
    write_session_file(path, Header(packdesk_session=FORMAT), book.links(streams or None))
    return read(path)


def everything(book: Book) -> tuple[Entry, ...]:
    """All entries of a book in the order of the fold."""
    return book.entries(EVERYTHING)


# --------------------------------------------------------------------------------------------
# What another book wrote


def test_entries_of_another_book_stay_what_they_were(here: Book, there: Book) -> None:
    """A whole book comes over with its station, its numbers and its chain."""
    taken = take_in(here, exported(there), NOW)

    assert taken == Taken(added=4, known=0, forks=0)
    assert everything(here) == everything(there)
    assert here.verify().sound


def test_taking_over_twice_adds_nothing(here: Book, there: Book) -> None:
    """Entries that are here already are skipped, whichever file they come in."""
    take_in(here, exported(there, SESSION), NOW)

    assert take_in(here, exported(there), NOW) == Taken(added=2, known=2, forks=0)
    assert take_in(here, exported(there), NOW) == Taken(added=0, known=4, forks=0)
    assert here.verify().sound


def test_one_session_comes_over_without_the_rest(here: Book, there: Book) -> None:
    """Of a station only some entries may come; the check knows the gap and still sees damage."""
    take_in(here, exported(there, SESSION), NOW)

    assert everything(here) == there.entries({SESSION})
    report = here.verify()
    assert report.sound
    assert report.notes == (
        (
            "At one place the book was given later entries of another station but not the earlier"
            " ones."
        ),
    )
    connection = here._hold.connection()
    connection.execute("DROP TRIGGER events_no_update")
    connection.execute("UPDATE events SET who = 'nobody' WHERE station_seq = 4")
    assert here.verify().faults == ("Entry 4 of station 0193bbbb is not as it was recorded.",)


def test_what_came_with_a_gap_can_be_passed_on(here: Book, there: Book, tmp_path: Path) -> None:
    """What came over without its whole station goes into a file, and on from there."""
    take_in(here, exported(there, SESSION), NOW)

    with Book.open(tmp_path / "third" / "record.packdesk", identity(3)) as third:
        take_in(third, exported(here), NOW)

        assert everything(third) == there.entries({SESSION})
        assert third.verify().sound


def test_a_gap_may_be_filled_later(here: Book, there: Book) -> None:
    """Once the earlier entries come too, both books are the same."""
    take_in(here, exported(there, SESSION), NOW)

    take_in(here, exported(there, OTHER_SESSION, BOOK_STREAM), NOW)

    assert everything(here) == everything(there)
    assert here.verify().sound


def test_both_books_are_alike_after_an_exchange(here: Book, there: Book) -> None:
    """Two books that give each other everything fold the same entries in the same order."""
    here.append([draft(11, minute=2.5), draft(12)])
    there.append([draft(21, minute=11.5)])

    take_in(here, exported(there), NOW)
    take_in(there, exported(here), NOW)

    assert everything(here) == everything(there)
    assert [entry.id for entry in here.entries({SESSION})] == [
        identity(number) for number in (1, 11, 4, 21, 12)
    ]


def test_what_is_recorded_next_follows_what_was_taken_over(here: Book, there: Book) -> None:
    """Entries from a computer whose clock is ahead do not come after those recorded later here."""
    there.append([draft(5, minute=60 * 24 * 365)])

    take_in(here, exported(there), NOW)
    here.append([draft(6)])

    assert [entry.id for entry in here.entries({SESSION})][-2:] == [identity(5), identity(6)]


def test_own_entries_come_back_into_an_older_copy(here: Book, tmp_path: Path) -> None:
    """After an older copy was restored, exported entries of this station fill what is missing."""
    here.append([draft(1, OPENED)])
    here.copy_to(tmp_path / "older.packdesk")
    here.append([draft(2)])

    with Book.open(tmp_path / "older.packdesk", STATION) as older:
        assert take_in(older, exported(here), NOW) == Taken(added=1, known=1, forks=0)
        assert older.append([draft(3)])[0].station_seq == 3
        assert older.verify().sound


def test_a_number_used_twice_is_kept_aside(here: Book, tmp_path: Path) -> None:
    """Two books that went on from one copy clash; the entries from elsewhere are kept aside."""
    here.append([draft(1, OPENED)])
    here.copy_to(tmp_path / "clone.packdesk")
    here.append([draft(2)])
    with Book.open(tmp_path / "clone.packdesk", STATION) as clone:
        clone.append([draft(12), draft(13)])
        file = exported(clone)

    assert take_in(here, file, NOW) == Taken(added=0, known=1, forks=2)
    assert take_in(here, file, NOW).forks == 2

    kept = [json.loads(line) for line in here.forks()]
    assert [(line["n"], line["data"]["text"]) for line in kept] == [(2, "note 12"), (3, "note 13")]
    assert [entry.id for entry in everything(here)] == [identity(1), identity(2)]
    report = here.verify()
    assert report.sound
    assert report.notes == (
        ("2 imported entries came with a number that was already taken; kept aside, not counted."),
    )


def test_nothing_is_taken_over_when_something_does_not_fit(here: Book, there: Book) -> None:
    """Entries that contradict a gap the book knows of are refused, and the others with them."""
    take_in(here, exported(there, SESSION), NOW)
    path = there.path.with_name("forged.packdesk")
    with Book.open(path, OTHER_STATION) as forged:
        forged.append([draft(1, OPENED), draft(22, LOT), draft(23, session=OTHER_SESSION)])
        file = exported(forged)
    before = everything(here)

    with pytest.raises(DoesNotFit) as told:
        take_in(here, file, NOW)

    assert str(told.value) == (
        "Entry 3 of station 0193bbbb does not lead to the one that the book has after it."
    )
    assert everything(here) == before
    assert here.verify().sound


# --------------------------------------------------------------------------------------------
# What was written by hand


def by_hand(*texts: str, at: str = "2026-11-25T09:16:00-05:00") -> SessionFile:
    """A file of notes written by hand."""
    lines = [
        json.dumps({"kind": "note_added", "at": at, "who": "sam", "data": {"text": text}})
        for text in texts
    ]
    header = json.dumps({"packdesk_session": 1, "session": str(SESSION)})
    return read_session_text("\n".join([header, *lines]).encode(), "by hand")


def test_lines_by_hand_are_recorded_as_new(here: Book) -> None:
    """A line by hand is recorded now, by this station, as having happened when it says."""
    here.append([draft(1, OPENED)])

    taken = take_in(here, by_hand("first", "second"), NOW)

    assert taken == Taken(added=2, known=0, forks=0)
    _, first, second = here.entries({SESSION})
    assert [first.fact, second.fact] == [note("first"), note("second")]
    assert (first.station, first.station_seq, first.who) == (STATION, 2, "sam")
    assert first.recorded == NOW
    assert first.happened_at == START + timedelta(hours=1, minutes=16)
    assert here.verify().sound


def test_lines_by_hand_are_taken_once(here: Book) -> None:
    """Of a file that grew only the new lines are recorded."""
    take_in(here, by_hand("first"), NOW)

    assert take_in(here, by_hand("first", "second"), NOW) == Taken(added=1, known=1, forks=0)
    assert len(here.entries({SESSION})) == 2


def test_lines_from_the_future_are_refused(here: Book) -> None:
    """A fact that is still to come is reported with its line, and nothing is recorded."""
    with pytest.raises(FaultySessionFile, match="Line 2: it lies in the future"):
        take_in(here, by_hand("first", at="2027-01-01T00:00:00Z"), NOW)

    assert here.entries({SESSION}) == ()


def test_an_entry_that_was_changed_on_the_way_is_refused(here: Book, there: Book) -> None:
    """The book itself checks each entry against its chain, whoever hands it in."""
    first, second, *_ = there.links()
    changed = second._replace(row=second.row._replace(who="nobody"))

    with pytest.raises(DoesNotFit, match="Entry 2 of station 0193bbbb is not as it was recorded"):
        here.take((first, changed), NOW.utc)

    assert everything(here) == ()


def test_entries_that_do_not_follow_are_refused(here: Book, there: Book) -> None:
    """Entries that do not continue what the book has of their station are refused."""
    take_in(here, exported(there, SESSION), NOW)
    with Book.open(there.path.with_name("forged.packdesk"), OTHER_STATION) as forged:
        forged.append([draft(number) for number in (31, 32, 33, 34)])
        forged.append([draft(5)])
        file = exported(forged)
    last = tuple(link for link in file.links if link.row.station_seq == 5)

    with pytest.raises(DoesNotFit, match="Entry 5 of station 0193bbbb does not follow the one"):
        here.take(last, NOW.utc)
