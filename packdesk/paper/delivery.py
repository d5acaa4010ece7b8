"""A finished file reaches its place whole or not at all; what stood there before stays."""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from packdesk.desk.ports import Trouble

_CURES = {
    errno.ENOSPC: "The disk is full. Delete what you no longer need, or choose another disk.",
    errno.EDQUOT: "Your share of the disk is used up. Delete something, or choose another disk.",
    errno.EROFS: "That disk can only be read. Choose a folder on another one.",
    errno.ENOENT: "That folder is not there. Choose one that is.",
    errno.ENOTDIR: "That folder is not there. Choose one that is.",
    errno.EISDIR: "A folder has that name. Choose another name.",
    errno.EACCES: (
        "The folder does not let you write, or the file is open in another program. "
        "Close it there, or choose another folder."
    ),
}  # fmt: skip
_CURES[errno.EPERM] = _CURES[errno.EACCES]
_OTHER_CURE = "Choose another folder and try again."


def deliver(content: bytes, out: Path | BinaryIO) -> None:
    """Write `content` to `out`; a file gets its name only after every byte is on the disk.

    Raises `Trouble` when the system refuses; a file that stood at `out` is then unchanged.
    """
    if not isinstance(out, Path):
        try:
            out.write(content)
        except OSError as error:
            raise _trouble("the file", error) from error
        return
    part = out.with_name(out.name + ".part")
    try:
        with part.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(out)
    except OSError as error:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise _trouble(f"“{out.name}” in {out.parent}", error) from error


def _trouble(what: str, error: OSError) -> Trouble:
    reason = error.strerror or "the system gave no reason"
    cure = _CURES.get(error.errno or 0, _OTHER_CURE)
    return Trouble(f"Could not write {what}: {reason}.", cure)
