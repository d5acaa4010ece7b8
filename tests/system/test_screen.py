from __future__ import annotations

import socket
from pathlib import Path

import pytest

from packdesk.system.screen import (
    Address,
    display_addresses,
    screen_trouble,
    someone_listens,
)


def nobody(address: Address) -> bool:
    """A machine on which no display listens."""
    return False


def everybody(address: Address) -> bool:
    """A machine on which every display listens."""
    return True


def test_no_display_named_is_no_screen() -> None:
    """The sentence names the two variables that are not set."""
    found = screen_trouble({"DISPLAY": ""}, everybody, "linux")

    assert "neither DISPLAY nor WAYLAND_DISPLAY" in found


def test_a_display_that_answers_is_a_screen() -> None:
    """An empty answer means that a window can open."""
    assert screen_trouble({"DISPLAY": ":1"}, everybody, "linux") == ""


def test_a_display_that_answers_nothing_counts_as_none() -> None:
    """A left-over DISPLAY is named in the sentence."""
    assert "DISPLAY :77 does not answer" in screen_trouble({"DISPLAY": ":77"}, nobody, "linux")


def test_one_of_two_displays_is_enough() -> None:
    """A dead Wayland name beside a living X display does no harm."""
    environ = {"DISPLAY": ":3", "WAYLAND_DISPLAY": "wayland-9", "XDG_RUNTIME_DIR": "/run/user/5"}

    assert screen_trouble(environ, lambda address: "X3" in str(address), "linux") == ""


@pytest.mark.parametrize("asked", ["offscreen", "offscreen:size=800x600", "minimal;xcb"])
def test_a_platform_without_a_window_is_no_screen(asked: str) -> None:
    """Who asks Qt for no window gets none, whatever DISPLAY says."""
    environ = {"DISPLAY": ":1", "QT_QPA_PLATFORM": asked}

    assert "QT_QPA_PLATFORM" in screen_trouble(environ, everybody, "linux")


@pytest.mark.parametrize("system", ["win32", "darwin"])
def test_other_desktops_have_a_screen(system: str) -> None:
    """Windows and macOS need no variable."""
    assert screen_trouble({}, nobody, system) == ""


@pytest.mark.parametrize(
    ("environ", "address"),
    [
        ({"DISPLAY": ":5.1"}, str(Path("/", "tmp", ".X11-unix", "X5"))),
        ({"DISPLAY": "unix:5"}, "\0" + str(Path("/", "tmp", ".X11-unix", "X5"))),
        ({"DISPLAY": "localhost:10.0"}, ("localhost", 6010)),
        ({"DISPLAY": "[::1]:2"}, ("::1", 6002)),
        ({"WAYLAND_DISPLAY": "wayland-0", "XDG_RUNTIME_DIR": "/run/u"}, "/run/u/wayland-0"),
        ({"WAYLAND_DISPLAY": "/run/w", "XDG_RUNTIME_DIR": "/run/u"}, "/run/w"),
    ],
)
def test_display_names_lead_to_their_sockets(environ: dict[str, str], address: Address) -> None:
    """X(7) and the Wayland environment say where each display listens."""
    assert address in display_addresses(environ)


@pytest.mark.parametrize("name", ["", "nonsense", ":x", ":"])
def test_a_malformed_display_leads_nowhere(name: str) -> None:
    """A name that is no display gives nothing to connect to."""
    assert display_addresses({"DISPLAY": name}) == []


def test_a_listening_socket_answers_and_a_closed_one_does_not(tmp_path: Path) -> None:
    """The connection is really tried, locally and over TCP."""
    path = str(tmp_path / "s")
    with socket.socket(socket.AF_UNIX) as server:
        server.bind(path)
        server.listen()
        assert someone_listens(path)
    assert not someone_listens(path)

    with socket.create_server(("127.0.0.1", 0)) as listener:
        address = listener.getsockname()
        assert someone_listens(address)
    assert not someone_listens(address)
    assert not someone_listens(("127.0.0.1", 70000))
