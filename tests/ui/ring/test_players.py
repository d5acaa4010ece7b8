"""Each way of making a sound says whether it could, and falls silent when told."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.players import BeepPlayer, ProgramPlayer, QtPlayer, WindowsPlayer
from packdesk.ui.ring.tones import PATTERNS, SoundFiles, length_s
from tests.ui.ring.fake_sound import SoundEffect, sound_module


@pytest.fixture
def files(tmp_path: Path) -> SoundFiles:
    """Sound files in a folder of the test."""
    return SoundFiles(tmp_path)


def absent(name: str) -> ModuleType:
    """Load nothing, as where a module is not installed."""
    raise ImportError(name)


# Qt's sound module --------------------------------------------------------------------------------


@pytest.fixture
def qt(files: SoundFiles) -> QtPlayer:
    """The player by Qt's sound module, on an invented module with a loudspeaker."""
    module = sound_module()
    return QtPlayer(files, load=lambda _: module)


def failures(player: QtPlayer | ProgramPlayer) -> list[str]:
    """What the player tells after its start."""
    told: list[str] = []
    player.failed.connect(told.append)
    return told


def test_without_the_sound_module_it_says_so(files: SoundFiles) -> None:
    """The module is an extra; a machine without it is no error."""
    assert QtPlayer(files, load=absent).play(Rhythm.DUE, 1.0) == "is not installed"


def test_without_a_device_it_says_so(files: SoundFiles) -> None:
    """Qt makes an effect even where there is no loudspeaker, so the device is asked for first."""
    module = sound_module(device=False)
    player = QtPlayer(files, load=lambda _: module)

    assert player.play(Rhythm.DUE, 1.0) == "finds no sound device"
    assert SoundEffect.made == []


def test_it_plays_one_cycle_as_often_as_the_ring_has(qt: QtPlayer) -> None:
    """The effect gets the file of one cycle, its count as a plain number, and the volume."""
    assert qt.play(Rhythm.OVERDUE, 0.75) == ""
    (effect,) = SoundEffect.made

    assert Path(effect.url).exists()
    assert (effect.cycles, effect.level) == (PATTERNS[Rhythm.OVERDUE].cycles, 0.75)
    assert effect.isPlaying()


def test_an_effect_in_error_is_told(qt: QtPlayer) -> None:
    """Qt tells of a device it cannot play to by a state alone."""
    told = failures(qt)
    qt.play(Rhythm.DUE, 1.0)
    SoundEffect.made[0].go_wrong()

    assert told == ["could not play its file"]


def test_an_effect_that_ends_early_is_told(qt: QtPlayer) -> None:
    """Silence in the middle of a ring is a failure, silence at its end is not."""
    told = failures(qt)
    qt.play(Rhythm.DUE, 1.0)
    SoundEffect.made[0].left = 1
    qt.tick(length_s(Rhythm.DUE))
    SoundEffect.made[0].fall_silent()
    assert told == []

    qt.stop()
    qt.play(Rhythm.DUE, 1.0)
    qt.tick(1.0)
    SoundEffect.made[1].fall_silent()
    assert told == ["fell silent by itself"]


def test_an_effect_that_stands_still_is_told_and_not_trusted_again(qt: QtPlayer) -> None:
    """Without a sound server Qt says it plays, but no cycle ever ends, in this ring or a later."""
    told = failures(qt)
    qt.play(Rhythm.DUE, 1.0)
    cycle_s = PATTERNS[Rhythm.DUE].cycle_s
    SoundEffect.made[0].left -= 1
    qt.tick(2.0 * cycle_s)
    assert told == []

    qt.tick(2.0 * cycle_s + 3.0)

    assert told == ["stands still"]
    assert qt.play(Rhythm.DUE, 1.0) == "stood still before"


def test_an_effect_that_goes_on_is_left_alone(qt: QtPlayer) -> None:
    """While one cycle after another ends, no beat finds a fault."""
    told = failures(qt)
    qt.play(Rhythm.DUE, 1.0)
    pattern = PATTERNS[Rhythm.DUE]
    for beat in range(40):
        SoundEffect.made[0].left = pattern.cycles - int(beat * 0.5 / pattern.cycle_s)
        qt.tick(beat * 0.5)

    assert told == []


def test_a_stopped_effect_tells_nothing_more(qt: QtPlayer) -> None:
    """What Qt signals after a stop reaches nobody."""
    told = failures(qt)
    qt.play(Rhythm.DUE, 1.0)
    (effect,) = SoundEffect.made
    qt.stop()
    effect.go_wrong()
    effect.fall_silent()
    qt.tick(60.0)

    assert told == []
    assert not effect.isPlaying()


# Programs -----------------------------------------------------------------------------------------


def program(files: SoundFiles, code: str) -> ProgramPlayer:
    """A player by a program that runs a line of Python, the sound file its argument."""
    return ProgramPlayer(
        "horn", lambda file, part: ["-c", code, file, f"{part}"], files, which=lambda _: _PYTHON
    )


_PYTHON = sys.executable


def test_a_program_that_is_not_there_is_told(files: SoundFiles) -> None:
    """A name that the system does not know is answered at once."""
    player = ProgramPlayer("horn", lambda file, _: [file], files, which=lambda _: None)

    assert player.play(Rhythm.DUE, 1.0) == "is not installed"


def test_a_program_that_fails_tells_its_last_words(files: SoundFiles, qtbot: QtBot) -> None:
    """With an exit status of failure the last line it wrote is passed on."""
    player = program(files, "import sys; sys.exit('first\\nno loudspeaker')")
    with qtbot.waitSignal(player.failed) as failed:
        assert player.play(Rhythm.DUE, 1.0) == ""

    assert failed.args == ["could not play (no loudspeaker)"]


def test_a_program_that_fails_without_a_word_tells_its_status(
    files: SoundFiles, qtbot: QtBot
) -> None:
    """A silent failure is told by its number."""
    player = program(files, "raise SystemExit(3)")
    with qtbot.waitSignal(player.failed) as failed:
        player.play(Rhythm.DUE, 1.0)

    assert failed.args == ["could not play (exit status 3)"]


def test_a_program_that_ends_at_once_did_not_play(files: SoundFiles, qtbot: QtBot) -> None:
    """Success after a moment is no ring of twenty seconds."""
    player = program(files, "pass")
    with qtbot.waitSignal(player.failed) as failed:
        player.play(Rhythm.DUE, 1.0)

    assert failed.args == ["fell silent by itself"]


def test_a_program_gets_a_whole_ring_to_play(files: SoundFiles, qtbot: QtBot) -> None:
    """The file named to it lasts as long as the ring, and the volume is handed on."""
    code = "import sys, wave; w = wave.open(sys.argv[1]); "
    code += "sys.exit(f'{w.getnframes() / w.getframerate():.1f} s at {sys.argv[2]}')"
    player = program(files, code)
    with qtbot.waitSignal(player.failed) as failed:
        player.play(Rhythm.DUE, 0.5)

    assert failed.args == [f"could not play ({length_s(Rhythm.DUE):.1f} s at 0.5)"]


def test_a_program_that_cannot_be_started_is_told(
    files: SoundFiles, tmp_path: Path, qtbot: QtBot
) -> None:
    """A file that is no program is found out when it is started."""
    player = ProgramPlayer(
        "horn", lambda file, _: [file], files, which=lambda _: str(tmp_path / "gone")
    )
    told = failures(player)
    answered = player.play(Rhythm.DUE, 1.0)
    qtbot.waitUntil(lambda: bool(answered or told))

    assert [words for words in (answered, *told) if words] == ["could not be started"]


def test_a_stopped_program_is_gone(files: SoundFiles, qapp: QApplication) -> None:
    """Stopping ends the program at once and is not taken for a failure."""
    player = program(files, "import time; time.sleep(60)")
    told = failures(player)
    player.play(Rhythm.DUE, 1.0)
    process = player.findChildren(object)[0]
    player.stop()

    assert process.state() == process.ProcessState.NotRunning
    qapp.processEvents()
    assert told == []


# Windows, and the beep ----------------------------------------------------------------------------


def windows(play: Callable[..., None]) -> SimpleNamespace:
    """An invented sound module of the standard library on Windows."""
    return SimpleNamespace(SND_FILENAME=1, SND_ASYNC=2, SND_NODEFAULT=4, PlaySound=play)


def test_windows_plays_the_file_beside_the_program(files: SoundFiles) -> None:
    """The file is played while the program goes on, and stopped by playing nothing."""
    asked: list[tuple[str | None, int]] = []
    player = WindowsPlayer(files, load=lambda _: windows(lambda *what: asked.append(what)))

    assert player.play(Rhythm.DUE, 1.0) == ""
    player.stop()

    assert asked[0] == (str(files.path(Rhythm.DUE, PATTERNS[Rhythm.DUE].cycles)), 1 | 2 | 4)
    assert asked[1] == (None, 0)


def test_windows_without_a_device_is_told(files: SoundFiles) -> None:
    """The library's error becomes words."""

    def refuse(*_: object) -> None:
        raise RuntimeError("Failed to play sound")

    player = WindowsPlayer(files, load=lambda _: windows(refuse))

    assert player.play(Rhythm.DUE, 1.0) == "could not play its file"


def test_elsewhere_there_is_no_sound_service_of_windows(files: SoundFiles) -> None:
    """Without the library the player says so."""
    assert WindowsPlayer(files, load=absent).play(Rhythm.DUE, 1.0) == "is not installed"


@pytest.mark.parametrize(
    ("rhythm", "beats"),
    [
        (Rhythm.WARNING, "x.....x....."),
        (Rhythm.DUE, "xx..xx..xx.."),
        (Rhythm.OVERDUE, "xxxxx.xxxxx."),
    ],
)
def test_the_beep_keeps_the_rhythms_apart(rhythm: Rhythm, beats: str) -> None:
    """Beat by beat the beep strokes or rests, differently for each rhythm."""
    strokes: list[None] = []
    player = BeepPlayer(stroke=lambda: strokes.append(None))
    heard, before = "", 0
    player.play(rhythm, 1.0)
    for beat in range(12):
        player.tick(beat * 0.5)
        heard += "x" if len(strokes) > before else "."
        before = len(strokes)

    assert heard == beats


def test_a_stopped_beep_is_silent() -> None:
    """After a stop no beat strokes."""
    strokes: list[None] = []
    player = BeepPlayer(stroke=lambda: strokes.append(None))
    player.play(Rhythm.OVERDUE, 1.0)
    player.stop()
    player.tick(1.0)

    assert len(strokes) == 1


def test_a_platform_without_a_beep_says_so() -> None:
    """Offscreen there is no beep; one that does nothing is not taken for a sound."""
    assert BeepPlayer().play(Rhythm.DUE, 1.0) == "is not there"


def test_a_file_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    """A player of files says that it has none to play when the folder is not to be had."""
    (tmp_path / "sounds").write_text("in the way")
    module = sound_module()
    player = QtPlayer(SoundFiles(tmp_path / "sounds"), load=lambda _: module)

    assert player.play(Rhythm.DUE, 1.0) == "has no sound file to play (File exists)"
