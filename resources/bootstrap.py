"""Sets PackDesk up on a fresh machine, then runs or tests it; `USAGE` says how.

Standard library only, and readable by Python 3.8, so that an old Python can be told kindly
what is needed. What the system lacks for Qt is asked of the installed program itself
(`packdesk.system`); this file makes the environment and calls pip and apt-get.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

USAGE = """\
python3 resources/bootstrap.py run     open the window; with no screen, rehearse a sample
python3 resources/bootstrap.py test    check the code, then run all tests

Both set up what is missing first. What follows run goes to the program (run plan FILE),
what follows test goes to pytest (test tests/system)."""

OLDEST_PYTHON = (3, 11)
STATE_FILE = "packdesk-setup.json"
QUIET_PIP = ("--disable-pip-version-check", "--use-pep517")
TEST_TOOLS = {"Xvfb": "xvfb", "xauth": "xauth", "xdotool": "xdotool"}

ASK_PROGRAM = """
import json, os
from packdesk.system.libraries import missing_libraries
from packdesk.system.screen import screen_trouble
trouble = screen_trouble()
wayland = bool(os.environ.get("WAYLAND_DISPLAY")) and not os.environ.get("DISPLAY")
missing = missing_libraries(window={window} or not trouble, wayland=wayland)
print(json.dumps([trouble, [[gap.library, gap.package] for gap in missing]]))
"""
OPEN_SCREEN = "from PySide6.QtGui import QGuiApplication; QGuiApplication([])"
FIT_TO_USE = f"import sys, pip; sys.exit(sys.version_info < {OLDEST_PYTHON})"


class Stop(Exception):
    """The set-up cannot go on; the message says what to do."""


class Host:
    """The machine as this file needs it; tests put a fake in its place."""

    environ = os.environ

    def say(self, sentence: str) -> None:
        """Tell the person."""
        print(sentence, flush=True)

    def call(self, *command: str, cwd: Path | None = None, **env: str) -> int:
        """Run a command whose output the person sees; answer its exit status."""
        return subprocess.call(command, cwd=cwd, env={**self.environ, **env})

    def ask(self, *command: str) -> tuple[int, str]:
        """Run a command quietly; answer its exit status and what it printed."""
        try:
            told = subprocess.run(command, capture_output=True, text=True, timeout=120)
        except (OSError, subprocess.TimeoutExpired) as fault:
            return 1, str(fault)
        return told.returncode, told.stdout or told.stderr

    def has(self, program: str) -> bool:
        """Whether a program is on the search path."""
        return shutil.which(program) is not None

    def has_module(self, name: str) -> bool:
        """Whether this Python has a module."""
        return importlib.util.find_spec(name) is not None

    def is_root(self) -> bool:
        """Whether we may install system packages."""
        return hasattr(os, "geteuid") and os.geteuid() == 0


# --------------------------------------------------------------------------------------------
# System packages


def provide(host: Host, packages: list[str], purpose: str) -> None:
    """Install Debian packages, or stop with the exact line that does."""
    if not host.has("apt-get"):
        named = ", ".join(packages)
        raise Stop(
            f"For {purpose} this system lacks what Debian keeps in {named}. "
            "Install its own packages for these, then start again."
        )
    if host.is_root():
        host.say(f"Installing system packages for {purpose}: {' '.join(packages)}.")
        host.call("apt-get", "update", "-qq")  # where it fails, the next line says what matters
        command = apt_install(host, packages, "-qq")
        if host.call(*command, DEBIAN_FRONTEND="noninteractive") != 0:
            raise Stop("apt-get could not install them; its lines above say why.")
        return
    sudo, who = ("sudo ", "") if host.has("sudo") else ("", " as root")
    line = f"{sudo}apt-get update && {sudo}{shlex.join(apt_install(host, packages))}"
    raise Stop(
        f"For {purpose} system packages are missing. Type this{who}, then start again:\n    {line}"
    )


def apt_install(host: Host, packages: list[str], *options: str) -> list[str]:
    """The command that installs Debian packages under the names of this release."""
    names = [debian_name(host, package) for package in packages]
    return ["apt-get", "install", "-y", *options, "--no-install-recommends", *names]


def debian_name(host: Host, package: str) -> str:
    """The name this release of Debian gives a package: some end in t64 since trixie."""
    for name in (package, package + "t64"):
        status, policy = host.ask("apt-cache", "policy", name)
        if status == 0 and "Candidate:" in policy and "Candidate: (none)" not in policy:
            return name
    return package


# --------------------------------------------------------------------------------------------
# The environment


class State(NamedTuple):
    """What was installed into an environment; kept inside it."""

    root: str
    extras: tuple[str, ...]
    fingerprint: str


class Environment:
    """The virtual environment of one checkout and what was installed into it."""

    def __init__(self, host: Host, root: Path) -> None:
        self.host = host
        self.root = root
        self.folder = root / ".venv"
        self.python = self.folder / (
            "Scripts/python.exe" if sys.platform == "win32" else "bin/python"
        )

    def ready(self, *extras: str) -> None:
        """Make the environment and install the project with `extras`; quick when it is there."""
        kept = self._kept()
        wanted = tuple(sorted({*extras, *kept.extras}))
        if kept == self._state(wanted):
            return
        if kept.root not in ("", str(self.root)) or not self._is_fit():
            self._make()
        self.host.say("Installing PackDesk and what it needs; the first time takes minutes.")
        target = ".[{}]".format(",".join(wanted)) if wanted else "."
        pip = (str(self.python), "-m", "pip", "install", "-q", *QUIET_PIP)
        if self.host.call(*pip, "-e", target, cwd=self.root) != 0:
            raise Stop("pip could not install it; its lines above say why. Is there a network?")
        state = json.dumps(self._state(wanted)._asdict(), indent=1)
        (self.folder / STATE_FILE).write_text(state, encoding="utf-8")

    def _make(self) -> None:
        if not (self.host.has_module("venv") and self.host.has_module("ensurepip")):
            package = "python{}.{}-venv".format(*sys.version_info[:2])
            provide(self.host, [package], "virtual environments")
        self.host.say("Making the virtual environment .venv.")
        command = (sys.executable, "-m", "venv", "--clear", str(self.folder))
        if self.host.call(*command) != 0:
            raise Stop("The virtual environment could not be made; the lines above say why.")

    def _is_fit(self) -> bool:
        return self.python.exists() and self.host.ask(str(self.python), "-c", FIT_TO_USE)[0] == 0

    def _kept(self) -> State:
        try:
            kept = json.loads((self.folder / STATE_FILE).read_text(encoding="utf-8"))
            state = State(str(kept["root"]), tuple(kept["extras"]), str(kept["fingerprint"]))
        except (OSError, ValueError, LookupError, TypeError):
            return State("", (), "")
        return state if self.python.exists() else State("", (), "")

    def _state(self, extras: tuple[str, ...]) -> State:
        found = fingerprint(self.root / "pyproject.toml", self.folder)
        return State(str(self.root), extras, found)


def fingerprint(project_file: Path, environment: Path) -> str:
    """What the project asks for, the Python of the environment, and every installed version."""
    digest = hashlib.sha256()
    for file in (project_file, environment / "pyvenv.cfg"):
        digest.update(file.read_bytes() if file.is_file() else b"")
    installed = [
        found.name
        for pattern in ("lib/python*/site-packages/*.dist-info", "Lib/site-packages/*.dist-info")
        for found in environment.glob(pattern)
    ]
    digest.update("\n".join(sorted(set(installed))).encode("utf-8"))
    return digest.hexdigest()


# --------------------------------------------------------------------------------------------
# The two commands


def run(host: Host, root: Path, arguments: list[str]) -> int:
    """Open the window, or rehearse a sample session where there is no screen."""
    environment = Environment(host, root)
    environment.ready()
    program = (str(environment.python), "-m", "packdesk")
    if arguments:
        return host.call(*program, *arguments)
    trouble = qt_ready(host, environment, "Qt", window=False, tools=[])
    if not trouble:
        status, _ = host.ask(str(environment.python), "-c", OPEN_SCREEN)
        trouble = "" if status == 0 else "There is no screen that lets this program in."
    if not trouble:
        return host.call(*program)
    samples = sorted((root / "sample_sessions").glob("*.jsonl"))
    if not samples:
        raise Stop(f"{trouble} And there is no sample session to rehearse.")
    host.say(f"{trouble} Rehearsing a sample session without one.")
    out = Path.cwd() / "out"
    status = host.call(
        *program, "rehearse", str(samples[0]), "--out", str(out), QT_QPA_PLATFORM="offscreen"
    )
    if status == 0:
        host.say(f"Labels, record and pictures are in {out}.")
    return status


def test(host: Host, root: Path, arguments: list[str]) -> int:
    """Run the guard rails and the tests; the last line is the count of the tests."""
    environment = Environment(host, root)
    environment.ready("test")
    tools = [package for tool, package in TEST_TOOLS.items() if not host.has(tool)]
    on_linux = sys.platform.startswith("linux")
    qt_ready(host, environment, "the tests", window=True, tools=tools if on_linux else [])
    failed = []
    for name, *command in guard_rails():
        host.say(f"Checking: {name}.")
        if host.call(str(environment.python), *command, cwd=root) != 0:
            failed.append(name)
    if failed:
        host.say("Faults found by: {}. The tests run all the same.".format(", ".join(failed)))
    host.say("Running the tests.")
    with tempfile.TemporaryDirectory(prefix="packdesk-test-") as home:
        status = host.call(
            *(str(environment.python), "-m", "pytest", "-q", "-n", "2", *arguments),
            cwd=root,
            QT_QPA_PLATFORM="offscreen",
            PACKDESK_HOME=home,  # no test may touch the person's own record
        )
    return status or (1 if failed else 0)


def qt_ready(
    host: Host, environment: Environment, purpose: str, *, window: bool, tools: list[str]
) -> str:
    """Bring the system libraries that Qt misses; answer why there is no screen, if so.

    The window's own libraries are brought where a screen answers, or where `window` asks for
    them anyway; the packages in `tools` are brought with them.
    """
    trouble, missing = what_qt_lacks(host, environment, window=window)
    packages = sorted({*tools, *(package for _, package in missing if package)})
    if packages:
        provide(host, packages, purpose)
        trouble, missing = what_qt_lacks(host, environment, window=window)
    if missing:
        names = ", ".join(library for library, _ in missing)
        raise Stop(f"For {purpose} Qt misses {names}. Install the packages that hold them.")
    return trouble


def what_qt_lacks(
    host: Host, environment: Environment, *, window: bool
) -> tuple[str, list[tuple[str, str]]]:
    """Why there is no screen (empty if there is one), and each missing library and package."""
    status, told = host.ask(str(environment.python), "-c", ASK_PROGRAM.format(window=window))
    if status != 0:
        raise Stop("The installed program does not answer:\n" + told)
    trouble, missing = json.loads(told)
    return trouble, [(library, package) for library, package in missing]


def guard_rails() -> list[list[str]]:
    """The checks that come before the tests: a name for each, then what Python is to run."""
    order = "from importlinter.cli import lint_imports_command; lint_imports_command()"
    return [
        ["ruff check", "-m", "ruff", "check", "--quiet", "."],
        ["ruff format", "-m", "ruff", "format", "--quiet", "--check", "."],
        ["mypy", "-m", "mypy", "--no-error-summary"],
        ["order of the rooms", "-c", order],
    ]


def too_old(version: tuple[int, int], host: Host, typed: list[str]) -> str:
    """What to do about a Python older than PackDesk needs; empty when it is new enough."""
    if version >= OLDEST_PYTHON:
        return ""
    sentence = "PackDesk needs Python 3.11 or newer; this is Python {}.{}.".format(*version)
    for minor in range(20, OLDEST_PYTHON[1] - 1, -1):
        newer = f"python3.{minor}"
        if host.has(newer) and host.ask(newer, "-c", "")[0] == 0:
            return f"{sentence} This machine has one. Type:\n    {shlex.join([newer, *typed])}"
    return sentence + " Install a newer one, then start again with it."


def main(arguments: list[str], host: Host | None = None, root: Path | None = None) -> int:
    """Carry out one command; answer its exit status: 1 refused or failed, 2 wrong usage."""
    host = host or Host()
    root = root or Path(__file__).resolve().parent.parent
    command = {"run": run, "test": test}.get(arguments[0] if arguments else "")
    if command is None:
        host.say(USAGE)
        return 2
    try:
        sentence = too_old(sys.version_info[:2], host, [sys.argv[0], *arguments])
        if sentence:
            raise Stop(sentence)
        if not (root / "pyproject.toml").is_file():
            raise Stop("This file works from PackDesk's checkout, in its folder resources.")
        return command(host, root, arguments[1:])
    except Stop as stop:
        host.say(str(stop))
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
