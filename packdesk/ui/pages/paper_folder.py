"""Into which folder papers are put: the usual one, or another that the person chose."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from packdesk.desk.ports import Trouble
from packdesk.present.cards import Control
from packdesk.ui.pages.sight import Sight

ELSEWHERE = Control("Another folder", icon="again", key="H", form="elsewhere")
"""Offered where a paper could not be written."""


def ask_folder(parent: QWidget, start: Path) -> Path | None:
    """Ask with the system's own window for a folder; None when it was left."""
    found = QFileDialog.getExistingDirectory(parent, "Folder for papers", str(start))
    return Path(found) if found else None


class PaperFolder:
    """The folder that papers are put into; one chosen holds at least until the window closes."""

    def __init__(self) -> None:
        self._for_now: Path | None = None

    def of(self, sight: Sight) -> Path:
        """The folder now."""
        chosen = sight.tools.choices.settings.text("paper_folder")
        return self._for_now or (Path(chosen) if chosen else sight.tools.paper_folder)

    def holding(self, name: str, sight: Sight) -> Path | None:
        """Where the paper of this name lies, if it is still there."""
        folders = (self.of(sight), sight.tools.paper_folder)
        return next((folder / name for folder in folders if (folder / name).is_file()), None)

    def take(self, folder: Path, sight: Sight) -> str:
        """Put papers into this folder from now on; a sentence about it."""
        self._for_now = folder
        choices = sight.tools.choices
        try:
            choices.keep(choices.settings.with_choice("paper_folder", str(folder)))
        except (Trouble, ValueError):
            return f"Papers go into {folder} until PackDesk is closed."
        return f"Papers go into {folder} from now on."
