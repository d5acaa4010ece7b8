# ruff: noqa: N802, N815 -- the invented sound effect keeps the names that Qt gave
"""Invented players, sound modules and notification buses; nothing here makes a sound."""

from __future__ import annotations

from types import SimpleNamespace
from typing import ClassVar

from PySide6.QtCore import QObject, Signal

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.player import Player


class NotedPlayer(Player):
    """Plays nothing and notes what it was asked; `refuses` is why it cannot start."""

    def __init__(self, name: str = "the invented player", refuses: str = "") -> None:
        super().__init__()
        self.name = name
        self.refuses = refuses
        self.played: list[tuple[Rhythm, float]] = []
        self.ticks: list[float] = []
        self.sounding = False

    def _begin(self, rhythm: Rhythm, volume: float) -> None:
        if self.refuses:
            self._fail(self.refuses)
            return
        self.played.append((rhythm, volume))
        self.sounding = True

    def tick(self, elapsed_s: float) -> None:
        self.ticks.append(elapsed_s)

    def stop(self) -> None:
        self.sounding = False

    def break_down(self, why: str = "broke down") -> None:
        """Find out in the middle that nothing sounds."""
        self._fail(why)


class NotedNotices:
    """Shows nothing and notes what it was asked."""

    def __init__(self) -> None:
        self.shown: list[tuple[str, str, bool]] = []
        self.standing = False
        self.closed = False
        self.words = ""

    def show(self, title: str, body: str, *, critical: bool) -> None:
        """Note it."""
        self.shown.append((title, body, critical))
        self.standing = True
        self.words = "A notice was noted."

    def withdraw(self) -> None:
        """Note that nothing stands any more."""
        self.standing = False

    def close(self) -> None:
        """Note the end."""
        self.closed = True


class SoundEffect(QObject):
    """Behaves like Qt's sound effect as far as it is used, on a device that a test breaks."""

    class Status:
        """The states that matter."""

        Ready = 2
        Error = 3

    statusChanged = Signal()
    playingChanged = Signal()
    made: ClassVar[list[SoundEffect]] = []

    def __init__(self, device: object, parent: QObject) -> None:
        super().__init__(parent)
        self.url = ""
        self.level = 0.0
        self.cycles = self.left = 0
        self._status = SoundEffect.Status.Ready
        self._playing = False
        SoundEffect.made.append(self)

    def setVolume(self, level: float) -> None:
        self.level = level

    def setLoopCount(self, cycles: int) -> None:
        self.cycles = self.left = cycles

    def setSource(self, url: object) -> None:
        self.url = url.toLocalFile()

    def loopsRemaining(self) -> int:
        return self.left

    def status(self) -> int:
        return self._status

    def isPlaying(self) -> bool:
        return self._playing

    def play(self) -> None:
        self._playing = True

    def stop(self) -> None:
        self._playing = False

    def fall_silent(self) -> None:
        """End by itself."""
        self._playing = False
        self.playingChanged.emit()

    def go_wrong(self) -> None:
        """Find that the device cannot play this."""
        self._status = SoundEffect.Status.Error
        self.statusChanged.emit()


def sound_module(*, device: bool = True) -> SimpleNamespace:
    """A stand-in for Qt's sound module, with or without a loudspeaker."""
    SoundEffect.made.clear()
    output = SimpleNamespace(isNull=lambda: not device)
    return SimpleNamespace(
        QMediaDevices=SimpleNamespace(defaultAudioOutput=lambda: output),
        QSoundEffect=SoundEffect,
    )
