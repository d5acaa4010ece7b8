"""Copies of the book: made while it is in use, believed only once checked, thinned with age."""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Protocol

from packdesk.desk.ports import Trouble
from packdesk.record.check import check_book
from packdesk.record.copies import (
    Copy,
    asking,
    copies_of,
    extent_of,
    opened_copy,
    stamped_name,
    to_drop,
)
from packdesk.record.links import all_links
from packdesk.record.session_file import FORMAT, Header, write_session_file
from packdesk.record.settle import settle
from packdesk.record.trouble import trouble_for


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


def back_up(book: Copyable, now: datetime, program: str = "PackDesk") -> Copy:
    """Make a dated copy of the book, check it, and only then count it and thin older ones.

    Beside it the same entries are written as text. A book that took no entry since the newest
    copy is not copied again. Raises `Trouble` when the copy did not come out sound or the disk
    did not take it; the older copies are then as they were.
    """
    older = copies_of(book.path, book.backups)
    if older and extent_of(older[0].path) == book.extent():
        return older[0]
    name = stamped_name(book.path, now)
    copy = Copy(book.backups / name, now.astimezone(UTC).replace(microsecond=0))
    part = copy.path.with_name(f"{name}.part")
    try:
        book.backups.mkdir(parents=True, exist_ok=True)
        part.unlink(missing_ok=True)
        book.copy_to(part)
        with opened_copy(part) as connection:
            report = check_book(asking(connection))
            if not report.sound:
                raise Trouble(
                    f"The copy of the record book came out damaged: {report.faults[0]}",
                    "It was not kept; the older copies are as they were. Check the book itself.",
                )
            header = Header(packdesk_session=FORMAT, program=program, written=now)
            write_session_file(copy.text, header, all_links(asking(connection)))
        settle(part)
        part.replace(copy.path)
        settle(book.backups)
    except OSError as fault:
        raise trouble_for(fault, f"the copy {copy.path}", "No copy was made") from fault
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    _thin(book, now)
    return copy


def _thin(book: Copyable, now: datetime) -> None:
    """Remove copies that are too many, and what a copying that was cut off left behind."""
    gone = [
        path for copy in to_drop(copies_of(book.path, book.backups), now) for path in copy.files
    ]
    for path in (*gone, *book.backups.glob("*.part*")):
        if path.name.startswith(f"{book.path.stem}-"):
            with suppress(OSError):  # a file too many does no harm
                path.unlink()
