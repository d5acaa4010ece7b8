from __future__ import annotations

import errno
import sqlite3

import pytest

from packdesk.record.trouble import is_damage, is_disk_fault, trouble_for

THING = "the record book /data/record.packdesk"


def sqlite_fault(code: int) -> sqlite3.OperationalError:
    """A fault as SQLite reports it."""
    fault = sqlite3.OperationalError("as SQLite says it")
    fault.sqlite_errorcode = code
    return fault


@pytest.mark.parametrize(
    ("fault", "sentence"),
    [
        (sqlite_fault(sqlite3.SQLITE_FULL), f"The disk that holds {THING} is full."),
        (OSError(errno.ENOSPC, "no space"), f"The disk that holds {THING} is full."),
        (sqlite_fault(sqlite3.SQLITE_BUSY), f"Another PackDesk has {THING} open."),
        (sqlite_fault(sqlite3.SQLITE_LOCKED), f"Another PackDesk has {THING} open."),
        (sqlite_fault(sqlite3.SQLITE_READONLY_DIRECTORY), f"{THING} is write-protected."),
        (OSError(errno.EROFS, "read-only"), f"{THING} is write-protected."),
        (OSError(errno.EACCES, "denied"), f"This account may not use {THING}."),
        (sqlite_fault(sqlite3.SQLITE_CANTOPEN), f"{THING} cannot be opened."),
        (FileNotFoundError(errno.ENOENT, "no such file"), f"{THING} cannot be opened."),
        (sqlite_fault(sqlite3.SQLITE_IOERR_WRITE), f"The disk that holds {THING} failed."),
        (OSError(errno.EIO, "I/O error"), f"The disk that holds {THING} failed."),
        (sqlite_fault(sqlite3.SQLITE_NOMEM), f"The computer is out of memory for {THING}."),
        (sqlite_fault(sqlite3.SQLITE_TOOBIG), f"{THING} did not take the request."),
    ],
)
def test_faults_are_said_in_words(fault: sqlite3.Error | OSError, sentence: str) -> None:
    """Each fault of the machine has its sentence, what it came to, and a cure."""
    trouble = trouble_for(fault, THING, "Nothing was saved")

    assert trouble.sentence == f"{sentence[0].upper()}{sentence[1:]} Nothing was saved."
    assert trouble.cure.endswith(".")
    assert "{" not in str(trouble)


def test_tells_damage_and_failing_disks_from_the_rest() -> None:
    """A damaged file, a failing disk and any other fault are three different things."""
    damage = [
        sqlite_fault(sqlite3.SQLITE_CORRUPT_INDEX),
        sqlite_fault(sqlite3.SQLITE_NOTADB),
        sqlite3.OperationalError("Could not decode to UTF-8 column 'who'"),
    ]
    failing = [sqlite_fault(sqlite3.SQLITE_IOERR_FSYNC), OSError(errno.EIO, "I/O error")]
    other = [sqlite_fault(sqlite3.SQLITE_FULL), OSError(errno.ENOSPC, "no space")]

    assert [is_damage(fault) for fault in (*damage, *failing, *other)] == [True] * 3 + [False] * 4
    assert [is_disk_fault(fault) for fault in (*damage, *failing, *other)] == (
        [False] * 3 + [True] * 2 + [False] * 2
    )
