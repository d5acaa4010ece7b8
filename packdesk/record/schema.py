"""How the record book lies in its SQLite file, and how that file is opened.

One connection, in exclusive locking mode: no second program can come between, a lock never
outlives the program that held it, and SQLite's write-ahead log needs no shared-memory file.
"""

from __future__ import annotations

import contextlib
import errno
import os
import sqlite3
from pathlib import Path

APPLICATION_ID = 0x50444B31
"""Marks the file as a PackDesk record book: "PDK1" in ASCII."""

VERSION = 1
"""Of the tables. A book with a higher one was written by a newer PackDesk."""

_TABLES = """
CREATE TABLE events(
  seq INTEGER PRIMARY KEY,  -- order of arrival in this book; never exchanged
  event_id BLOB NOT NULL UNIQUE CHECK(length(event_id) = 16),
  act BLOB NOT NULL CHECK(length(act) = 16),
  station_id BLOB NOT NULL CHECK(length(station_id) = 16),
  station_seq INTEGER NOT NULL CHECK(station_seq > 0),
  stream BLOB NOT NULL CHECK(length(stream) = 16),
  happened_us INTEGER NOT NULL,
  about_s INTEGER NOT NULL,
  recorded_us INTEGER NOT NULL,
  tz_min INTEGER NOT NULL,
  steady_ms INTEGER NOT NULL,
  boot TEXT NOT NULL,
  who TEXT NOT NULL,
  hlc INTEGER NOT NULL,  -- the merge order: the recorded time, made to grow
  kind TEXT NOT NULL,
  v INTEGER NOT NULL,
  payload TEXT NOT NULL,  -- as first written, whatever its version
  chain BLOB NOT NULL CHECK(length(chain) = 16),
  UNIQUE(station_id, station_seq)
) STRICT;
CREATE INDEX events_fold ON events(stream, hlc);
CREATE INDEX events_closing ON events(stream, hlc) WHERE kind = 'session_closed';

-- Where the book was given a later entry of another station, but not the one before it.
CREATE TABLE known_gaps(
  station_id BLOB NOT NULL CHECK(length(station_id) = 16),
  before_seq INTEGER NOT NULL CHECK(before_seq > 1),
  prev BLOB NOT NULL CHECK(length(prev) = 16),
  PRIMARY KEY(station_id, before_seq)
) STRICT, WITHOUT ROWID;

-- Entries that came with a number already taken: kept as they came, for a person to look at.
CREATE TABLE forks(
  found_us INTEGER NOT NULL,
  line TEXT NOT NULL UNIQUE
) STRICT;
"""
_KEPT_TABLES = ("events", "known_gaps", "forks")
_APPEND_ONLY = "".join(
    f"CREATE TRIGGER {table}_no_{change} BEFORE {change} ON {table}"
    f" BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END;\n"
    for table in _KEPT_TABLES
    for change in ("update", "delete")
)


class NotABook(Exception):
    """The file is something else, or its disk cannot keep a book; it was not touched."""


class NewerBook(NotABook):
    """A newer PackDesk wrote the book: it may be read, never written to."""


def connect(path: Path) -> sqlite3.Connection:
    """Open the book for writing, made if it is not there; nobody else can open it meanwhile.

    Raises `NotABook` for what must not be written to, `sqlite3.Error` or `OSError` for faults.
    """
    if path.exists() and not os.access(path, os.W_OK):
        # SQLite would open it for reading only, and fail at the lock as if the disk were broken.
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))
    connection = sqlite3.connect(path, timeout=0, isolation_level=None, check_same_thread=False)
    try:
        _pragma(connection, "locking_mode=EXCLUSIVE")
        connection.execute("PRAGMA synchronous=EXTRA")
        new = _is_empty(connection)
        if not new:
            _check_marks(connection, path)
        if _pragma(connection, "journal_mode=WAL") != "wal":
            raise NotABook(
                f"The disk that holds {path} cannot keep a write-ahead log; entries would not be"
                " safe there."
            )
        for pragma in (
            "fullfsync=1",
            "checkpoint_fullfsync=1",
            "trusted_schema=0",
            "cell_size_check=1",
            "wal_autocheckpoint=1000",
            "journal_size_limit=4194304",
        ):
            connection.execute(f"PRAGMA {pragma}")
        if new:
            connection.executescript(
                f"BEGIN IMMEDIATE; {_TABLES} {_APPEND_ONLY}"
                f"PRAGMA application_id={APPLICATION_ID}; PRAGMA user_version={VERSION}; COMMIT;"
            )
            fold_log_in(connection)
    except BaseException:
        connection.close()
        raise
    return connection


def connect_to_read(path: Path) -> sqlite3.Connection:
    """Open a book, or a copy of one, for reading only; its file is not changed.

    Raises as `connect` does, but opens a newer book too. A book that was not closed in good
    order cannot be read on a medium that cannot be written to: its log would stay unread.
    """
    try:
        return _connect_to_read(path, "mode=ro")
    except sqlite3.OperationalError as fault:
        if fault.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY):
            raise
        if log_beside(path) is not None:
            raise NotABook(
                f"What was last written to {path} cannot be read on a medium that cannot be written"
                f" to. Copy the file and its log, {path.name}-wal, to a disk."
            ) from fault
        return _connect_to_read(path, "mode=ro&immutable=1")


def _connect_to_read(path: Path, way: str) -> sqlite3.Connection:
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?{way}",
        uri=True,
        timeout=0,
        isolation_level=None,
        check_same_thread=False,
    )
    try:
        connection.execute("PRAGMA trusted_schema=0")
        connection.execute("PRAGMA cell_size_check=1")
        with contextlib.suppress(NewerBook):
            _check_marks(connection, path)
        connection.execute("SELECT 1 FROM events LIMIT 1").fetchone()
    except BaseException:
        connection.close()
        raise
    return connection


def fold_log_in(connection: sqlite3.Connection) -> None:
    """Write what the log holds into the file itself and sync both."""
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()


def log_beside(path: Path) -> Path | None:
    """The write-ahead log of a book that was not closed in good order, where it holds anything."""
    log = path.with_name(path.name + "-wal")
    return log if log.exists() and log.stat().st_size else None


def _is_empty(connection: sqlite3.Connection) -> bool:
    """Whether this is a file in which nothing was ever kept, rather than another program's."""
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    return not (tables or _pragma(connection, "application_id") or _version(connection))


def _check_marks(connection: sqlite3.Connection, path: Path) -> None:
    if _pragma(connection, "application_id") != APPLICATION_ID:
        raise NotABook(f"{path} is a database of another program, not a record book.")
    version = _version(connection)
    if version > VERSION:
        raise NewerBook(
            f"The record book {path} was written by a newer PackDesk (format {version}; this one"
            f" knows format {VERSION})."
        )


def _version(connection: sqlite3.Connection) -> int:
    return int(_pragma(connection, "user_version"))


def _pragma(connection: sqlite3.Connection, pragma: str) -> int | str:
    answer: int | str = connection.execute(f"PRAGMA {pragma}").fetchone()[0]
    return answer
