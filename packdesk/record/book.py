"""The record book: every fact of every session, durable before anybody is shown it."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Collection, Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple, Self
from uuid import UUID

from packdesk.desk.ports import SessionHead, Trouble
from packdesk.record import schema
from packdesk.record.backup import backup_folder, newest_readable
from packdesk.record.chain import START
from packdesk.record.check import Report, check_book
from packdesk.record.heads import highest_hlc, session_heads
from packdesk.record.lift import read_fact
from packdesk.record.links import COLUMNS, FOLD_ORDER, all_links, links_of
from packdesk.record.place import warnings_about
from packdesk.record.rows import Link, ReadFact, Row, entry_of, microseconds, row_for, station_name
from packdesk.record.take import INSERT, Taken, take
from packdesk.record.trouble import damage_in_words, damaged, is_damage, is_disk_fault, trouble_for
from packdesk.session.envelope import Draft, Entry

_OURS = (sqlite3.IntegrityError, sqlite3.ProgrammingError, sqlite3.DataError)
# What damaged columns of a row come to when they are read; FactUnreadable is a ValueError.
_UNREADABLE = (TypeError, ValueError, OverflowError)
_NOT_SAVED = "Nothing of this entry was saved"


class _Tip(NamedTuple):
    """Where the own station's entries end, and the highest place in the merge order."""

    station_seq: int
    chain: bytes
    hlc: int


class Book:
    """A record book on disk; keeps what `RecordBook` promises to the desk.

    One program at a time: the file stays locked until `close`, or until the program ends in
    whatever way. May be used from several threads; each call waits for its turn.
    """

    def __init__(
        self, path: Path, station: UUID, backups: Path, read_only: bool, reading: ReadFact
    ) -> None:
        self.path = path
        self.backups = backups
        self.read_only = read_only
        self.unclean = False
        """Whether the program that had the book before was cut off: check it, then go on."""
        self.warnings = warnings_about(path)
        """Sentences about the place where the book lies."""
        self._station = station
        self._read_fact = reading
        self._turn = threading.RLock()
        self._connected: sqlite3.Connection | None = None
        self._tip = _Tip(0, START, 0)
        self._in_doubt: tuple[Row, ...] = ()
        """Rows whose commit failed with the disk: reported as not saved, perhaps kept after all."""
        self._closed = False
        try:
            with self._speaking("It was not opened"):
                self.unclean = schema.log_beside(path) is not None
                self._connection()
        except BaseException:
            self._let_go()
            raise

    @classmethod
    def open(
        cls,
        path: Path,
        station: UUID,
        *,
        backups: Path | None = None,
        read_only: bool = False,
        reading: ReadFact = read_fact,
    ) -> Self:
        """Open the book at `path`, made with its folder if it is not there.

        `station` is this installation's identity, under which its entries are numbered;
        `backups` is the folder of the book's copies. Raises `Trouble` when another PackDesk has
        the book open, when a newer one wrote it (it can still be opened `read_only`), when it is
        damaged (naming the copy to restore), and when the disk refuses.
        """
        return cls(path, station, backups or backup_folder(path), read_only, reading)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Fold the log into the file and give the book free."""
        with self._turn:
            self._closed = True
            self._let_go()

    @property
    def station(self) -> UUID:
        """This installation's identity."""
        return self._station

    # ----------------------------------------------------------------------------------------
    # Recording

    def append(self, drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        """Record all of `drafts` or none; they are on the disk when this returns.

        Drafts that are recorded already, under the same ids, are not recorded twice: the entries
        they became are answered, so that an entry that failed may be tried again as it is.
        Raises `Trouble` when nothing was saved, with the cause and the cure; once the cause is
        gone the book goes on as before. Raises `FactUnreadable` for a fact with content that its
        kind does not allow.
        """
        with self._turn:
            self._refuse_unless_writable()
            with self._speaking(_NOT_SAVED):
                connection = self._connection()
            late = self._found_late()
            if late and [row.event_id for row in late] != [draft.id.bytes for draft in drafts]:
                raise Trouble(
                    "The entry that was reported as not saved did reach the disk.",
                    "Look at what is recorded, then enter again what is missing.",
                )
            rows = self._rows_for(drafts)
            # Read back before it is too late: what could not be read again is not recorded.
            entries = tuple(entry_of(row, self._read_fact) for row in rows)
            try:
                with self._speaking(_NOT_SAVED), _transaction(connection):
                    connection.executemany(INSERT, rows)
            except sqlite3.IntegrityError:
                recorded = self._recorded(drafts)
                if recorded is None:
                    raise
                return recorded
            except Trouble:
                if self._connected is not None or not self._is_kept_after_all(rows):
                    raise
            if rows:
                self._tip = _Tip(rows[-1].station_seq, rows[-1].chain, rows[-1].hlc)
            return entries

    def take(self, links: Sequence[Link], now: datetime) -> Taken:
        """Take over entries as they were recorded elsewhere: all of them or none.

        Those that are here already are skipped; one that comes with a number already taken is
        kept aside. Raises `DoesNotFit` when they do not link up with the entries here, `Trouble`
        when the disk refuses.
        """
        with self._turn:
            self._refuse_unless_writable()
            with self._speaking("Nothing of it was taken over"):
                connection = self._connection()
                with _transaction(connection):
                    taken = take(connection, links, microseconds(now))
                self._tip = self._read_tip(connection)
            return taken

    # ----------------------------------------------------------------------------------------
    # Reading

    def entries(self, streams: Collection[UUID]) -> tuple[Entry, ...]:
        """The entries of some streams, in the order of the fold.

        A fact of a kind or version that is unknown here comes as `UnknownFact`.
        """
        wanted = [stream.bytes for stream in set(streams)]
        marks = ", ".join("?" * len(wanted))
        select = f"SELECT {COLUMNS} FROM events WHERE stream IN ({marks}) {FOLD_ORDER}"
        with self._turn:
            rows = [Row(*columns) for columns in self._query(select, wanted)]
            self._in_doubt = ()  # whoever reads sees what was kept
        return self._read(rows)

    def sessions(self) -> tuple[SessionHead, ...]:
        """The sessions of the book, the one last recorded in first."""
        try:
            return session_heads(self._query, self._read_fact)
        except _UNREADABLE as fault:
            raise self._damaged(f"its list of sessions cannot be read ({fault})") from fault

    def links(self, streams: Collection[UUID] | None = None) -> Iterator[Link]:
        """Stored rows for a file: of some streams in the order of the fold, or of all."""
        if streams is None:
            return all_links(self._query)
        return links_of(self._query, streams)

    def extent(self) -> int:
        """How many entries the book ever took; two copies of a book with the same are alike."""
        return int(self._query("SELECT coalesce(max(seq), 0) FROM events")[0][0])

    def verify(self) -> Report:
        """Read the whole book once and say whether it is sound; may run beside recording."""
        with self._speaking("It could not be checked"):
            return check_book(self._fetch)

    def copy_to(self, target: Path) -> None:
        """Write a copy of the book, as it is now, into the file `target`; recording may go on."""
        with self._speaking("No copy was made"):
            source = self._connection()
            with closing(sqlite3.connect(target, isolation_level=None)) as copy:
                source.backup(copy, pages=256, sleep=0.001)
                copy.execute("PRAGMA journal_mode=DELETE")

    # ----------------------------------------------------------------------------------------
    # The rows to be written

    def _rows_for(self, drafts: Sequence[Draft]) -> list[Row]:
        rows = []
        station_seq, chain, hlc = self._tip
        for draft in drafts:
            row = row_for(draft, self._station, station_seq + 1, hlc, chain)
            station_seq, chain, hlc = row.station_seq, row.chain, row.hlc
            rows.append(row)
        return rows

    def _read(self, rows: Sequence[Row]) -> tuple[Entry, ...]:
        entries = []
        for row in rows:
            try:
                entries.append(entry_of(row, self._read_fact))
            except _UNREADABLE as fault:
                which = f"entry {row.station_seq} of {station_name(row.station_id)}"
                raise self._damaged(f"{which} cannot be read ({fault})") from fault
        return tuple(entries)

    def _recorded(self, drafts: Sequence[Draft]) -> tuple[Entry, ...] | None:
        """The entries that these very drafts became; None unless all of them are recorded."""
        rows = []
        for draft in drafts:
            found = self._query(
                f"SELECT {COLUMNS} FROM events WHERE event_id = ?", (draft.id.bytes,)
            )
            if not found:
                return None
            rows.append(Row(*found[0]))
        entries = self._read(rows)
        same = all(
            (entry.act, entry.stream, entry.fact) == (draft.act, draft.stream, draft.fact)
            for entry, draft in zip(entries, drafts, strict=True)
        )
        return entries if same else None

    # ----------------------------------------------------------------------------------------
    # The connection, and what to do when the disk fails

    def _connection(self) -> sqlite3.Connection:
        """The open connection; opened anew after the disk failed."""
        if self._closed:
            raise ValueError("the record book is closed")
        if self._connected is None:
            before = self._tip.station_seq
            connection = self._open()
            self._connected = connection
            self._tip = self._read_tip(connection)
            if self._in_doubt:
                schema.fold_log_in(connection)  # so that what is found is on the disk for certain
            lost = before - self._tip.station_seq
            if lost > 0:
                raise Trouble(
                    f"The disk lost the last {lost} entries, which it had confirmed as saved.",
                    "Look at what is recorded, enter again what is missing, and move the book to"
                    " another disk.",
                )
        return self._connected

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

    def _let_go(self) -> None:
        connection, self._connected = self._connected, None
        if connection is not None:
            with suppress(sqlite3.Error):
                connection.close()

    def _read_tip(self, connection: sqlite3.Connection) -> _Tip:
        own = connection.execute(
            "SELECT station_seq, chain FROM events WHERE station_id = ?"
            " ORDER BY station_seq DESC LIMIT 1",
            (self._station.bytes,),
        ).fetchone()
        station_seq, chain = own or (0, START)
        hlc = highest_hlc(lambda sql: connection.execute(sql).fetchall())
        if not (isinstance(hlc, int) and isinstance(chain, bytes)):
            raise self._damaged("its last entry cannot be read")
        return _Tip(station_seq, chain, hlc)

    def _is_kept_after_all(self, rows: Sequence[Row]) -> bool:
        """Whether rows are in the book although the disk failed while they were written."""
        self._in_doubt = tuple(rows)
        try:
            with self._speaking(_NOT_SAVED):
                self._connection()
        except Trouble:
            if self._connected is not None:
                raise  # it is open again, and what is there is less than before
            return False
        return bool(self._found_late())

    def _found_late(self) -> tuple[Row, ...]:
        """The rows in doubt, if they are in the book; with the answer the doubt is gone."""
        rows, self._in_doubt = self._in_doubt, ()
        return rows if rows and rows[-1].chain == self._tip.chain else ()

    def _query(self, sql: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        with self._turn, self._speaking("It could not be read"):
            return self._fetch(sql, parameters)

    def _fetch(self, sql: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        with self._turn:
            return self._connection().execute(sql, parameters).fetchall()

    @contextmanager
    def _speaking(self, outcome: str) -> Iterator[None]:
        """Turn a fault of the machine into words; after one of the disk, let the file go."""
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
            raise self._damaged("its tables cannot be read") from fault
        except (sqlite3.DatabaseError, OSError) as fault:
            stuck = self._connected is not None and self._connected.in_transaction
            if stuck or is_disk_fault(fault):
                self._let_go()
            if is_damage(fault):
                raise self._damaged(damage_in_words(fault)) from fault
            raise trouble_for(fault, f"the record book {self.path}", outcome) from fault

    def _damaged(self, detail: str) -> Trouble:
        return damaged(self.path, detail, newest_readable(self.path, self.backups))

    def _refuse_unless_writable(self) -> None:
        if self.read_only:
            raise Trouble(
                f"The record book {self.path} is open for reading only. {_NOT_SAVED}.",
                "Open it for writing, with a PackDesk that is new enough.",
            )


@contextmanager
def _transaction(connection: sqlite3.Connection) -> Iterator[None]:
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):  # the first fault is the one to tell
            if connection.in_transaction:
                connection.execute("ROLLBACK")
        raise
