"""Ways to make a rhythm heard on this machine; sound module, program, service, beep."""

from __future__ import annotations

import contextlib
import importlib
import shutil
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

from PySide6.QtCore import QObject, QProcess, QUrl
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.player import FilePlayer, Player
from packdesk.ui.ring.tones import PATTERNS, SoundFiles

PATIENCE_S = 2.5
"""A player that is this far behind its rhythm is given up."""

BEEPS_ON = frozenset({"xcb", "windows", "cocoa"})
"""Qt's platforms that have a beep at all; whether it is heard the desktop decides."""

BEEP_EVERY_S = 0.5
BEEPS = {
    Rhythm.WARNING: (True, False, False, False, False, False),
    Rhythm.DUE: (True, True, False, False),
    Rhythm.OVERDUE: (True, True, True, True, True, False),
}
"""The rhythms in half seconds, the beat of the window's clock."""


class QtPlayer(FilePlayer):
    """Qt's own sound effects; the module is an extra, and a device may be lacking.

    It plays cycle by cycle, and the count of cycles left is watched: when the sound server ends,
    Qt goes on to say that it plays, in that ring and in every later one (seen with Qt 6.11).
    """

    name = "Qt's sound module"
    loops = True

    def __init__(
        self,
        files: SoundFiles,
        parent: QObject | None = None,
        load: Callable[[str], ModuleType] = importlib.import_module,
    ) -> None:
        super().__init__(files, parent)
        self._load = load
        self._effect: Any = None
        self._stood_still = False

    def _play_file(self, path: Path, volume: float) -> None:
        if self._stood_still:
            self._fail("stood still before")
            return
        try:
            # ImportError also where the module is there and libpulse is not
            sound = self._load("PySide6.QtMultimedia")
        except ImportError:
            self._fail("is not installed")
            return
        device = sound.QMediaDevices.defaultAudioOutput()
        if device.isNull():
            self._fail("finds no sound device")
            return
        self._effect = effect = sound.QSoundEffect(device, self)
        effect.statusChanged.connect(self._on_status)
        effect.playingChanged.connect(self._on_playing)
        effect.setVolume(volume)
        effect.setLoopCount(PATTERNS[self._rhythm].cycles)
        effect.setSource(QUrl.fromLocalFile(str(path)))
        effect.play()

    def tick(self, elapsed_s: float) -> None:
        super().tick(elapsed_s)
        if self._effect is None:
            return
        if not self._effect.isPlaying():
            self._on_playing()
            return
        pattern = PATTERNS[self._rhythm]
        cycles_begun = pattern.cycles - self._effect.loopsRemaining() + 1
        if elapsed_s > PATIENCE_S + cycles_begun * pattern.cycle_s:
            self._stood_still = True
            self._fail("stands still")

    def stop(self) -> None:
        effect, self._effect = self._effect, None
        if effect is not None:
            effect.statusChanged.disconnect(self._on_status)
            effect.playingChanged.disconnect(self._on_playing)
            effect.stop()
            effect.deleteLater()

    def _on_status(self) -> None:
        # an Error is told in no other way: no exception, no signal of its own
        if self._effect is not None and self._effect.status() == type(self._effect).Status.Error:
            self._fail("could not play its file")

    def _on_playing(self) -> None:
        effect = self._effect
        if effect is not None and not effect.isPlaying() and self.ended_early:
            self._fail("fell silent by itself")


class ProgramPlayer(FilePlayer):
    """A program of the system that plays a sound file and ends."""

    def __init__(
        self,
        name: str,
        arguments: Callable[[str, float], list[str]],
        files: SoundFiles,
        parent: QObject | None = None,
        which: Callable[[str], str | None] = shutil.which,
    ) -> None:
        super().__init__(files, parent)
        self.name = name
        self._arguments = arguments
        self._which = which
        self._process: QProcess | None = None

    def _play_file(self, path: Path, volume: float) -> None:
        program = self._which(self.name)
        if program is None:
            self._fail("is not installed")
            return
        self._process = process = QProcess(self)
        process.setStandardInputFile(QProcess.nullDevice())
        process.setStandardOutputFile(QProcess.nullDevice())
        process.errorOccurred.connect(self._on_error)
        process.finished.connect(self._on_finished)
        process.start(program, self._arguments(str(path), volume))

    def stop(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.errorOccurred.disconnect(self._on_error)
        process.finished.disconnect(self._on_finished)
        if process.state() != QProcess.ProcessState.NotRunning:
            process.kill()
            process.waitForFinished(200)
        process.deleteLater()

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error == QProcess.ProcessError.FailedToStart:
            self._fail("could not be started")

    def _on_finished(self, code: int, status: QProcess.ExitStatus) -> None:
        process = self._process
        if process is None:
            return
        said = bytes(process.readAllStandardError().data()).decode(errors="replace").split("\n")
        reason = next((line.strip() for line in reversed(said) if line.strip()), "")
        if code != 0 or status == QProcess.ExitStatus.CrashExit:
            self._fail(f"could not play ({reason or f'exit status {code}'})")
        elif self.ended_early:
            self._fail("fell silent by itself")
        else:
            self.stop()


class WindowsPlayer(FilePlayer):
    """The sound service of Windows by the standard library; full volume only."""

    name = "the sound service of Windows"

    def __init__(
        self,
        files: SoundFiles,
        parent: QObject | None = None,
        load: Callable[[str], ModuleType] = importlib.import_module,
    ) -> None:
        super().__init__(files, parent)
        self._load = load
        self._sound: Any = None

    def _play_file(self, path: Path, volume: float) -> None:
        try:
            sound = self._load("winsound")
            flags = sound.SND_FILENAME | sound.SND_ASYNC | sound.SND_NODEFAULT
            sound.PlaySound(str(path), flags)
        except ImportError:
            self._fail("is not installed")
        except RuntimeError:
            self._fail("could not play its file")
        else:
            self._sound = sound

    def stop(self) -> None:
        sound, self._sound = self._sound, None
        if sound is not None:
            with contextlib.suppress(RuntimeError):
                sound.PlaySound(None, 0)


class BeepPlayer(Player):
    """The desktop's beep in the rhythm's beat: better than nothing, where it is let sound."""

    name = "the desktop's beep"
    heard_for_sure = False

    def __init__(
        self, parent: QObject | None = None, stroke: Callable[[], None] | None = None
    ) -> None:
        super().__init__(parent)
        self._stroke = stroke
        self._beat: int | None = None

    def _begin(self, rhythm: Rhythm, volume: float) -> None:
        if self._stroke is None and QGuiApplication.platformName() not in BEEPS_ON:
            self._fail("is not there")
            return
        self._beat = 0
        self._beep()

    def tick(self, elapsed_s: float) -> None:
        beat = int(elapsed_s / BEEP_EVERY_S)
        if self._beat is None or beat <= self._beat:
            return
        self._beat = beat
        pattern = BEEPS[self._rhythm]
        if pattern[beat % len(pattern)]:
            self._beep()

    def stop(self) -> None:
        self._beat = None

    def _beep(self) -> None:
        (self._stroke or QApplication.beep)()
