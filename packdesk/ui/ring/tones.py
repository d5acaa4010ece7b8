"""The three rhythms as sound files: strokes of a soft double tone, made when first needed."""

from __future__ import annotations

import math
import os
import shutil
import sys
import tempfile
import wave
import zlib
from array import array
from dataclasses import dataclass
from pathlib import Path

from packdesk.present.alarm_words import Rhythm

RATE_HZ = 44_100
ATTACK_S, RELEASE_S = 0.012, 0.040
"""A stroke swells and fades along half a cosine, so that it does not click."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """One rhythm: (sound, silence) in seconds for each stroke of a cycle, and how many cycles.

    `pitch_hz` sounds with its octave; both lie between 500 and 2000 Hz, where small speakers
    are not yet weak and older ears hear well (common practice, no source).
    """

    strokes_s: tuple[tuple[float, float], ...]
    pitch_hz: float
    cycles: int

    @property
    def cycle_s(self) -> float:
        """How long one cycle lasts."""
        return sum(sound + silence for sound, silence in self.strokes_s)


# Three even strokes and a pause are kept for fire: the evacuation signal of ISO 8201 is three
# times 0.5 s on and 0.5 s off, then 1.5 s of silence (quoted so in the explanatory notes to the
# Ontario building code, A-3.2.4.18.(2)). None of these may be taken for it.
PATTERNS = {
    Rhythm.WARNING: Pattern(((0.35, 0.15), (0.35, 1.65)), 620.0, 3),
    Rhythm.DUE: Pattern(((0.12, 0.12), (0.45, 1.11)), 784.0, 11),
    Rhythm.OVERDUE: Pattern((*(((0.11, 0.07),) * 5), (0.11, 0.59)), 960.0, 12),
}
"""Two slow strokes; short-long; six quick ones."""


def length_s(rhythm: Rhythm) -> float:
    """How long one ring of `rhythm` lasts (s): some 20 s, a warning 7.5 s."""
    pattern = PATTERNS[rhythm]
    return pattern.cycles * pattern.cycle_s


def cycle_bytes(rhythm: Rhythm) -> bytes:
    """One cycle of `rhythm` as 16-bit samples, one channel; it can follow itself."""
    pattern = PATTERNS[rhythm]
    made: dict[float, bytes] = {}
    cycle = bytearray()
    for sound_s, silence_s in pattern.strokes_s:
        if sound_s not in made:
            made[sound_s] = _stroke(pattern.pitch_hz, sound_s)
        cycle += made[sound_s] + bytes(2 * round(silence_s * RATE_HZ))
    return bytes(cycle)


def _stroke(pitch_hz: float, sound_s: float) -> bytes:
    count = round(sound_s * RATE_HZ)
    turn = 2.0 * math.pi * pitch_hz / RATE_HZ
    samples = array("h", bytes(2 * count))
    for i in range(count):
        swell = min(i / (ATTACK_S * RATE_HZ), (count - 1 - i) / (RELEASE_S * RATE_HZ), 1.0)
        # the two never add up to full scale
        tone = 0.6 * math.sin(turn * i) + 0.4 * math.sin(2.0 * turn * i)
        samples[i] = round(32767 * tone * (1.0 - math.cos(math.pi * swell)) / 2.0)
    if sys.byteorder == "big":
        samples.byteswap()
    return samples.tobytes()


class SoundFiles:
    """The rhythms as files in `folder`, or in a folder of their own that `close` takes away.

    A file is written beside its place and moved there, so that a full disk or a second program
    never leaves half of one; its name carries a check of the pattern, so that a changed rhythm
    is made anew.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = folder
        self._own = folder is None

    def path(self, rhythm: Rhythm, cycles: int) -> Path:
        """The file of so many cycles; raises `OSError` when it can neither be found nor made."""
        folder = self._ready_folder()
        check = zlib.crc32(repr((PATTERNS[rhythm], RATE_HZ, ATTACK_S, RELEASE_S)).encode())
        path = folder / f"{rhythm}-{cycles}-{check:08x}.wav"
        if not path.exists():
            part = path.with_suffix(f".{os.getpid()}.part")
            try:
                _write(part, cycle_bytes(rhythm) * cycles)
                part.replace(path)
            finally:
                part.unlink(missing_ok=True)
        return path

    def close(self) -> None:
        """Take away a folder that was made here."""
        if self._own and self._folder is not None:
            shutil.rmtree(self._folder, ignore_errors=True)
            self._folder = None

    def _ready_folder(self) -> Path:
        if self._folder is None:
            self._folder = Path(tempfile.mkdtemp(prefix="packdesk-"))
        self._folder.mkdir(parents=True, exist_ok=True)
        return self._folder


def _write(path: Path, samples: bytes) -> None:
    with path.open("wb") as file, wave.open(file) as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE_HZ)
        sound.writeframes(samples)
