"""What a way of making a rhythm heard has to answer: that it sounds, or why it cannot."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.tones import PATTERNS, SoundFiles, length_s

EARLY_S = 2.0
"""A player that ends more than this before its rhythm does did not play it."""


class Player(QObject):
    """One way to sound a rhythm once through.

    Signals:
        failed: it turned out after the start that nothing sounds; the words say why.
    """

    failed = Signal(str)

    name = ""
    heard_for_sure = True
    """Whether a start without a fault means sound, as far as a program can know."""

    _begin: Callable[[Rhythm, float], None]
    """Each player's own way to start."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._fault = ""
        self._answered = False
        self._rhythm = Rhythm.DUE

    def play(self, rhythm: Rhythm, volume: float) -> str:
        """Start; empty if that went well, or words that follow the name: «is not installed»."""
        self._fault, self._answered, self._rhythm = "", False, rhythm
        self._begin(rhythm, volume)
        self._answered = True
        return self._fault

    def tick(self, elapsed_s: float) -> None:
        """Half a second later: see whether it plays."""

    def stop(self) -> None:
        """Be silent at once."""

    def _fail(self, why: str) -> None:
        if self._fault:
            return
        self.stop()
        self._fault = why
        if self._answered:
            self.failed.emit(why)


class FilePlayer(Player):
    """A player that needs the rhythm as a sound file."""

    loops = False
    """Whether it plays a file of one cycle again and again, or needs one of the whole ring."""

    _play_file: Callable[[Path, float], None]
    """Each player's own way to start with the file."""

    def __init__(self, files: SoundFiles, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._files = files
        self._elapsed_s = 0.0

    def tick(self, elapsed_s: float) -> None:
        self._elapsed_s = elapsed_s

    def _begin(self, rhythm: Rhythm, volume: float) -> None:
        self._elapsed_s = 0.0
        try:
            path = self._files.path(rhythm, 1 if self.loops else PATTERNS[rhythm].cycles)
        except OSError as fault:
            self._fail(f"has no sound file to play ({fault.strerror or fault})")
        else:
            self._play_file(path, volume)

    @property
    def ended_early(self) -> bool:
        return self._elapsed_s < length_s(self._rhythm) - EARLY_S
