"""What a fault of the disk or the file means, in words, and what to do about it."""

from __future__ import annotations

import errno
import sqlite3
from pathlib import Path

from packdesk.desk.ports import Trouble
from packdesk.sentences import capital

_BY_ERRNO = {
    errno.ENOSPC: sqlite3.SQLITE_FULL,
    errno.EDQUOT: sqlite3.SQLITE_FULL,
    errno.EACCES: sqlite3.SQLITE_PERM,
    errno.EPERM: sqlite3.SQLITE_PERM,
    errno.EROFS: sqlite3.SQLITE_READONLY,
    errno.ENOENT: sqlite3.SQLITE_CANTOPEN,
    errno.ENOTDIR: sqlite3.SQLITE_CANTOPEN,
    errno.EEXIST: sqlite3.SQLITE_CANTOPEN,
    errno.EISDIR: sqlite3.SQLITE_CANTOPEN,
}
_DAMAGE = {
    sqlite3.SQLITE_CORRUPT: "what is stored in it is no longer what was written",
    sqlite3.SQLITE_NOTADB: "it does not begin as a record book does",
}


def fault_code(fault: sqlite3.Error | OSError) -> int:
    """SQLite's primary code for a fault; faults of the system count as their SQLite kin."""
    if isinstance(fault, OSError):
        return _BY_ERRNO.get(fault.errno or 0, sqlite3.SQLITE_IOERR)
    # An error without a code is Python's own: stored text that is not text.
    return getattr(fault, "sqlite_errorcode", sqlite3.SQLITE_CORRUPT) & 0xFF


def is_damage(fault: sqlite3.Error | OSError) -> bool:
    """Whether the file itself is no longer what SQLite wrote."""
    return fault_code(fault) in _DAMAGE


def is_disk_fault(fault: sqlite3.Error | OSError) -> bool:
    """Whether the disk failed in a way after which the open file cannot be trusted."""
    return fault_code(fault) == sqlite3.SQLITE_IOERR


def trouble_for(fault: sqlite3.Error | OSError, thing: str, outcome: str) -> Trouble:
    """Say a fault in words.

    `thing` is what it happened to, such as "the record book /home/…"; `outcome` is what it came
    to, such as "Nothing was saved".
    """
    what, cure = _WORDS.get(fault_code(fault), _OTHER)
    said = what.format(thing=thing)
    return Trouble(f"{capital(said)} {outcome}.", cure)


def damage_in_words(fault: sqlite3.Error | OSError) -> str:
    """What is wrong with a damaged file, to follow "damaged:"."""
    return _DAMAGE[fault_code(fault)]


def damaged(path: Path, detail: str, newest_copy: Path | None) -> Trouble:
    """Say that the book is damaged, and which copy brings it back."""
    cure = (
        f"The newest copy that can be read is {newest_copy}; restore it: the damaged file is"
        " kept beside it."
        if newest_copy
        else "No copy that can be read was found in its folder of copies. Leave the file as it is"
        " and look for a copy elsewhere: a stick, another disk, an exported session."
    )
    return Trouble(f"The record book {path} is damaged: {detail}.", cure)


_WORDS = {
    sqlite3.SQLITE_FULL: (
        "the disk that holds {thing} is full.",
        "Make room on that disk, then try again; nothing needs to be restarted.",
    ),
    sqlite3.SQLITE_BUSY: (
        "another PackDesk has {thing} open.",
        "Go on in that one, or close it and try again.",
    ),
    sqlite3.SQLITE_READONLY: (
        "{thing} is write-protected.",
        "Lift the protection of the file or its disk, or open it for reading only.",
    ),
    sqlite3.SQLITE_PERM: (
        "this account may not use {thing}.",
        "Give this account the right to read and write the file and its folder, then try again.",
    ),
    sqlite3.SQLITE_CANTOPEN: (
        "{thing} cannot be opened.",
        "Check that its folder and its disk are there and that this account may write to it.",
    ),
    sqlite3.SQLITE_IOERR: (
        "the disk that holds {thing} failed.",
        "Check the disk and its cable, then try again; if it fails again, use another disk.",
    ),
    sqlite3.SQLITE_NOMEM: (
        "the computer is out of memory for {thing}.",
        "Close other programs, then try again.",
    ),
}
_WORDS[sqlite3.SQLITE_LOCKED] = _WORDS[sqlite3.SQLITE_PROTOCOL] = _WORDS[sqlite3.SQLITE_BUSY]
_OTHER = (
    "{thing} did not take the request.",
    "Try again; if it happens again, restart PackDesk and check the book.",
)
