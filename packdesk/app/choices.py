"""Keeps settings as a file in the folder for settings."""

from __future__ import annotations

from pathlib import Path

from packdesk.desk.ports import Trouble
from packdesk.settings import text
from packdesk.settings.chosen import Settings

FILE_NAME = "settings.toml"


class FileChoices:
    """Settings read once at the start, written whole at each change.

    `faults` tells, in words, what of the file had no effect.
    """

    def __init__(self, folder: Path) -> None:
        self._file = folder / FILE_NAME
        self._settings, self.faults = self._read()

    @property
    def settings(self) -> Settings:
        """What is chosen now."""
        return self._settings

    def keep(self, settings: Settings) -> None:
        """Choose these from now on; raises `Trouble` when they cannot be written."""
        from packdesk.paper.delivery import deliver

        try:
            deliver(text.written(settings).encode(), self._file)
        except Trouble as trouble:
            raise Trouble(
                trouble.sentence, "Free the way to that folder, with room on its disk."
            ) from trouble
        self._settings = settings

    def _read(self) -> tuple[Settings, tuple[str, ...]]:
        if not self._file.exists():
            return Settings(), ()
        try:
            return text.read(self._file.read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError) as error:
            return Settings(), (
                f"“{self._file}” cannot be read: {error}. The usual settings are used.",
            )
