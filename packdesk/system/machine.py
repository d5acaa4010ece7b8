"""What does this machine lack, in words, and what is the cure?"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from importlib import metadata, util
from pathlib import Path

from packdesk.desk.ports import Trouble
from packdesk.system.folders import Folders
from packdesk.system.libraries import Missing, missing_libraries, packages
from packdesk.system.screen import screen_trouble

PLAYERS = ("pw-play", "paplay", "aplay", "afplay")
"""Programs that play a sound file where the Qt sound module is not there."""

FONT_FOLDERS = (
    "/usr/share/fonts",
    "/usr/local/share/fonts",
    "~/.local/share/fonts",
    "~/.fonts",
    "/System/Library/Fonts",
    "C:/Windows/Fonts",
)
_FONT_ENDINGS = (".ttf", ".otf", ".ttc", ".pfb")


@dataclass(frozen=True, slots=True)
class Lack:
    """One thing that is not there, what that means, and what to do about it."""

    what: str
    meaning: str
    cure: str
    blocks: bool = False
    """True when the window cannot open before it is cured."""


def lacks(folders: Folders, environ: Mapping[str, str] | None = None) -> tuple[Lack, ...]:
    """Everything this machine lacks for PackDesk, what blocks the window first."""
    environ = os.environ if environ is None else environ
    found = (
        *binding_lacks(_version("PySide6-Essentials"), sys.version_info[:2]),
        *library_lacks(
            missing_libraries(window=True, wayland="WAYLAND_DISPLAY" in environ), _has_apt()
        ),
        *screen_lacks(screen_trouble(environ)),
        *folder_lacks(folders),
        *sound_lacks(environ),
        *font_lacks(FONT_FOLDERS),
        *awake_lacks(environ),
    )
    return tuple(sorted(found, key=lambda lack: not lack.blocks))


def binding_lacks(version: str, python: tuple[int, int]) -> Iterator[Lack]:
    """A Qt binding that is absent, or known to end this Python in the middle of a session."""
    if not version:
        yield Lack(
            "The Qt binding PySide6 is not installed.",
            "No window can open; planning on the command line works.",
            "Run: python3 resources/bootstrap.py run",
            blocks=True,
        )
    elif version == "6.12.0" and python < (3, 12):
        # WORKAROUND: upstream report PYSIDE-3474; the project file excludes this pair as well.
        yield Lack(
            f"PySide6 {version} loses references under Python {python[0]}.{python[1]}.",
            "The program would end by itself after some minutes.",
            'Run: pip install "PySide6-Essentials!=6.12.0"',
            blocks=True,
        )


def library_lacks(missing: tuple[Missing, ...], has_apt: bool) -> Iterator[Lack]:
    """System libraries that Qt cannot load."""
    if not missing:
        return
    names = ", ".join(gap.library for gap in missing)
    named = packages(missing)
    if has_apt and named:
        cure = f"Run as root: apt-get install -y --no-install-recommends {' '.join(named)}"
    else:
        cure = f"Install the packages of this system that hold {names}."
    yield Lack(f"Qt misses {names}.", "The window cannot open.", cure, blocks=True)


def screen_lacks(trouble: str) -> Iterator[Lack]:
    """No screen that a window could open on."""
    if trouble:
        yield Lack(
            trouble,
            "The window cannot open here; packdesk rehearse draws its pictures without one.",
            "Start PackDesk from a desktop, or set DISPLAY to a screen that answers.",
            blocks=True,
        )


def folder_lacks(folders: Folders) -> Iterator[Lack]:
    """A folder of this installation that cannot be made or written to."""
    try:
        folders.made()
    except Trouble as trouble:
        yield Lack(trouble.sentence, "Nothing can be recorded.", trouble.cure, blocks=True)


def sound_lacks(
    environ: Mapping[str, str],
    which: Callable[[str], str | None] = shutil.which,
    exists: Callable[[Path], bool] = Path.exists,
    system: str = sys.platform,
) -> Iterator[Lack]:
    """No way to ring: no sound device, or nothing that plays to it."""
    meaning = "Alarms are shown but cannot be heard."
    if system in ("win32", "darwin"):
        return
    runtime = Path(environ.get("XDG_RUNTIME_DIR", "/nonexistent"))
    served = environ.get("PULSE_SERVER") or any(
        exists(place)
        for place in (runtime / "pulse/native", runtime / "pipewire-0", Path("/proc/asound/card0"))
    )
    if not served:
        yield Lack(
            "No sound device was found.",
            meaning,
            "Plug in or switch on a loudspeaker, then test the alarm before you begin.",
        )
    elif not any(which(player) for player in PLAYERS) and not _version("PySide6-Addons"):
        yield Lack(
            "Nothing on this machine plays a sound file.",
            meaning,
            'Run: pip install "packdesk[sound]", or install pulseaudio-utils or alsa-utils.',
        )


def font_lacks(font_folders: tuple[str, ...]) -> Iterator[Lack]:
    """No typeface of our own, or none of the system's for other scripts."""
    if util.find_spec("font_source_sans_pro") is None:
        yield Lack(
            "The typeface of window and paper is not installed.",
            "Letters may be too wide for their labels.",
            "Run: pip install font-source-sans-pro",
        )
    if not any(_holds_font(Path(folder).expanduser()) for folder in font_folders):
        yield Lack(
            "This system has no fonts of its own.",
            "Names in scripts other than Latin, Greek and Cyrillic show as boxes.",
            "Run as root: apt-get install -y --no-install-recommends fonts-dejavu-core",
        )


def awake_lacks(environ: Mapping[str, str], system: str = sys.platform) -> Iterator[Lack]:
    """No desktop service that could be asked to stay awake."""
    if system.startswith("linux") and not environ.get("DBUS_SESSION_BUS_ADDRESS"):
        yield Lack(
            "There is no desktop session bus.",
            "This computer cannot be asked to stay awake; a sleeping computer rings no alarm.",
            "Start PackDesk from a desktop, or switch sleep off in the system's settings.",
        )


def _holds_font(folder: Path) -> bool:
    return any(
        name.lower().endswith(_FONT_ENDINGS) for _, _, names in os.walk(folder) for name in names
    )


def _version(distribution: str) -> str:
    try:
        return metadata.version(distribution)
    except metadata.PackageNotFoundError:
        return ""


def _has_apt() -> bool:
    return shutil.which("apt-get") is not None
