"""A finished file reaches its place whole or not at all; what stood there before stays."""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from packdesk.desk.ports import Trouble

_NO_ROOM = ("the disk is full", "Make room on it, or choose a folder on another disk.")
_NO_WAY_IN = (
    "this account may not write there, or the file is open in another program",
    "Close the file in the other program, or choose another folder.",
)
_NO_FOLDER = ("its folder is not there", "Choose a folder that is, or plug in its disk.")
_READ_ONLY = ("that disk can only be read", "Choose a folder on another disk.")
_IS_FOLDER = ("a folder has that name", "Choose another name.")
_NO_FILE = ("that is a device or a pipe, no file", "Choose another name.")
_TOO_LONG = ("its name is too long", "Choose a shorter name.")
_OTHER = ("the disk did not take it", "Try again, or choose a folder on another disk.")

_REASONS = {
    errno.ENOSPC: _NO_ROOM,
    errno.EDQUOT: _NO_ROOM,
    errno.EFBIG: _NO_ROOM,
    errno.EACCES: _NO_WAY_IN,
    errno.EPERM: _NO_WAY_IN,
    errno.EBUSY: _NO_WAY_IN,
    errno.ENOENT: _NO_FOLDER,
    errno.ENOTDIR: _NO_FOLDER,
    errno.EROFS: _READ_ONLY,
    errno.EISDIR: _IS_FOLDER,
    errno.ENAMETOOLONG: _TOO_LONG,
}


def deliver(content: bytes, out: Path | BinaryIO) -> None:
    """Write `content` to `out`; a file gets its name only after every byte is on the disk.

    Raises `Trouble` when the system refuses; a file that stood at `out` is then unchanged.
    """
    if not isinstance(out, Path):
        try:
            out.write(content)
        except OSError as error:
            raise _trouble("The file", error) from error
        return
    part = out.with_name(out.name + ".part")
    if out.exists() and not (out.is_file() or out.is_dir()):
        # a file that arrives whole takes the name: of a device that would be the machine's loss
        raise _told(f"“{out}”", _NO_FILE)
    try:
        with part.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(out)
    except OSError as error:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise _trouble(f"“{out}”", error) from error


def _trouble(what: str, error: OSError) -> Trouble:
    return _told(what, _REASONS.get(error.errno or 0, _OTHER))


def _told(what: str, why: tuple[str, str]) -> Trouble:
    reason, cure = why
    return Trouble(f"{what} was not written: {reason}.", cure)
