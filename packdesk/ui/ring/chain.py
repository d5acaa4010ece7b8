"""The players in the order in which they are tried, and the fall from one to the next."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from PySide6.QtCore import QObject, Signal

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.player import Player
from packdesk.ui.ring.players import BeepPlayer, ProgramPlayer, QtPlayer, WindowsPlayer
from packdesk.ui.ring.tones import SoundFiles

UNHEARD = (
    "No alarm can be heard from this computer; it shows alarms in the window alone. "
    "Keep a kitchen timer beside the work."
)
UNSURE = (
    "Only the desktop's beep is left for alarms, and many computers do not let it be heard. "
    "Keep a kitchen timer beside the work."
)


def default_players(files: SoundFiles, system: str = sys.platform) -> tuple[Player, ...]:
    """What is tried on `system` (as `sys.platform` names it), the best first.

    A volume is a part of full amplitude; paplay takes the cube root of it, in 65536ths.
    """
    if system == "win32":
        between: tuple[Player, ...] = (WindowsPlayer(files),)
    elif system == "darwin":
        between = (ProgramPlayer("afplay", lambda file, part: ["-v", f"{part:.2f}", file], files),)
    else:
        between = (
            ProgramPlayer("pw-play", lambda file, part: ["--volume", f"{part:.2f}", file], files),
            ProgramPlayer(
                "paplay",
                lambda file, part: [f"--volume={round(65536 * part ** (1 / 3))}", file],
                files,
            ),
            ProgramPlayer("aplay", lambda file, _: ["-q", file], files),
        )
    return (QtPlayer(files), *between, BeepPlayer())


class Chain(QObject):
    """Plays a rhythm with the first player that can, and goes on to the next when one fails.

    Every ring begins with the best again, since a loudspeaker may have been plugged in.

    Signals:
        settled: words to show when no player is left, or only one of which nobody knows
            whether it is heard; empty when a sure one plays.
    """

    settled = Signal(str)

    def __init__(self, players: Sequence[Player], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._players = tuple(players)
        self._place = 0
        self._rhythm, self._volume = Rhythm.DUE, 1.0
        self._elapsed_s = self._began_s = 0.0
        self.playing: Player | None = None
        self.tried: tuple[str, ...] = ()
        for player in self._players:
            player.setParent(self)
            player.failed.connect(self._on_failed)

    def play(self, rhythm: Rhythm, volume: float) -> None:
        """Sound `rhythm` once through at a part of full amplitude (0 to 1)."""
        self.stop()
        self._rhythm, self._volume = rhythm, volume
        self._place, self.tried = 0, ()
        self._elapsed_s = 0.0
        self._next()

    def tick(self, elapsed_s: float) -> None:
        """Half a second later; `elapsed_s` since the ring began."""
        self._elapsed_s = elapsed_s
        if self.playing is not None:
            self.playing.tick(elapsed_s - self._began_s)

    def stop(self) -> None:
        """Be silent at once."""
        playing, self.playing = self.playing, None
        if playing is not None:
            playing.stop()

    def tried_words(self) -> str:
        """Which players could not play, and why: one sentence, or nothing."""
        return f"Tried before: {'; '.join(self.tried)}." if self.tried else ""

    def _next(self) -> None:
        while self._place < len(self._players):
            player = self._players[self._place]
            self._place += 1
            self._began_s = self._elapsed_s
            why = player.play(self._rhythm, self._volume)
            if not why:
                self.playing = player
                self.settled.emit("" if player.heard_for_sure else UNSURE)
                return
            self.tried = (*self.tried, f"{player.name} {why}")
        self.settled.emit(UNHEARD)

    def _on_failed(self, why: str) -> None:
        player, self.playing = self.playing, None
        if player is None:
            return
        self.tried = (*self.tried, f"{player.name} {why}")
        self._next()
