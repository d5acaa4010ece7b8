"""Is the book sound? The file as SQLite sees it, and every entry against its chain and number."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from packdesk.record.chain import START, is_intact
from packdesk.record.rows import Row, station_name

Query = Callable[..., list[tuple[Any, ...]]]
"""Runs one statement with its parameters and answers all rows; may wait for its turn."""

_AT_ONCE = 1000
_TEXT = {"boot", "who", "kind", "payload"}
# As bytes, so that damaged text is compared rather than refused by the decoder.
_AS_STORED = ", ".join(f"CAST({name} AS BLOB)" if name in _TEXT else name for name in Row._fields)
_STATION, _NUMBER = Row._fields.index("station_id"), Row._fields.index("station_seq")


@dataclass(frozen=True, slots=True)
class Report:
    """What a check of the book came to."""

    entries: int
    stations: int
    faults: tuple[str, ...]
    """One sentence each; empty when the book is sound."""
    notes: tuple[str, ...] = ()
    """What is no fault but worth knowing."""

    @property
    def sound(self) -> bool:
        """Whether everything that was recorded is there as it was recorded."""
        return not self.faults

    @property
    def sentence(self) -> str:
        """The outcome in one sentence."""
        stations = "one station" if self.stations == 1 else f"{self.stations} stations"
        checked = f"{self.entries} {'entry' if self.entries == 1 else 'entries'} of {stations}"
        if self.sound:
            return f"The record book is sound: {checked} checked, each as it was recorded."
        faults = "one fault" if len(self.faults) == 1 else f"{len(self.faults)} faults"
        return f"The record book is damaged: {faults} found among {checked}."


def check_book(query: Query) -> Report:
    """Read the whole book and report every fault found; changes nothing.

    Entries are read a thousand at a time, so that a program that records meanwhile waits a few
    milliseconds at most.
    """
    faults = list(_file_faults(query))
    entries, stations = 0, 0
    try:
        gaps = {(station, seq): prev for station, seq, prev in query("SELECT * FROM known_gaps")}
        tip = (b"", 0, START)
        for columns in _all_rows(query):
            entries += 1
            if not (isinstance(columns[_STATION], bytes) and isinstance(columns[_NUMBER], int)):
                faults.append("The number of an entry cannot be read.")
                continue
            if columns[_STATION] != tip[0]:
                stations += 1
                tip = (columns[_STATION], 0, START)
            faults.extend(_entry_faults(columns, tip, gaps))
            tip = (columns[_STATION], columns[_NUMBER], columns[-1])
        forks = query("SELECT count(*) FROM forks")[0][0]
    except sqlite3.DatabaseError as fault:
        return Report(entries, stations, (*faults, f"The entries cannot all be read: {fault}."))
    return Report(entries, stations, tuple(faults), tuple(_notes(gaps, forks)))


def _file_faults(query: Query) -> Iterator[str]:
    # The quick check leaves out whether the indexes agree with the table: with one flipped bit in
    # an index, entries would be missing from a session without a word.
    try:
        found = [str(row[0]) for row in query("PRAGMA integrity_check(20)")]
    except sqlite3.DatabaseError as fault:
        found = [str(fault)]
    for line in found:
        if line != "ok":
            yield f"The file is damaged: {line}."


def _all_rows(query: Query) -> Iterator[tuple[Any, ...]]:
    station, number = b"", 0
    while True:
        rows = query(
            f"SELECT {_AS_STORED} FROM events WHERE (station_id, station_seq) > (?, ?)"
            " ORDER BY station_id, station_seq LIMIT ?",
            (station, number, _AT_ONCE),
        )
        yield from rows
        if len(rows) < _AT_ONCE:
            return
        station, number = rows[-1][_STATION], rows[-1][_NUMBER]


def _entry_faults(
    columns: tuple[Any, ...],
    tip: tuple[bytes, int, bytes],
    gaps: dict[tuple[bytes, int], bytes],
) -> Iterator[str]:
    """The faults of one entry, where `tip` is the entry read before it in its station."""
    station, number = columns[_STATION], columns[_NUMBER]
    _, before, prev = tip
    bridged = gaps.get((station, number))
    if number == before + 1:
        if bridged not in (None, prev):
            yield f"Entry {number} of {station_name(station)} does not follow the one before it."
    elif bridged is not None:
        prev = bridged
    else:
        yield _missing(before + 1, number - 1, station)
        return
    if not is_intact(prev, columns[:-1], columns[-1]):
        yield f"Entry {number} of {station_name(station)} is not as it was recorded."


def _missing(first: int, last: int, station: bytes) -> str:
    if first == last:
        return f"Entry {first} of {station_name(station)} is missing."
    return f"Entries {first} to {last} of {station_name(station)} are missing."


def _notes(gaps: dict[tuple[bytes, int], bytes], forks: int) -> Iterator[str]:
    if gaps:
        where = "one place" if len(gaps) == 1 else f"{len(gaps)} places"
        yield (
            f"At {where} the book was given later entries of another station but not the earlier"
            " ones."
        )
    if forks:
        yield (
            f"{forks} imported {'entry' if forks == 1 else 'entries'} came with a number that was"
            " already taken; kept aside, not counted."
        )
