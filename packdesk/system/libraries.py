"""Which shared libraries of the system does the Qt binding miss, and what brings them?"""

from __future__ import annotations

import importlib.util
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

_OFFSCREEN_PARTS = (
    *(f"{name}.abi3.so" for name in ("QtCore", "QtGui", "QtWidgets", "QtSvg", "QtPrintSupport")),
    *(f"{name}.abi3.so" for name in ("QtNetwork", "QtDBus", "QtMultimedia")),
    "Qt/plugins/platforms/libqoffscreen.so",
)
_X_PART = "Qt/plugins/platforms/libqxcb.so"
_WAYLAND_PART = "Qt/plugins/platforms/libqwayland.so"

# Debian's name for the package that holds each library. Tried on bookworm; trixie renamed some
# by an ending "t64" for the change to 64-bit time, which whoever installs has to try as well.
DEBIAN_PACKAGES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libGLX.so.0": "libglx0",
    "libGLdispatch.so.0": "libglvnd0",
    "libOpenGL.so.0": "libopengl0",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libX11.so.6": "libx11-6",
    "libXrandr.so.2": "libxrandr2",
    "libdbus-1.so.3": "libdbus-1-3",
    "libexpat.so.1": "libexpat1",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libpulse-mainloop-glib.so.0": "libpulse-mainloop-glib0",
    "libpulse.so.0": "libpulse0",
    "libstdc++.so.6": "libstdc++6",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxcb.so.1": "libxcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libz.so.1": "zlib1g",
    "libzstd.so.1": "libzstd1",
}


@dataclass(frozen=True, slots=True)
class Missing:
    """A shared library that the system does not have."""

    library: str
    package: str
    """Debian's package for it; empty where we do not know it."""


def missing_libraries(
    *, window: bool, wayland: bool = False, ask: Callable[[Path], str] | None = None
) -> tuple[Missing, ...]:
    """What the binding cannot load here: for work without a screen, or for a `window` as well.

    The system's own loader is asked about every part in use, since Qt's messages may name the
    wrong library. Answers nothing where there is no such loader (Windows, macOS) or no binding.
    """
    folder = binding_folder()
    if not sys.platform.startswith("linux") or folder is None:
        return ()
    parts = [*_OFFSCREEN_PARTS, *([_X_PART] if window else [])]
    if window and wayland:
        parts.append(_WAYLAND_PART)
    ask = ask or _loader_says
    names = {name for part in parts for name in not_found(ask(folder / part))}
    return tuple(Missing(name, DEBIAN_PACKAGES.get(name, "")) for name in sorted(names))


def not_found(loader_says: str) -> list[str]:
    """The libraries that the loader's listing marks as missing."""
    return re.findall(r"^\s*(\S+) => not found$", loader_says, re.MULTILINE)


def packages(missing: Iterable[Missing]) -> tuple[str, ...]:
    """The Debian packages that bring what is missing, each once."""
    return tuple(sorted({gap.package for gap in missing if gap.package}))


def binding_folder() -> Path | None:
    """Where the Qt binding is installed, found without loading it."""
    found = importlib.util.find_spec("PySide6")
    places = list(found.submodule_search_locations or ()) if found is not None else []
    return Path(places[0]) if places else None


def _loader_says(part: Path) -> str:
    ldd = shutil.which("ldd", path="/usr/bin:/bin")
    if ldd is None or not part.exists():
        return ""
    told = subprocess.run((ldd, str(part)), capture_output=True, text=True, check=False, timeout=60)
    return told.stdout
