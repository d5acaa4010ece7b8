"""The three rhythms: told apart by beat, soft at the edges, in the range that is heard best."""

from __future__ import annotations

import wave
from pathlib import Path

import numpy as np
import pytest

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.tones import (
    PATTERNS,
    RATE_HZ,
    SoundFiles,
    cycle_bytes,
    length_s,
)


def samples(rhythm: Rhythm) -> np.ndarray:
    """One cycle as parts of full scale."""
    return np.frombuffer(cycle_bytes(rhythm), "<i2").astype(float) / 32768.0


def strokes_s(rhythm: Rhythm) -> list[float]:
    """How long each stroke of a cycle is, found in the sound itself to 10 ms."""
    step = RATE_HZ // 100
    sound = samples(rhythm)
    level = np.abs(sound[: len(sound) // step * step].reshape(-1, step)).max(axis=1)
    edges = np.flatnonzero(np.diff(np.r_[0, level > 0.0, 0]))
    return [(end - start) / 100.0 for start, end in zip(edges[::2], edges[1::2], strict=True)]


def test_the_rhythms_differ_in_their_beat() -> None:
    """Two slow strokes, short and long, six quick ones: known apart without hearing pitch."""
    assert strokes_s(Rhythm.WARNING) == pytest.approx([0.35, 0.35], abs=0.02)
    assert strokes_s(Rhythm.DUE) == pytest.approx([0.12, 0.45], abs=0.02)
    assert strokes_s(Rhythm.OVERDUE) == pytest.approx([0.11] * 6, abs=0.02)


@pytest.mark.parametrize("rhythm", Rhythm)
def test_no_rhythm_can_be_taken_for_the_evacuation_signal(rhythm: Rhythm) -> None:
    """None has three strokes of half a second (ISO 8201: 0.5 s ± 10 %) in a cycle."""
    assert not (len(strokes_s(rhythm)) == 3 and all(0.4 <= s <= 0.6 for s in strokes_s(rhythm)))


@pytest.mark.parametrize("rhythm", Rhythm)
def test_the_sound_lies_between_500_and_2000_hz(rhythm: Rhythm) -> None:
    """At least 99 % of the energy lies where small speakers and older ears are good."""
    power = np.abs(np.fft.rfft(samples(rhythm))) ** 2
    hz = np.fft.rfftfreq(len(samples(rhythm)), 1.0 / RATE_HZ)

    assert power[(hz >= 500.0) & (hz <= 2000.0)].sum() >= 0.99 * power.sum()


@pytest.mark.parametrize("rhythm", Rhythm)
def test_a_stroke_does_not_click(rhythm: Rhythm) -> None:
    """No step between samples is greater than the tone itself makes, edges and repeats included."""
    twice = np.tile(samples(rhythm), 2)
    turn = 2.0 * np.pi * PATTERNS[rhythm].pitch_hz / RATE_HZ
    steepest = (0.6 + 0.4 * 2.0) * turn  # both partials at their steepest together

    assert np.abs(np.diff(twice)).max() <= 1.02 * steepest
    assert twice[0] == twice[-1] == 0.0


@pytest.mark.parametrize("rhythm", Rhythm)
def test_the_sound_is_loud_and_not_cut_off(rhythm: Rhythm) -> None:
    """The strongest sample comes near full scale and does not reach it."""
    assert 0.8 <= np.abs(samples(rhythm)).max() < 0.99


def test_a_ring_lasts_twenty_seconds_a_warning_less() -> None:
    """What is due rings about 20 s at a time; a warning is over in under 10 s."""
    assert length_s(Rhythm.DUE) == pytest.approx(20.0, abs=1.0)
    assert length_s(Rhythm.OVERDUE) == pytest.approx(20.0, abs=1.0)
    assert length_s(Rhythm.WARNING) < 10.0


@pytest.mark.parametrize("rhythm", Rhythm)
def test_a_file_holds_as_many_cycles_as_asked(rhythm: Rhythm, tmp_path: Path) -> None:
    """A file is a WAV of one channel as long as its cycles."""
    with wave.open(str(SoundFiles(tmp_path).path(rhythm, 3))) as sound:
        assert sound.getnchannels() == 1
        assert sound.getnframes() / sound.getframerate() == pytest.approx(
            3 * PATTERNS[rhythm].cycle_s, abs=0.001
        )


def test_a_file_is_made_once(tmp_path: Path) -> None:
    """What lies in the folder is used again, and nothing half made is left beside it."""
    files = SoundFiles(tmp_path / "sounds")
    first = files.path(Rhythm.DUE, 1)
    made = first.stat().st_mtime_ns

    assert files.path(Rhythm.DUE, 1) == first
    assert first.stat().st_mtime_ns == made
    assert [path.name for path in (tmp_path / "sounds").iterdir()] == [first.name]


def test_a_given_folder_is_kept_and_a_borrowed_one_taken_away(tmp_path: Path) -> None:
    """Closing leaves the files of a given folder and removes those of its own."""
    kept, own = SoundFiles(tmp_path), SoundFiles()
    kept_file, own_file = kept.path(Rhythm.WARNING, 1), own.path(Rhythm.WARNING, 1)
    kept.close()
    own.close()

    assert kept_file.exists()
    assert not own_file.parent.exists()


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    """Where a file is in the way the error of the system comes through."""
    (tmp_path / "sounds").write_text("in the way")

    with pytest.raises(OSError, match="sounds"):
        SoundFiles(tmp_path / "sounds").path(Rhythm.DUE, 1)
