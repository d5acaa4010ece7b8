"""Copies of the book: made while it is in use, believed only once checked, thinned with age."""

from __future__ import annotations

import os
import re
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, Protocol

from packdesk.desk.ports import Trouble
from packdesk.record import schema
from packdesk.record.check import Report, check_book
from packdesk.record.links import all_links
from packdesk.record.session_file import FORMAT, Header, write_session_file
from packdesk.record.trouble import damage_in_words, fault_code, is_damage, trouble_for

KEEP_ALL = timedelta(days=2)
KEEP_DAILY = timedelta(days=30)
KEEP_WEEKLY = timedelta(days=365)
"""Copies thin with age: all, then one a day, one a week, and one a month for good."""

_STAMP = "%Y-%m-%dT%H%M%SZ"
_STAMPED = r"-(\d{4}-\d{2}-\d{2}T\d{6}Z)"


class Copyable(Protocol):
    """What a book offers to have copies made of it."""

    @property
    def path(self) -> Path:
        """Where it lies."""

    @property
    def backups(self) -> Path:
        """The folder of its copies."""

    def extent(self) -> int:
        """How many entries it ever took."""

    def copy_to(self, target: Path) -> None:
        """Copy it as it is now."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One dated copy of a book."""

    path: Path
    taken_at: datetime
    """UTC."""

    @property
    def text(self) -> Path:
        """The same entries as a packed session file, readable without PackDesk."""
        return self.path.with_suffix(".jsonl.gz")


@dataclass(frozen=True, slots=True)
class Restored:
    """What became of a restoration."""

    entries: int
    set_aside: Path | None
    """The file that was there before; None if there was none."""


def backup_folder(book: Path) -> Path:
    """Where the copies of a book lie unless somebody says otherwise."""
    return book.parent / "backups"


def copies_of(book: Path, folder: Path) -> tuple[Copy, ...]:
    """The dated copies of a book in a folder, the newest first."""
    named = re.compile(re.escape(book.stem) + _STAMPED + re.escape(book.suffix))
    found = []
    for path in folder.iterdir() if folder.is_dir() else ():
        match = named.fullmatch(path.name)
        if match:
            found.append(Copy(path, datetime.strptime(match[1], _STAMP).replace(tzinfo=UTC)))
    return tuple(sorted(found, key=lambda copy: copy.taken_at, reverse=True))


def newest_readable(book: Path, folder: Path) -> Path | None:
    """The newest copy of a book that is sound through and through."""
    for copy in copies_of(book, folder):
        with suppress(Trouble):
            if check_copy(copy.path).sound:
                return copy.path
    return None


def check_copy(path: Path) -> Report:
    """Check a copy as the book itself is checked; raises `Trouble` when it cannot be opened."""
    with _opened(path) as connection:
        return check_book(_asking(connection))


def back_up(book: Copyable, now: datetime, program: str = "PackDesk") -> Copy:
    """Make a dated copy of the book, check it, and only then count it and thin older ones.

    Beside it the same entries are written as text. A book that took no entry since the newest
    copy is not copied again. Raises `Trouble` when the copy did not come out sound or the disk
    did not take it; the older copies are then as they were.
    """
    older = copies_of(book.path, book.backups)
    if older and _extent(older[0].path) == book.extent():
        return older[0]
    name = _stamped_name(book.path, now)
    copy = Copy(book.backups / name, now.astimezone(UTC).replace(microsecond=0))
    part = copy.path.with_name(f"{name}.part")
    try:
        book.backups.mkdir(parents=True, exist_ok=True)
        part.unlink(missing_ok=True)
        book.copy_to(part)
        with _opened(part) as connection:
            report = check_book(_asking(connection))
            if not report.sound:
                raise Trouble(
                    f"The copy of the record book came out damaged: {report.faults[0]}",
                    "It was not kept; the older copies are as they were. Check the book itself.",
                )
            header = Header(packdesk_session=FORMAT, program=program, written=now)
            write_session_file(copy.text, header, all_links(_asking(connection)))
        _settle(part)
        part.replace(copy.path)
        _settle(book.backups)
    except OSError as fault:
        raise trouble_for(fault, f"the copy {copy.path}", "No copy was made") from fault
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    _thin(copies_of(book.path, book.backups), now)
    return copy


def to_drop(copies: Sequence[Copy], now: datetime) -> tuple[Copy, ...]:
    """Which copies have become too many: of each day, week or month only the last one stays."""
    kept: set[tuple[str, ...]] = set()
    dropped = []
    for copy in sorted(copies, key=lambda copy: copy.taken_at, reverse=True):
        period = _period(copy.taken_at, now - copy.taken_at)
        if period in kept:
            dropped.append(copy)
        kept.add(period)
    return tuple(dropped)


def restore(book: Path, copy: Path, now: datetime) -> Restored:
    """Put a checked copy in the place of a book; the file that was there is moved aside.

    What belongs to that file, such as its write-ahead log, moves with it: beside another file
    it would do damage. The book must not be open. Entries made afterwards should be numbered
    under a new station identity, since numbers of the old one that came after the copy may be
    in use elsewhere. Raises `Trouble` when the copy is not sound, the book is open, or the disk
    refuses; the book is then as it was.
    """
    report = check_copy(copy)
    if not report.sound:
        raise _damaged_copy(copy, report.faults[0].rstrip("."))
    _refuse_if_open(book)
    part = book.with_name(f"{book.name}.part")
    aside = _free_name(book.with_name(_stamped_name(book, now, "-damaged")))
    there = book.exists()
    try:
        part.write_bytes(copy.read_bytes())
        _settle(part)
        for ending in ("-wal", "-journal", "-shm"):
            companion = book.with_name(book.name + ending)
            if companion.exists():
                companion.replace(aside.with_name(aside.name + ending))
        if there:
            _move_aside(book, aside)
        part.replace(book)
        _settle(book.parent)
    except OSError as fault:
        raise trouble_for(fault, f"the record book {book}", "It was not restored") from fault
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    return Restored(report.entries, aside if there else None)


def _move_aside(book: Path, aside: Path) -> None:
    """Give the file its second name first, so that there is a book at every moment."""
    try:
        os.link(book, aside)
    except OSError:  # a file system without links
        book.replace(aside)


def _refuse_if_open(book: Path) -> None:
    """Look whether somebody has the book, without changing a byte of it or of its log."""
    try:
        schema.connect_to_read(book).close()
    except sqlite3.OperationalError as fault:
        if fault_code(fault) == sqlite3.SQLITE_BUSY:
            raise trouble_for(fault, f"the record book {book}", "It was not restored") from fault
    except (sqlite3.DatabaseError, UnicodeDecodeError, schema.NotABook):
        pass  # damaged, which is why it is being replaced


def _stamped_name(book: Path, now: datetime, why: str = "") -> str:
    return f"{book.stem}{why}-{now.astimezone(UTC).strftime(_STAMP)}{book.suffix}"


def _free_name(wanted: Path) -> Path:
    """The name itself, or a numbered one where it is taken: nothing moved aside is overwritten."""
    path, number = wanted, 1
    while path.exists():
        number += 1
        path = wanted.with_name(f"{wanted.stem}-{number}{wanted.suffix}")
    return path


@contextmanager
def _opened(path: Path) -> Iterator[sqlite3.Connection]:
    try:
        with closing(schema.connect_to_read(path)) as connection:
            yield connection
    except schema.NotABook as other:
        raise Trouble(str(other), "Choose another copy.") from other
    except UnicodeDecodeError as fault:  # of SQLite's message about a damaged schema
        raise _damaged_copy(path, "its tables cannot be read") from fault
    except sqlite3.DatabaseError as fault:
        if is_damage(fault):
            raise _damaged_copy(path, damage_in_words(fault)) from fault
        raise trouble_for(fault, f"the copy {path}", "It could not be read") from fault


def _damaged_copy(path: Path, detail: str) -> Trouble:
    return Trouble(f"The copy {path} is damaged: {detail}.", "Choose an older copy.")


def _asking(connection: sqlite3.Connection) -> Any:
    return lambda sql, parameters=(): connection.execute(sql, parameters).fetchall()


def _extent(path: Path) -> int:
    """How many entries a copy has; -1 for one that is not sound."""
    with suppress(Trouble), _opened(path) as connection:
        if check_book(_asking(connection)).sound:
            found = connection.execute("SELECT coalesce(max(seq), 0) FROM events").fetchone()
            return int(found[0])
    return -1


def _period(taken_at: datetime, age: timedelta) -> tuple[str, ...]:
    if age <= KEEP_ALL:
        return ("one", taken_at.isoformat())
    if age <= KEEP_DAILY:
        return ("day", f"{taken_at:%Y-%m-%d}")
    if age <= KEEP_WEEKLY:
        return ("week", f"{taken_at:%G-%V}")
    return ("month", f"{taken_at:%Y-%m}")


def _thin(copies: Sequence[Copy], now: datetime) -> None:
    for copy in to_drop(copies, now):
        with suppress(OSError):  # a copy too many does no harm
            copy.path.unlink()
            copy.text.unlink(missing_ok=True)


def _settle(path: Path) -> None:
    """Have the disk keep a file, or a folder's new entry where the system can."""
    if path.is_dir():
        with suppress(OSError):
            _sync(path, os.O_RDONLY)
    else:
        _sync(path, os.O_RDWR)


def _sync(path: Path, how: int) -> None:
    handle = os.open(path, how)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
