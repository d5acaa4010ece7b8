"""How a copy takes the place of a damaged book, without a byte of the damaged one being lost."""

from __future__ import annotations

import os
import sqlite3
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from packdesk.record import schema
from packdesk.record.copies import check_copy, damaged_copy, stamped_name
from packdesk.record.settle import settle
from packdesk.record.trouble import fault_code, trouble_for

_COMPANIONS = ("-wal", "-journal", "-shm")


@dataclass(frozen=True, slots=True)
class Restored:
    """What became of a restoration."""

    entries: int
    set_aside: Path | None
    """The file that was there before; None if there was none."""


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
        raise damaged_copy(copy, report.faults[0].rstrip("."))
    _refuse_if_open(book)
    part = book.with_name(f"{book.name}.part")
    aside = _free_name(book.with_name(stamped_name(book, now, "-damaged")))
    there = book.exists()
    try:
        part.write_bytes(copy.read_bytes())
        settle(part)
        for ending in _COMPANIONS:
            companion = book.with_name(book.name + ending)
            if companion.exists():
                companion.replace(aside.with_name(aside.name + ending))
        if there:
            _move_aside(book, aside)
        part.replace(book)
        settle(book.parent)
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


def _free_name(wanted: Path) -> Path:
    """The name itself, or a numbered one where it is taken: nothing moved aside is overwritten."""
    path, number = wanted, 1
    while any(path.with_name(path.name + ending).exists() for ending in ("", *_COMPANIONS)):
        number += 1
        path = wanted.with_name(f"{wanted.stem}-{number}{wanted.suffix}")
    return path
