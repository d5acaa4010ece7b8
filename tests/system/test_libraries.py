from __future__ import annotations

import sys
from pathlib import Path

import pytest

from packdesk.system import libraries
from packdesk.system.libraries import Missing, missing_libraries, not_found, packages

LISTING = """\
\tlinux-vdso.so.1 (0x00007ffc)
\tlibGL.so.1 => not found
\tlibQt6Gui.so.6 => /opt/lib/libQt6Gui.so.6 (0x00007f00)
\tlibxcb-cursor.so.0 => not found
\tlibc.so.6 => /lib/libc.so.6 (0x00007f00)
"""


@pytest.fixture(autouse=True)
def on_linux(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A Linux machine with a binding in a folder of its own."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(libraries, "binding_folder", lambda: tmp_path)


def test_the_loaders_listing_is_read() -> None:
    """Only what the loader marks as missing is taken, once a line."""
    assert not_found(LISTING) == ["libGL.so.1", "libxcb-cursor.so.0"]
    assert not_found("\tnot a dynamic executable\n") == []


def test_a_library_missed_by_many_parts_is_told_once() -> None:
    """Each missing library comes with the package that brings it."""
    found = missing_libraries(window=True, ask=lambda part: LISTING)

    assert found == (
        Missing("libGL.so.1", "libgl1"),
        Missing("libxcb-cursor.so.0", "libxcb-cursor0"),
    )


def test_work_without_a_screen_does_not_need_the_windows_libraries() -> None:
    """The window's plugin is asked about only where a window is wanted."""

    def ask(part: Path) -> str:
        return LISTING if part.name == "libqxcb.so" else ""

    assert missing_libraries(window=False, ask=ask) == ()
    assert len(missing_libraries(window=True, ask=ask)) == 2


def test_wayland_is_asked_about_where_it_is_used() -> None:
    """A machine under X alone is not told to install Wayland's libraries."""

    def ask(part: Path) -> str:
        return "\tlibwayland-cursor.so.0 => not found\n" if "wayland" in part.name else ""

    assert missing_libraries(window=True, ask=ask) == ()
    assert packages(missing_libraries(window=True, wayland=True, ask=ask)) == (
        "libwayland-cursor0",
    )


def test_an_unknown_library_is_still_told() -> None:
    """A library that we have no package for is named and brings no package."""
    found = missing_libraries(window=False, ask=lambda part: "\tlibnew.so.9 => not found\n")

    assert found == (Missing("libnew.so.9", ""),)
    assert packages(found) == ()


def test_two_libraries_of_one_package_need_it_once() -> None:
    """The line to type names every package once, in a fixed order."""
    gaps = [
        Missing("libgthread-2.0.so.0", "libglib2.0-0"),
        Missing("libglib-2.0.so.0", "libglib2.0-0"),
        Missing("libEGL.so.1", "libegl1"),
    ]

    assert packages(gaps) == ("libegl1", "libglib2.0-0")


def test_elsewhere_nothing_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows and macOS bring Qt's libraries with the binding."""
    monkeypatch.setattr(sys, "platform", "win32")

    assert missing_libraries(window=True, ask=lambda part: LISTING) == ()


def test_the_real_loader_is_asked_about_a_real_library() -> None:
    """The loader lists what this interpreter was linked to, and misses nothing of it."""
    told = libraries._loader_says(Path(sys.executable).resolve())

    assert "libc.so" in told
    assert not_found(told) == []
