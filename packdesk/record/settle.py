"""Is it on the disk? Waits until a file, or the name of a file in its folder, is really there."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path


def settle(path: Path) -> None:
    """Have the disk keep a file, or a folder's new entry where the system can."""
    if path.is_dir():
        with suppress(OSError):
            _sync(path, os.O_RDONLY)
    else:
        _sync(path, os.O_RDWR)


def _sync(path: Path, how: int) -> None:
    handle = os.open(path, how)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
