"""What happens when the disk is full or fails while something is recorded."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from packdesk.desk.ports import Trouble
from packdesk.record.book import Book
from packdesk.record.hold import Hold
from tests.record.drafts import SESSION, STATION, draft, identity, note

LONG = "x" * 3000


# --------------------------------------------------------------------------------------------
# A full disk


class SmallDisk:
    """A disk that can be filled by recording and on which room can be made.

    A small file system where this account may mount one; otherwise SQLite's own limit on the
    size of a file, which fails in the same way at another moment.
    """

    def __init__(self, folder: Path, cleanup: ExitStack) -> None:
        self.path = folder / "record.packdesk"
        self._mounted = self._mount(folder, "size=1m")
        if self._mounted:
            cleanup.callback(subprocess.run, ["umount", folder], check=True)

    def limit(self, book: Book) -> None:
        """Have the open book meet the limit soon."""
        if not self._mounted:
            book._hold.connection().execute("PRAGMA max_page_count=60")

    def make_room(self, book: Book) -> None:
        """Lift the limit without closing the book."""
        if self._mounted:
            assert self._mount(self.path.parent, "remount,size=8m")
        else:
            book._hold.connection().execute("PRAGMA max_page_count=1000000")

    @staticmethod
    def _mount(folder: Path, options: str) -> bool:
        if sys.platform != "linux" or os.geteuid() != 0:
            return False
        mount = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", folder]
        return subprocess.run(mount, capture_output=True).returncode == 0


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[SmallDisk]:
    """A disk that fills up while a test records."""
    folder = tmp_path / "small"
    folder.mkdir()
    with ExitStack() as cleanup:
        yield SmallDisk(folder, cleanup)


def fill(book: Book) -> tuple[int, Trouble]:
    """Record commands of two facts until the disk is full: how many went in, and what was said."""
    for done in range(1000):
        pair = [draft(2 * done + nth, note(LONG)) for nth in (1, 2)]
        try:
            book.append(pair)
        except Trouble as trouble:
            return done, trouble
    raise AssertionError("the disk did not fill up")


def test_a_full_disk_loses_nothing_and_is_said_in_words(small_disk: SmallDisk) -> None:
    """On a full disk nothing of the command is saved, all before it stays, and reading goes on."""
    with Book.open(small_disk.path, STATION) as book:
        small_disk.limit(book)
        done, trouble = fill(book)

        assert trouble.sentence == (
            f"The disk that holds the record book {small_disk.path} is full."
            " Nothing of this entry was saved."
        )
        assert trouble.cure == (
            "Make room on that disk, then try again; nothing needs to be restarted."
        )
        assert done > 0
        assert len(book.entries({SESSION})) == 2 * done
        with pytest.raises(Trouble, match="is full"):
            book.append([draft(2 * done + nth, note(LONG)) for nth in (1, 2)])


def test_once_there_is_room_the_book_goes_on(small_disk: SmallDisk) -> None:
    """After room was made, the same drafts go in without anything being opened again."""
    with Book.open(small_disk.path, STATION) as book:
        small_disk.limit(book)
        done, _ = fill(book)
        small_disk.make_room(book)

        entries = book.append([draft(2 * done + nth, note(LONG)) for nth in (1, 2)])

        assert [entry.station_seq for entry in entries] == [2 * done + 1, 2 * done + 2]
        assert book.verify().sound
    with Book.open(small_disk.path, STATION) as book:
        assert len(book.entries({SESSION})) == 2 * done + 2


# --------------------------------------------------------------------------------------------
# A disk that fails


class FailingConnection(sqlite3.Connection):
    """A connection whose next commit fails as if the disk did, before or after it took effect."""

    plan: list[str]

    def execute(self, sql: str, parameters: Any = (), /) -> sqlite3.Cursor:
        if sql == "COMMIT" and self.plan:
            if self.plan.pop() == "after":
                super().execute("COMMIT")
            fault = sqlite3.OperationalError("disk I/O error")
            fault.sqlite_errorcode = sqlite3.SQLITE_IOERR_FSYNC
            raise fault
        return super().execute(sql, parameters)


@pytest.fixture
def plan(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """When the next commits fail, the last one first; empty: they do not."""
    steps: list[str] = []
    monkeypatch.setattr(FailingConnection, "plan", steps, raising=False)
    monkeypatch.setattr(sqlite3, "connect", partial(sqlite3.connect, factory=FailingConnection))
    return steps


@pytest.fixture
def book(plan: list[str], tmp_path: Path) -> Iterator[Book]:
    """An open book with one entry, on a disk that fails as planned."""
    with Book.open(tmp_path / "record.packdesk", STATION) as book:
        book.append([draft(1)])
        yield book


def ids(book: Book) -> list[int]:
    """The numbers of the drafts in the book."""
    return [entry.id.int - identity(0).int for entry in book.entries({SESSION})]


def test_a_failed_write_is_said_and_can_be_tried_again(book: Book, plan: list[str]) -> None:
    """When the disk fails and kept nothing, that is said, and the same drafts go in afterwards."""
    plan.append("before")

    with pytest.raises(Trouble) as told:
        book.append([draft(2), draft(3)])

    assert told.value.sentence == (
        f"The disk that holds the record book {book.path} failed. Nothing of this entry was saved."
    )
    assert told.value.cure == (
        "Check the disk and its cable, then try again; if it fails again, use another disk."
    )
    book.append([draft(2), draft(3)])
    assert ids(book) == [1, 2, 3]
    assert book.verify().sound


def test_what_the_disk_kept_in_spite_of_failing_is_not_entered_twice(
    book: Book, plan: list[str]
) -> None:
    """When the disk fails but the book, opened anew, has the entry, it counts as recorded."""
    plan.append("after")

    entries = book.append([draft(2), draft(3)])

    assert [entry.station_seq for entry in entries] == [2, 3]
    assert book.append([draft(4)])[0].station_seq == 4
    assert ids(book) == [1, 2, 3, 4]
    assert book.verify().sound


def test_what_counts_as_kept_is_written_to_the_file_itself(
    book: Book, plan: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An entry found after a failed sync of the log is not left to that log alone."""
    plan.append("after")
    closing = Hold.let_go

    def without_folding(hold: Hold) -> None:
        """Close the file as a failing disk may have it closed: with its log unfolded."""
        pair = [hold.path, hold.path.with_name(f"{hold.path.name}-wal")]
        content = [file.read_bytes() for file in pair]
        closing(hold)
        for file, kept in zip(pair, content, strict=True):
            file.write_bytes(kept)

    with monkeypatch.context() as failing:
        failing.setattr(Hold, "let_go", without_folding)
        book.append([draft(2)])

    alone = shutil.copy(book.path, tmp_path / "alone.packdesk")

    with Book.open(alone, STATION, read_only=True) as without_log:
        assert ids(without_log) == [1, 2]


@pytest.fixture
def failed_with_the_disk_gone(book: Book, plan: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry that was reported as not saved, since the book could not be opened again."""
    plan.append("after")
    with monkeypatch.context() as gone:
        gone.setattr("packdesk.record.schema.connect", no_disk)
        with pytest.raises(Trouble, match=r"failed\. Nothing of this entry was saved"):
            book.append([draft(2)])
        with pytest.raises(Trouble, match="cannot be opened"):
            book.append([draft(2)])


def no_disk(path: Path) -> sqlite3.Connection:
    """What opening a book comes to whose disk is gone."""
    raise FileNotFoundError(2, "No such file or directory", str(path))


@pytest.mark.usefixtures("failed_with_the_disk_gone")
def test_the_same_entry_tried_again_is_found_on_the_returned_disk(book: Book) -> None:
    """Reported as not saved but kept after all, the same drafts answer what the disk kept."""
    (entry,) = book.append([draft(2)])

    assert entry.station_seq == 2
    assert ids(book) == [1, 2]


@pytest.mark.usefixtures("failed_with_the_disk_gone")
def test_another_entry_is_held_back_until_the_person_has_looked(book: Book) -> None:
    """Reported as not saved but kept after all: the person hears so before entering it anew."""
    with pytest.raises(Trouble) as told:
        book.append([draft(3)])

    assert told.value.sentence == "The entry that was reported as not saved did reach the disk."
    assert told.value.cure == "Look at what is recorded, then enter again what is missing."
    book.append([draft(3)])
    assert ids(book) == [1, 2, 3]


@pytest.mark.usefixtures("failed_with_the_disk_gone")
def test_reading_settles_what_was_in_doubt(book: Book) -> None:
    """Whoever has read the entries meanwhile may go on at once."""
    assert ids(book) == [1, 2]

    book.append([draft(3)])

    assert ids(book) == [1, 2, 3]


def test_a_disk_that_forgot_confirmed_entries_is_found_out(
    book: Book, plan: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the book has less after a fault than was confirmed, that is said, with numbers."""
    earlier = tmp_path / "earlier"
    book.copy_to(earlier)
    book.append([draft(2), draft(3)])
    plan.append("before")
    opening = sys.modules["packdesk.record.schema"].connect

    def forgetful(path: Path) -> sqlite3.Connection:
        shutil.copy(earlier, path)
        return opening(path)

    monkeypatch.setattr("packdesk.record.schema.connect", forgetful)

    with pytest.raises(Trouble) as told:
        book.append([draft(4)])

    assert told.value.sentence == (
        "The disk lost the last 2 entries, which it had confirmed as saved."
    )
    book.append([draft(4)])
    assert ids(book) == [1, 4]


if sys.platform != "win32":
    import resource

    def test_a_real_write_error_is_said_in_words(tmp_path: Path) -> None:
        """When the system refuses to write, the entry is reported and goes in once it can be."""
        with Book.open(tmp_path / "record.packdesk", STATION) as book:
            book.append([draft(1)])
            limits = resource.getrlimit(resource.RLIMIT_FSIZE)
            resource.setrlimit(resource.RLIMIT_FSIZE, (8192, limits[1]))
            try:
                with pytest.raises(Trouble, match=r"failed\. Nothing of this entry was saved"):
                    book.append([draft(2, note(LONG * 9))])
            finally:
                resource.setrlimit(resource.RLIMIT_FSIZE, limits)

            book.append([draft(2, note(LONG * 9))])

            assert ids(book) == [1, 2]
            assert book.verify().sound
