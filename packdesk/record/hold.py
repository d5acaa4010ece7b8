"""Who has the book's file? Holds it open for one program, and says in words what goes wrong."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from packdesk.desk.ports import Trouble
from packdesk.record import schema
from packdesk.record.copies import newest_readable
from packdesk.record.trouble import (
    damage_in_words,
    damaged,
    is_damage,
    is_disk_fault,
    trouble_for,
)

_OURS = (sqlite3.IntegrityError, sqlite3.ProgrammingError, sqlite3.DataError)


class Hold:
    """The one connection to a book, shared by the threads of this program in turn.

    After a fault of the disk the file is let go and opened anew at the next request: what an
    operation failed to sync may be lost although a second attempt would claim success.
    """

    def __init__(
        self,
        path: Path,
        backups: Path,
        read_only: bool,
        on_opened: Callable[[sqlite3.Connection], None],
    ) -> None:
        self.path = path
        self.read_only = read_only
        self.turn = threading.RLock()
        self._backups = backups
        self._on_opened = on_opened
        self._connection: sqlite3.Connection | None = None
        self._closed = False

    @property
    def is_open(self) -> bool:
        """Whether the file is open; not so after the disk failed, until the next request."""
        return self._connection is not None

    def connection(self) -> sqlite3.Connection:
        """The open connection; where the file is not open it is opened and `on_opened` told."""
        if self._closed:
            raise ValueError("the record book is closed")
        if self._connection is None:
            self._connection = self._open()
            try:
                self._on_opened(self._connection)
            except BaseException:
                self.let_go()
                raise
        return self._connection

    def close(self) -> None:
        """Fold the log into the file and give the file free for good."""
        with self.turn:
            self._closed = True
            self.let_go()

    def let_go(self) -> None:
        """Close the file until the next request."""
        connection, self._connection = self._connection, None
        if connection is not None:
            with suppress(sqlite3.Error):
                connection.close()

    def fetch(self, sql: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """All rows that a statement answers; faults come as they are."""
        with self.turn:
            return self.connection().execute(sql, parameters).fetchall()

    def query(self, sql: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """All rows that a statement answers; faults come as `Trouble`."""
        with self.turn, self.speaking("It could not be read"):
            return self.fetch(sql, parameters)

    @contextmanager
    def writing(self, outcome: str) -> Iterator[sqlite3.Connection]:
        """One transaction, whole or not at all; `outcome` says what a failure comes to."""
        with self.turn, self.speaking(outcome):
            connection = self.connection()
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                with suppress(sqlite3.Error):  # the first fault is the one to tell
                    if connection.in_transaction:
                        connection.execute("ROLLBACK")
                raise

    @contextmanager
    def speaking(self, outcome: str) -> Iterator[None]:
        """Turn a fault of the machine into `Trouble`; a mistake of this program stays one."""
        try:
            yield
        except schema.NewerBook as newer:
            raise Trouble(
                str(newer), "Update PackDesk on this computer, or open the book for reading only."
            ) from newer
        except schema.NotABook as other:
            raise Trouble(
                str(other), "It was left as it is. Choose another file for the book."
            ) from other
        except _OURS:
            raise
        except UnicodeDecodeError as fault:  # of SQLite's message about a damaged schema
            raise self.damaged("its tables cannot be read") from fault
        except (sqlite3.DatabaseError, OSError) as fault:
            stuck = self._connection is not None and self._connection.in_transaction
            if stuck or is_disk_fault(fault):
                self.let_go()
            if is_damage(fault):
                raise self.damaged(damage_in_words(fault)) from fault
            raise trouble_for(fault, f"the record book {self.path}", outcome) from fault

    def damaged(self, detail: str) -> Trouble:
        """Damage in words, with the copy that brings the book back."""
        return damaged(self.path, detail, newest_readable(self.path, self._backups))

    def _open(self) -> sqlite3.Connection:
        if self.read_only:
            return schema.connect_to_read(self.path)
        self.path.parent.mkdir(parents=True, exist_ok=True)
        log = schema.log_beside(self.path)
        if log is not None and not (self.path.exists() and self.path.stat().st_size):
            raise Trouble(
                f"The record book {self.path} is missing, but what was last written to it is"
                f" still there ({log.name}).",
                "Put the book back beside it. If it is gone for good, move that file elsewhere and"
                " restore a copy.",
            )
        return schema.connect(self.path)
