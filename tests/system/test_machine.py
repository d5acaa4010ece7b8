from __future__ import annotations

from pathlib import Path

import pytest

from packdesk.system import machine
from packdesk.system.folders import HOME, Folders, find_folders
from packdesk.system.libraries import Missing


def in_folder(folder: Path) -> Folders:
    """All folders of an installation inside one."""
    return find_folders({HOME: str(folder)})


def test_every_lack_has_its_cure(tmp_path: Path) -> None:
    """On whatever machine the tests run, each lack is three sentences, the blocking ones first."""
    found = machine.lacks(in_folder(tmp_path), {})

    assert all(lack.what and lack.meaning and lack.cure for lack in found)
    blocking = [lack.blocks for lack in found]
    assert blocking == sorted(blocking, reverse=True)
    assert any("no screen" in lack.what for lack in found)


def test_a_binding_that_ends_old_pythons_blocks() -> None:
    """PYSIDE-3474: one release of the binding must not run below Python 3.12."""
    assert [lack.blocks for lack in machine.binding_lacks("6.12.0", (3, 11))] == [True]
    assert list(machine.binding_lacks("6.12.0", (3, 12))) == []
    assert list(machine.binding_lacks("6.11.3", (3, 11))) == []
    assert [lack.blocks for lack in machine.binding_lacks("", (3, 11))] == [True]


def test_missing_libraries_come_with_the_line_to_type() -> None:
    """With apt the line names packages; elsewhere the libraries themselves are named."""
    missing = (Missing("libEGL.so.1", "libegl1"), Missing("libGL.so.1", "libgl1"))

    (with_apt,) = machine.library_lacks(missing, has_apt=True)
    (without,) = machine.library_lacks(missing, has_apt=False)

    assert with_apt.cure.endswith("apt-get install -y --no-install-recommends libegl1 libgl1")
    assert "libEGL.so.1, libGL.so.1" in without.cure
    assert list(machine.library_lacks((), has_apt=True)) == []


def test_a_screen_that_answers_is_no_lack() -> None:
    """Only trouble with the screen is told."""
    assert list(machine.screen_lacks("")) == []
    assert [lack.what for lack in machine.screen_lacks("No screen.")] == ["No screen."]


def test_a_folder_in_the_way_blocks(tmp_path: Path) -> None:
    """A record book that cannot be written is told before the first session."""
    (tmp_path / "data").write_text("")

    (found,) = machine.folder_lacks(in_folder(tmp_path))

    assert found.blocks
    assert HOME in found.cure


def test_sound_needs_a_device_and_a_player(monkeypatch: pytest.MonkeyPatch) -> None:
    """A device without a player, or no device at all, cannot ring."""
    monkeypatch.setattr(machine, "_version", lambda distribution: "")
    served = {"PULSE_SERVER": "unix:/run/pulse"}

    def sound(environ: dict[str, str], player: str | None) -> list[str]:
        found = machine.sound_lacks(environ, lambda name: player, lambda place: False, "linux")
        return [lack.what for lack in found]

    assert sound({}, "paplay") == ["No sound device was found."]
    assert sound(served, "paplay") == []
    assert sound(served, None) == ["Nothing on this machine plays a sound file."]
    assert list(machine.sound_lacks({}, lambda name: None, lambda place: False, "win32")) == []


def test_a_font_file_anywhere_below_is_enough(tmp_path: Path) -> None:
    """The system has fonts once one file is found."""
    nothing = [lack.what for lack in machine.font_lacks((str(tmp_path),))]
    deep = tmp_path / "truetype" / "plain"
    deep.mkdir(parents=True)
    (deep / "Plain.TTF").write_bytes(b"")

    assert nothing == ["This system has no fonts of its own."]
    assert list(machine.font_lacks((str(tmp_path),))) == []


def test_without_a_session_bus_the_machine_cannot_be_kept_awake() -> None:
    """On Linux the desktop's bus is what can be asked."""
    bus = {"DBUS_SESSION_BUS_ADDRESS": "unix:path=/run/bus"}

    assert len(list(machine.awake_lacks({}, "linux"))) == 1
    assert list(machine.awake_lacks(bus, "linux")) == []
    assert list(machine.awake_lacks({}, "darwin")) == []
