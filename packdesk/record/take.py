"""How entries of another station, or of this one from elsewhere, come into the book unchanged."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass

from packdesk.record.chain import START
from packdesk.record.rows import Link, Row, station_name
from packdesk.record.session_line import line_text

INSERT = f"INSERT INTO events({', '.join(Row._fields)}) VALUES({', '.join('?' * len(Row._fields))})"


class DoesNotFit(ValueError):
    """Entries do not link up with those the book has; none of them was taken."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of the entries offered to the book."""

    added: int
    known: int
    """Were in the book already; left as they are."""
    forks: int
    """Came with a number that another entry has; kept aside for a person to look at."""


def take(connection: sqlite3.Connection, links: Sequence[Link], found_us: int) -> Taken:
    """Add rows as they were recorded elsewhere; to be run inside one transaction.

    What is there already is skipped. Raises `DoesNotFit` when a row is not as it was recorded or
    does not link up with its neighbours in the book.
    """
    added = known = forks = 0
    forked: set[bytes] = set()  # chain values of this batch that lie beside the book's own
    for link in sorted(links, key=lambda link: (link.row.station_id, link.row.station_seq)):
        if not link.holds():
            raise DoesNotFit(f"{_name(link.row)} is not as it was recorded.")
        if _has_id(connection, link.row):
            known += 1
        elif link.prev in forked or _number_taken(connection, link.row):
            forked.add(link.row.chain)
            connection.execute(
                "INSERT OR IGNORE INTO forks(found_us, line) VALUES(?, ?)",
                (found_us, line_text(link)),
            )
            forks += 1
        else:
            _link_up(connection, link)
            connection.execute(INSERT, link.row)
            added += 1
    return Taken(added, known, forks)


def _has_id(connection: sqlite3.Connection, row: Row) -> bool:
    there = connection.execute("SELECT 1 FROM events WHERE event_id = ?", (row.event_id,))
    return there.fetchone() is not None


def _number_taken(connection: sqlite3.Connection, row: Row) -> bool:
    return _chain_at(connection, row, row.station_seq) is not None


def _link_up(connection: sqlite3.Connection, link: Link) -> None:
    """Compare the row with its neighbours; where the one before is missing, remember its chain."""
    row = link.row
    before = START if row.station_seq == 1 else _chain_at(connection, row, row.station_seq - 1)
    if before is None:
        connection.execute(
            "INSERT OR IGNORE INTO known_gaps VALUES(?, ?, ?)",
            (row.station_id, row.station_seq, link.prev),
        )
    elif before != link.prev:
        raise DoesNotFit(f"{_name(row)} does not follow the one that the book has before it.")
    after = connection.execute(
        "SELECT prev FROM known_gaps WHERE station_id = ? AND before_seq = ?",
        (row.station_id, row.station_seq + 1),
    ).fetchone()
    if after is not None and after[0] != row.chain:
        raise DoesNotFit(f"{_name(row)} does not lead to the one that the book has after it.")


def _chain_at(connection: sqlite3.Connection, row: Row, number: int) -> bytes | None:
    found = connection.execute(
        "SELECT chain FROM events WHERE station_id = ? AND station_seq = ?",
        (row.station_id, number),
    ).fetchone()
    return found[0] if found else None


def _name(row: Row) -> str:
    return f"Entry {row.station_seq} of {station_name(row.station_id)}"
