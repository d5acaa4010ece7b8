from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.desk.ports import Trouble
from packdesk.record.backup import back_up
from packdesk.record.book import Book
from packdesk.record.copies import Copy, check_copy, copies_of, newest_readable, to_drop
from packdesk.record.restore import restore
from packdesk.record.session_file import read_session_file
from tests.record.drafts import OPENED, SESSION, STATION, draft, note

NOW = datetime(2026, 11, 25, 13, 30, tzinfo=UTC)
HOUR = timedelta(hours=1)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """An open book with two entries."""
    with Book.open(tmp_path / "record.packdesk", STATION) as book:
        book.append([draft(1, OPENED), draft(2)])
        yield book


def damage(path: Path) -> None:
    """Overwrite a page in the middle of a file."""
    content = bytearray(path.read_bytes())
    content[4096:8192] = bytes(4096)
    path.write_bytes(content)


# --------------------------------------------------------------------------------------------
# Making copies


def test_a_copy_has_all_that_was_recorded(book: Book) -> None:
    """A copy is dated, sound, and holds what the open book holds, its log included."""
    copy = back_up(book, NOW)

    assert copy.path == book.backups / "record-2026-11-25T133000Z.packdesk"
    assert check_copy(copy.path).sound
    with Book.open(copy.path, STATION, read_only=True) as copied:
        assert copied.entries({SESSION}) == book.entries({SESSION})


def test_a_copy_is_one_file_and_a_text_beside_it(book: Book) -> None:
    """A copy needs no second file, and the same entries lie beside it as text."""
    copy = back_up(book, NOW)

    assert {file.name for file in book.backups.iterdir()} == {copy.path.name, copy.text.name}
    text = read_session_file(copy.text)
    assert [line.fact for line in text.lines] == [OPENED, note("note 2")]
    assert [link.row for link in text.links] == [link.row for link in book.links()]


def test_an_unchanged_book_is_not_copied_again(book: Book) -> None:
    """While nothing new is recorded the newest copy is answered, otherwise a new one is made."""
    first = back_up(book, NOW)

    assert back_up(book, NOW + HOUR) == first
    book.append([draft(3)])
    assert back_up(book, NOW + HOUR) != first
    assert len(copies_of(book.path, book.backups)) == 2


def test_a_damaged_newest_copy_does_not_count(book: Book) -> None:
    """A copy that was damaged since does not keep the book from being copied again."""
    damage(back_up(book, NOW).path)

    second = back_up(book, NOW + HOUR)

    assert newest_readable(book.path, book.backups) == second.path


def test_an_unsound_book_replaces_no_copies(book: Book) -> None:
    """When the copy comes out damaged it is not kept, and the older copies stay as they were."""
    good = back_up(book, NOW - timedelta(days=9))
    book.append([draft(3)])
    connection = book._hold.connection()
    connection.execute("DROP TRIGGER events_no_update")
    connection.execute("UPDATE events SET who = 'nobody' WHERE station_seq = 1")

    with pytest.raises(Trouble, match="came out damaged: Entry 1 of station 0193aaaa") as told:
        back_up(book, NOW)

    assert "older copies are as they were" in told.value.cure
    assert {file.name for file in book.backups.iterdir()} == {good.path.name, good.text.name}


def test_a_copy_that_cannot_be_written_is_trouble(book: Book) -> None:
    """When there can be no folder of copies, a sentence says so and the book goes on."""
    book.backups.write_text("in the way")

    with pytest.raises(Trouble, match="No copy was made"):
        back_up(book, NOW)

    assert book.append([draft(3)])


def test_copies_of_other_books_are_other_books(book: Book) -> None:
    """Only files named as copies of this very book count as such."""
    copy = back_up(book, NOW)
    for name in (
        "record-old.packdesk",
        "records-2026-11-25T133000Z.packdesk",
        "record-2026-11-25T133000Z.packdesk.part",
    ):
        shutil.copy(copy.path, book.backups / name)

    assert copies_of(book.path, book.backups) == (copy,)


# --------------------------------------------------------------------------------------------
# Thinning


def copies_at(*ages: timedelta) -> tuple[Copy, ...]:
    """Copies of the given ages."""
    return tuple(Copy(Path(f"{age}"), NOW - age) for age in ages)


def test_thins_copies_with_age() -> None:
    """Two days of all copies, a month of daily ones, a year of weekly ones, then monthly ones."""
    hourly = [n * HOUR for n in range(24 * 800)]

    dropped = set(to_drop(copies_at(*hourly), NOW))

    kept = sorted(age for age in hourly if copies_at(age)[0] not in dropped)
    assert sum(age <= timedelta(days=2) for age in kept) == 49
    assert 27 <= sum(timedelta(days=2) < age <= timedelta(days=30) for age in kept) <= 29
    assert 47 <= sum(timedelta(days=30) < age <= timedelta(days=365) for age in kept) <= 49
    assert 14 <= sum(timedelta(days=365) < age for age in kept) <= 16


@given(st.lists(st.timedeltas(timedelta(0), timedelta(days=3000)), unique=True, min_size=1))
def test_thinning_never_takes_the_newest(ages: list[timedelta]) -> None:
    """The newest copy stays, and thinning what is left takes nothing more."""
    copies = copies_at(*ages)

    dropped = to_drop(copies, NOW)

    kept = [copy for copy in copies if copy not in dropped]
    assert max(copies, key=lambda copy: copy.taken_at) in kept
    assert to_drop(kept, NOW) == ()


def test_a_copy_too_many_goes_with_its_text(book: Book) -> None:
    """Of two copies of a day long past only the later one stays."""
    for hour in (8, 9):
        back_up(book, NOW - timedelta(days=10) + hour * HOUR)
        book.append([draft(10 + hour)])

    newest = back_up(book, NOW)

    assert [copy.taken_at for copy in copies_of(book.path, book.backups)] == [
        newest.taken_at,
        NOW - timedelta(days=10) + 9 * HOUR,
    ]
    assert len(list(book.backups.glob("*.jsonl.gz"))) == 2


def test_what_a_copying_that_was_cut_off_left_is_tidied_away(book: Book) -> None:
    """Half a copy of an earlier run is not believed, and goes with the next copy."""
    book.backups.mkdir()
    for ending in (".packdesk.part", ".packdesk.part-wal", ".jsonl.gz.part"):
        (book.backups / f"record-2026-11-24T133000Z{ending}").write_bytes(b"half")

    copy = back_up(book, NOW)

    assert {file.name for file in book.backups.iterdir()} == {copy.path.name, copy.text.name}


# --------------------------------------------------------------------------------------------
# Bringing a copy back


def test_a_damaged_book_names_the_newest_readable_copy(book: Book) -> None:
    """Opening a damaged book says which copy to restore, passing over copies that are damaged."""
    good = back_up(book, NOW)
    book.append([draft(3)])
    damage(back_up(book, NOW + HOUR).path)
    book.close()
    book.path.write_bytes(book.path.read_bytes()[:6000])

    with pytest.raises(Trouble) as told:
        Book.open(book.path, STATION)

    assert told.value.sentence == (
        f"The record book {book.path} is damaged: what is stored in it is no longer what was"
        " written."
    )
    assert told.value.cure == (
        f"The newest copy that can be read is {good.path}; restore it: the damaged file is kept"
        " beside it."
    )


def test_restores_a_copy_and_keeps_the_damaged_file(book: Book) -> None:
    """The copy takes the book's place; the damaged file and its log are kept under another name."""
    copy = back_up(book, NOW)
    kept = book.entries({SESSION})
    book.close()
    damage(book.path)
    damaged = book.path.read_bytes()
    log = book.path.with_name("record.packdesk-wal")
    log.write_bytes(b"left behind")

    restored = restore(book.path, copy.path, NOW)

    aside = book.path.with_name("record-damaged-2026-11-25T133000Z.packdesk")
    assert (restored.entries, restored.set_aside) == (2, aside)
    assert aside.read_bytes() == damaged
    assert aside.with_name(f"{aside.name}-wal").read_bytes() == b"left behind"
    assert not log.exists()
    with Book.open(book.path, STATION) as again:
        assert again.entries({SESSION}) == kept
    assert copy.path.exists()


def test_restoring_twice_keeps_both_files(book: Book) -> None:
    """A file that was moved aside is not overwritten by the next one."""
    copy = back_up(book, NOW)
    book.close()

    asides = {restore(book.path, copy.path, NOW).set_aside for _ in range(3)}

    assert len(asides) == 3
    assert all(aside is not None and aside.exists() for aside in asides)


def test_restores_where_nothing_is(book: Book) -> None:
    """A book that is gone comes back, and nothing had to be moved aside."""
    copy = back_up(book, NOW)
    book.close()
    book.path.unlink()

    assert restore(book.path, copy.path, NOW).set_aside is None

    with Book.open(book.path, STATION) as again:
        assert len(again.entries({SESSION})) == 2


def test_does_not_restore_over_an_open_book(book: Book) -> None:
    """While a PackDesk has the book open it is not replaced."""
    copy = back_up(book, NOW)

    with pytest.raises(Trouble, match=r"Another PackDesk has the record book .* open"):
        restore(book.path, copy.path, NOW)

    assert book.append([draft(3)])


def test_does_not_restore_a_damaged_copy(book: Book) -> None:
    """A copy that is not sound is refused and the book stays as it is."""
    copy = back_up(book, NOW)
    book.close()
    before = book.path.read_bytes()
    with closing(sqlite3.connect(copy.path, isolation_level=None)) as file:
        file.execute("DROP TRIGGER events_no_delete")
        file.execute("DELETE FROM events WHERE station_seq = 1")

    with pytest.raises(Trouble, match="Entry 1 of station 0193aaaa is missing") as told:
        restore(book.path, copy.path, NOW)

    assert told.value.cure == "Choose an older copy."
    assert book.path.read_bytes() == before


def test_a_file_that_is_no_copy_is_not_restored(book: Book, tmp_path: Path) -> None:
    """Something else than a copy of a record book is refused in words."""
    other = tmp_path / "letter.txt"
    other.write_text("Dear aunt, " * 1000)

    with pytest.raises(Trouble, match=r"letter\.txt is damaged: it does not begin as"):
        restore(book.path, other, NOW)
