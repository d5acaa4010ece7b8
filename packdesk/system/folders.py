"""In which folders does this installation keep its things?"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from packdesk.desk.ports import Trouble

HOME = "PACKDESK_HOME"
"""Names one folder for everything: for a copy on a stick, a second book, a test."""


@dataclass(frozen=True, slots=True)
class Folders:
    """Where everything of one installation lies."""

    data: Path
    """The record book, its copies and the log; the folder to keep."""
    config: Path
    """Settings and the station's identity; it belongs to this computer."""
    cache: Path
    """What can be made again; may be emptied."""

    def made(self) -> Folders:
        """The same folders, now there and writable; raises `Trouble` naming the one that is not."""
        for folder, purpose in (
            (self.data, "the record book"),
            (self.config, "the settings"),
            (self.cache, "what can be made again"),
        ):
            make_folder(folder, purpose)
        return self


def find_folders(environ: Mapping[str, str] | None = None) -> Folders:
    """Where things belong on this system, or inside `PACKDESK_HOME` where that is set."""
    home = (os.environ if environ is None else environ).get(HOME, "").strip()
    if home:
        base = Path(home).expanduser().absolute()
        return Folders(base / "data", base / "config", base / "cache")
    places = platformdirs.PlatformDirs("packdesk", appauthor=False)
    return Folders(places.user_data_path, places.user_config_path, places.user_cache_path)


def make_folder(folder: Path, purpose: str) -> None:
    """Make a folder that nobody else may read, or leave the one that is there.

    Raises `Trouble` when it cannot be made or written to.
    """
    cure = f"Free the way to it, or set {HOME} to a folder that you can write to."
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise Trouble(
            f"The folder {folder} for {purpose} cannot be made: {reason}.", cure
        ) from fault
    if not os.access(folder, os.W_OK | os.X_OK):
        raise Trouble(f"The folder {folder} for {purpose} cannot be written to.", cure)
