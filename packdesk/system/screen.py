"""Is there a screen that a window can open on?"""

from __future__ import annotations

import os
import socket
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

Address = tuple[str, int] | str
"""A TCP host and port, or the path of a local socket (a leading NUL for an abstract one)."""

SCREENLESS = frozenset({"offscreen", "minimal", "minimalegl", "vnc"})


def screen_trouble(
    environ: Mapping[str, str] | None = None,
    answers: Callable[[Address], bool] | None = None,
    system: str = sys.platform,
) -> str:
    """Why no window can open here, in a sentence; empty when a screen answers.

    A display that is named but answers nothing counts as none. Windows and macOS always have
    a screen.
    """
    environ = os.environ if environ is None else environ
    answers = answers or someone_listens
    asked = environ.get("QT_QPA_PLATFORM", "").partition(":")[0].partition(";")[0]
    if asked in SCREENLESS:
        return f"QT_QPA_PLATFORM asks for {asked}, which shows no window."
    if system in ("win32", "darwin"):
        return ""
    named = [
        f"{name} {environ[name]}" for name in ("WAYLAND_DISPLAY", "DISPLAY") if environ.get(name)
    ]
    if not named:
        return "There is no screen: neither DISPLAY nor WAYLAND_DISPLAY is set."
    if any(answers(address) for address in display_addresses(environ)):
        return ""
    return f"There is no screen: {' and '.join(named)} does not answer."


def display_addresses(environ: Mapping[str, str]) -> list[Address]:
    """Where the displays named by the environment listen.

    Wayland: a socket in XDG_RUNTIME_DIR, or at an absolute path. X: `[host]:number[.screen]`,
    port 6000 + number over TCP, else the local socket of that number (X(7), "Display names").
    """
    addresses: list[Address] = []
    if wayland := environ.get("WAYLAND_DISPLAY"):
        addresses.append(str(Path(environ.get("XDG_RUNTIME_DIR", "/"), wayland)))
    host, colon, rest = environ.get("DISPLAY", "").rpartition(":")
    number = rest.partition(".")[0]
    if colon and number.isdecimal():
        if host in ("", "unix"):
            path = str(Path("/", "tmp", ".X11-unix", f"X{number}"))
            addresses += [path, "\0" + path]
        else:
            addresses.append((host.strip("[]"), 6000 + int(number)))
    elif Path(environ.get("DISPLAY", "")).is_absolute():
        addresses.append(environ["DISPLAY"])  # macOS-style socket path of a forwarded display
    return addresses


def someone_listens(address: Address) -> bool:
    """Whether a connection to `address` is accepted within two seconds."""
    try:
        if isinstance(address, str):
            with socket.socket(socket.AF_UNIX) as line:
                line.settimeout(2)
                line.connect(address)
        else:
            socket.create_connection(address, timeout=2).close()
    except (OSError, ValueError, OverflowError, AttributeError):
        return False
    return True
