"""Which copies of the book are there, which of them are sound, and which are too many?"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from packdesk.desk.ports import Trouble
from packdesk.record import schema
from packdesk.record.check import Query, Report, check_book
from packdesk.record.trouble import damage_in_words, is_damage, trouble_for

KEEP_ALL = timedelta(days=2)
KEEP_DAILY = timedelta(days=30)
KEEP_WEEKLY = timedelta(days=365)
"""Copies thin with age: all, then one a day, one a week, and one a month for good."""

_STAMP = "%Y-%m-%dT%H%M%SZ"
_STAMPED = r"-(\d{4}-\d{2}-\d{2}T\d{6}Z)"


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

    @property
    def files(self) -> tuple[Path, ...]:
        """Everything that belongs to this copy and is there."""
        return tuple(path for path in (self.path, self.text) if path.exists())


def stamped_name(book: Path, now: datetime, why: str = "") -> str:
    """The name of a file that belongs to a book and an instant."""
    return f"{book.stem}{why}-{now.astimezone(UTC).strftime(_STAMP)}{book.suffix}"


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
    with opened_copy(path) as connection:
        return check_book(asking(connection))


def extent_of(path: Path) -> int:
    """How many entries a copy has; -1 for one that is not sound."""
    with suppress(Trouble), opened_copy(path) as connection:
        if check_book(asking(connection)).sound:
            found = connection.execute("SELECT coalesce(max(seq), 0) FROM events").fetchone()
            return int(found[0])
    return -1


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


def _period(taken_at: datetime, age: timedelta) -> tuple[str, ...]:
    if age <= KEEP_ALL:
        return ("one", taken_at.isoformat())
    if age <= KEEP_DAILY:
        return ("day", f"{taken_at:%Y-%m-%d}")
    if age <= KEEP_WEEKLY:
        return ("week", f"{taken_at:%G-%V}")
    return ("month", f"{taken_at:%Y-%m}")


@contextmanager
def opened_copy(path: Path) -> Iterator[sqlite3.Connection]:
    """A copy, or any book, open for reading; faults come as `Trouble`."""
    try:
        with closing(schema.connect_to_read(path)) as connection:
            yield connection
    except schema.NotABook as other:
        raise Trouble(str(other), "Choose another copy.") from other
    except UnicodeDecodeError as fault:  # of SQLite's message about a damaged schema
        raise damaged_copy(path, "its tables cannot be read") from fault
    except sqlite3.DatabaseError as fault:
        if is_damage(fault):
            raise damaged_copy(path, damage_in_words(fault)) from fault
        raise trouble_for(fault, f"the copy {path}", "It could not be read") from fault


def damaged_copy(path: Path, detail: str) -> Trouble:
    """Damage of a copy in words."""
    return Trouble(f"The copy {path} is damaged: {detail}.", "Choose an older copy.")


def asking(connection: sqlite3.Connection) -> Query:
    """Runs statements on an opened copy, as a book does on itself."""
    return lambda sql, parameters=(): connection.execute(sql, parameters).fetchall()
