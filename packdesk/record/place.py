"""Is the place where the book lies a good one? What is cheaply known about its folder and disk."""

from __future__ import annotations

import re
import stat
import sys
from pathlib import Path

_SYNC_WORD = re.compile(r"sync|cloud|drive$|^mobile documents$", re.IGNORECASE)
_REMOTE = {"nfs", "nfs4", "cifs", "smb3", "smbfs", "9p", "afs", "coda", "ncpfs", "ceph"}
_MOUNTS = Path("/proc/self/mounts")
_REMOTE_DRIVE = 4  # GetDriveTypeW, DRIVE_REMOTE
_KEPT_ELSEWHERE = 0x400000  # FILE_ATTRIBUTE_RECALL_ON_DATA_ACCESS, not named in `stat`


def warnings_about(path: Path) -> tuple[str, ...]:
    """Sentences about the place of a book; empty when nothing speaks against it.

    A program that copies the folder to other computers may copy half a transaction, and a disk
    of another computer cannot keep the lock; sqlite.org/howtocorrupt.html, sections 1.2 and 2.1.
    Recognised are telling folder names and what the system says of the disk; not every such
    place can be known.
    """
    found = []
    telling = _synced(path)
    if telling:
        found.append(
            f"The record book lies in “{telling}”, which looks like a folder that is kept the same"
            " on several computers. That can damage an open book: keep it in another folder, and"
            " put copies and exported sessions here."
        )
    disk = _remote(path)
    if disk:
        found.append(
            f"The record book lies on a disk of another computer ({disk}). That can damage it:"
            " keep it on a disk of this computer, and put copies there."
        )
    return tuple(found)


def _synced(path: Path) -> str:
    for folder in path.absolute().parents:
        if _SYNC_WORD.search(folder.name) or _marked(folder):
            return folder.name
    return ""


def _marked(folder: Path) -> bool:
    """Whether the system itself marks the folder as kept elsewhere too (Windows)."""
    try:
        attributes: int = getattr(folder.stat(), "st_file_attributes", 0)
    except OSError:
        return False
    return bool(attributes & (_KEPT_ELSEWHERE | stat.FILE_ATTRIBUTE_OFFLINE))


def _remote(path: Path) -> str:
    if sys.platform == "win32":
        import ctypes

        drive = path.absolute().drive
        remote = ctypes.windll.kernel32.GetDriveTypeW(f"{drive}\\") == _REMOTE_DRIVE
        return drive if drive.startswith("\\\\") or remote else ""
    try:
        mounts = _MOUNTS.read_text("utf-8", "replace")
    except OSError:
        return ""
    return remote_type(path.absolute(), mounts)


def remote_type(path: Path, mounts: str) -> str:
    """The kind of remote file system that holds `path`, by a table as in proc(5); "" if local."""
    best, source, kind = -1, "", ""
    for line in mounts.splitlines():
        its_source, point, its_kind, *_ = line.split(" ")
        folder = Path(re.sub(r"\\([0-7]{3})", lambda code: chr(int(code[1], 8)), point))
        if len(folder.parts) >= best and (folder == path or folder in path.parents):
            best, source, kind = len(folder.parts), its_source, its_kind
    served_by_program = kind.startswith("fuse") and ":" in source
    return kind if kind in _REMOTE or served_by_program else ""
