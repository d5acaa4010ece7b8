"""The record book: every fact of every session, durable before anybody is shown it."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator, Sequence
from contextlib import closing
from datetime import datetime
from pathlib import Path
from typing import NamedTuple, Self
from uuid import UUID

from packdesk.desk.ports import SessionHead, Trouble
from packdesk.record import schema
from packdesk.record.chain import START
from packdesk.record.check import Report, check_book
from packdesk.record.copies import backup_folder
from packdesk.record.heads import highest_hlc, session_heads
from packdesk.record.hold import Hold
from packdesk.record.lift import read_fact
from packdesk.record.links import COLUMNS, FOLD_ORDER, all_links, links_of
from packdesk.record.place import warnings_about
from packdesk.record.rows import Link, ReadFact, Row, entry_of, microseconds, row_for, station_name
from packdesk.record.take import INSERT, Taken, take
from packdesk.record.trouble import is_damage, trouble_for
from packdesk.session.envelope import Draft, Entry

# What damaged columns of a row come to when they are read; FactUnreadable is a ValueError.
_UNREADABLE = (TypeError, ValueError, OverflowError)
_NOT_SAVED = "Nothing of this entry was saved"


class _Tip(NamedTuple):
    """Where the own station's entries end, and the highest place in the merge order."""

    station_seq: int
    chain: bytes
    hlc: int


class _EntriesLost(Trouble):
    """What the disk had confirmed is not there any more; the book goes on with what is."""


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
        self.warnings = warnings_about(path)
        """Sentences about the place where the book lies."""
        self._station = station
        self._read_fact = reading
        self._tip = _Tip(0, START, 0)
        self._in_doubt: tuple[Row, ...] = ()
        """Rows whose commit failed with the disk: reported as not saved, perhaps kept after all."""
        self._hold = Hold(path, backups, read_only, self._compare)
        try:
            with self._hold.speaking("It was not opened"):
                self.unclean = schema.log_beside(path) is not None
                """Whether the program that had the book before was cut off: check it then."""
                self._hold.connection()
        except BaseException:
            self._hold.close()
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
        self._hold.close()

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
        self._refuse_unless_writable()
        if not drafts:
            return ()
        with self._hold.turn:
            self._settle_doubt(drafts)
            rows = self._rows_for(drafts)
            # Read back before it is too late: what could not be read again is not recorded.
            entries = tuple(entry_of(row, self._read_fact) for row in rows)
            try:
                with self._hold.writing(_NOT_SAVED) as connection:
                    connection.executemany(INSERT, rows)
            except sqlite3.IntegrityError:
                recorded = self._recorded(drafts)
                if recorded is None:
                    raise
                return recorded
            except Trouble:
                if self._hold.is_open or not self._is_kept_after_all(rows):
                    raise
            self._tip = _Tip(rows[-1].station_seq, rows[-1].chain, rows[-1].hlc)
            return entries

    def take(self, links: Sequence[Link], now: datetime) -> Taken:
        """Take over entries as they were recorded elsewhere: all of them or none.

        Those that are here already are skipped; one that comes with a number already taken is
        kept aside. Raises `DoesNotFit` when they do not link up with the entries here, `Trouble`
        when the disk refuses.
        """
        self._refuse_unless_writable()
        with self._hold.turn:
            with self._hold.writing("Nothing of it was taken over") as connection:
                taken = take(connection, links, microseconds(now))
            with self._hold.speaking("It could not be read"):
                self._tip = self._read_tip(self._hold.connection())
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
        with self._hold.turn:
            rows = [Row(*columns) for columns in self._hold.query(select, wanted)]
            self._in_doubt = ()  # whoever reads sees what was kept
        return self._read(rows)

    def sessions(self) -> tuple[SessionHead, ...]:
        """The sessions of the book, the one last recorded in first."""
        try:
            return session_heads(self._hold.query, self._read_fact)
        except _UNREADABLE as fault:
            raise self._hold.damaged(f"its list of sessions cannot be read ({fault})") from fault

    def links(self, streams: Collection[UUID] | None = None) -> Iterator[Link]:
        """Stored rows for a file: of some streams in the order of the fold, or of all.

        Each is checked against its chain; raises `Trouble` at the first that damage has changed.
        """
        query = self._hold.query
        for link in all_links(query) if streams is None else links_of(query, streams):
            if not link.holds():
                raise self._hold.damaged(f"{_name(link.row)} is not as it was recorded")
            yield link

    def extent(self) -> int:
        """How many entries the book ever took; two copies of a book with the same are alike."""
        return int(self._hold.query("SELECT coalesce(max(seq), 0) FROM events")[0][0])

    def forks(self) -> tuple[str, ...]:
        """Entries that came with a number already taken, each as a line of a session file."""
        return tuple(line for (line,) in self._hold.query("SELECT line FROM forks ORDER BY rowid"))

    def verify(self) -> Report:
        """Read the whole book once and say whether it is sound; may run beside recording."""
        with self._hold.speaking("It could not be checked"):
            return check_book(self._hold.fetch)

    def copy_to(self, target: Path) -> None:
        """Write a copy of the book, as it is now, into the file `target`; recording may go on."""
        with self._hold.turn, self._hold.speaking("No copy was made"):
            source = self._hold.connection()
        try:
            with closing(sqlite3.connect(target, isolation_level=None)) as copy:
                source.backup(copy, pages=256, sleep=0.001)
                copy.execute("PRAGMA journal_mode=DELETE")
        except sqlite3.DatabaseError as fault:
            if is_damage(fault):
                raise self._hold.damaged("it cannot be copied") from fault
            raise trouble_for(fault, f"the copy {target}", "No copy was made") from fault

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
                raise self._hold.damaged(f"{_name(row)} cannot be read ({fault})") from fault
        return tuple(entries)

    def _recorded(self, drafts: Sequence[Draft]) -> tuple[Entry, ...] | None:
        """The entries that these very drafts became; None unless all of them are recorded."""
        rows = []
        for draft in drafts:
            found = self._hold.query(
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

    def _refuse_unless_writable(self) -> None:
        if self._hold.read_only:
            raise Trouble(
                f"The record book {self.path} is open for reading only. {_NOT_SAVED}.",
                "Open it for writing, with a PackDesk that is new enough.",
            )

    # ----------------------------------------------------------------------------------------
    # After the disk failed

    def _compare(self, connection: sqlite3.Connection) -> None:
        """See where the entries end in the file just opened; fewer than before is trouble."""
        before = self._tip.station_seq
        self._tip = self._read_tip(connection)
        if self._in_doubt:
            schema.fold_log_in(connection)  # so that what is found is on the disk for certain
        lost = before - self._tip.station_seq
        if lost > 0:
            gone = "entry" if lost == 1 else f"{lost} entries"
            raise _EntriesLost(
                f"The disk lost the last {gone}, which it had confirmed as saved.",
                "Look at what is recorded, enter again what is missing, and move the book to"
                " another disk.",
            )

    def _read_tip(self, connection: sqlite3.Connection) -> _Tip:
        own = connection.execute(
            "SELECT station_seq, chain FROM events WHERE station_id = ?"
            " ORDER BY station_seq DESC LIMIT 1",
            (self._station.bytes,),
        ).fetchone()
        station_seq, chain = own or (0, START)
        hlc = highest_hlc(lambda sql: connection.execute(sql).fetchall())
        if tuple(map(type, (station_seq, chain, hlc))) != (int, bytes, int):
            raise self._hold.damaged("its last entry cannot be read")
        return _Tip(station_seq, chain, hlc)

    def _is_kept_after_all(self, rows: Sequence[Row]) -> bool:
        """Whether rows are in the book although the disk failed while they were written."""
        self._in_doubt = tuple(rows)
        try:
            with self._hold.speaking(_NOT_SAVED):
                self._hold.connection()
        except _EntriesLost:
            raise
        except Trouble:
            return False
        return bool(self._found_late())

    def _settle_doubt(self, drafts: Sequence[Draft]) -> None:
        """Stop if an entry reported as not saved is there, unless it is the one tried again."""
        with self._hold.speaking(_NOT_SAVED):
            self._hold.connection()
        late = [row.event_id for row in self._found_late()]
        if late and late != [draft.id.bytes for draft in drafts]:
            raise Trouble(
                "The entry that was reported as not saved did reach the disk.",
                "Look at what is recorded, then enter again what is missing.",
            )

    def _found_late(self) -> tuple[Row, ...]:
        """The rows in doubt, if they are in the book; with the answer the doubt is gone."""
        rows, self._in_doubt = self._in_doubt, ()
        return rows if rows and rows[-1].chain == self._tip.chain else ()


def _name(row: Row) -> str:
    return f"entry {row.station_seq} of {station_name(row.station_id)}"
