from __future__ import annotations

import ast
import json
import sys
from pathlib import Path
from types import ModuleType

import pytest

BOOTSTRAP = Path(__file__).resolve().parent.parent / "resources" / "bootstrap.py"


def load() -> ModuleType:
    """The set-up file, a script outside the package; read so that no cache lands beside it."""
    module = ModuleType("packdesk_bootstrap")
    exec(compile(BOOTSTRAP.read_bytes(), BOOTSTRAP, "exec"), vars(module))
    return module


bootstrap = load()


class FakeHost:
    """A machine that does what it is told and remembers it."""

    def __init__(
        self,
        *,
        root: bool = False,
        programs: str = "apt-get sudo Xvfb xauth xdotool",
        modules: str = "venv ensurepip",
        missing: list[list[str]] | None = None,
        no_screen: str = "",
        screen_opens: bool = True,
        known: str = "",
        failing: str = "",
    ) -> None:
        self.root = root
        self.programs = programs.split()
        self.modules = modules.split()
        self.missing = missing or []
        self.no_screen = no_screen
        self.screen_opens = screen_opens
        self.known = known.split()
        self.failing = failing
        self.said: list[str] = []
        self.calls: list[str] = []
        self.envs: list[dict[str, str]] = []

    def say(self, sentence: str) -> None:
        self.said.append(sentence)

    def call(self, *command: str, cwd: Path | None = None, **env: str) -> int:
        line = " ".join(command)
        self.calls.append(line)
        self.envs.append(env)
        if "-m venv" in line:
            python = Path(command[-1]) / "bin" / "python"
            python.parent.mkdir(parents=True, exist_ok=True)
            python.touch()
        if line.startswith("apt-get install"):
            self.missing = []
        return 1 if self.failing and self.failing in line else 0

    def ask(self, *command: str) -> tuple[int, str]:
        if command[:2] == ("apt-cache", "policy"):
            candidate = "1.0" if command[2] in self.known else "(none)"
            return 0, f"{command[2]}:\n  Candidate: {candidate}\n"
        if "QGuiApplication" in command[-1]:
            return int(not self.screen_opens), ""
        if "screen_trouble" in command[-1]:
            return 0, json.dumps([self.no_screen, self.missing])
        return 0, ""

    def has(self, program: str) -> bool:
        return program in self.programs

    def has_module(self, name: str) -> bool:
        return name in self.modules

    def is_root(self) -> bool:
        return self.root

    def called(self, part: str) -> list[str]:
        """The commands that contain `part`."""
        return [line for line in self.calls if part in line]


RAILS = ["-m ruff check", "-m ruff format", "-m mypy", "lint_imports", "-m pytest"]
GL = [["libGL.so.1", "libgl1"]]


@pytest.fixture
def checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A fresh checkout with one sample session, seen from another folder on Linux."""
    root = tmp_path / "checkout"
    (root / "sample_sessions").mkdir(parents=True)
    (root / "sample_sessions" / "b.jsonl").touch()
    (root / "sample_sessions" / "a.jsonl").touch()
    (root / "pyproject.toml").write_text("[project]\nname = 'packdesk'\n")
    monkeypatch.setattr(sys, "platform", "linux")
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    return root


def start(host: FakeHost, root: Path, *arguments: str) -> int:
    """Carry out a command of the set-up file on a fake machine."""
    status: int = bootstrap.main(list(arguments), host, root)
    return status


# --------------------------------------------------------------------------------------------
# Python


def test_the_file_reads_under_python_3_8() -> None:
    """An old Python must get as far as the sentence that tells what is needed."""
    ast.parse(BOOTSTRAP.read_text(encoding="utf-8"), feature_version=(3, 8))


def test_it_needs_the_standard_library_alone() -> None:
    """Nothing outside Python is imported before the environment exists."""
    tree = ast.parse(BOOTSTRAP.read_text(encoding="utf-8"))
    imports = [node for node in ast.walk(tree) if isinstance(node, ast.Import | ast.ImportFrom)]
    names = {
        (node.module or "") if isinstance(node, ast.ImportFrom) else alias.name
        for node in imports
        for alias in node.names
    }

    assert {name.partition(".")[0] for name in names} <= sys.stdlib_module_names


def test_an_old_python_is_told_what_is_needed() -> None:
    """The sentence names both versions, and a newer Python where the machine has one."""
    typed = ["resources/bootstrap.py", "run"]

    alone = bootstrap.too_old((3, 9), FakeHost(programs=""), typed)
    beside = bootstrap.too_old((3, 9), FakeHost(programs="python3.12 python3.11"), typed)

    assert "3.11 or newer; this is Python 3.9" in alone
    assert beside.endswith("python3.12 resources/bootstrap.py run")
    assert bootstrap.too_old((3, 11), FakeHost(), typed) == ""


def test_wrong_usage_is_answered_with_the_two_commands(checkout: Path) -> None:
    """Without a known command both are shown, and nothing is done."""
    host = FakeHost()

    assert start(host, checkout, "install") == 2
    assert "bootstrap.py run" in host.said[0]
    assert "bootstrap.py test" in host.said[0]
    assert host.calls == []


# --------------------------------------------------------------------------------------------
# The environment


def test_a_fresh_machine_gets_an_environment_and_the_project(checkout: Path) -> None:
    """The first run makes .venv in the checkout and installs into it."""
    host = FakeHost()

    assert start(host, checkout, "run") == 0
    assert host.calls[0].endswith(f"-m venv --clear {checkout / '.venv'}")
    assert "pip install" in host.calls[1]
    assert host.calls[1].endswith("-e .")
    assert host.calls[2].endswith("-m packdesk")


def test_a_second_run_calls_neither_venv_nor_pip(checkout: Path) -> None:
    """Nothing changed, so the window opens at once."""
    start(FakeHost(), checkout, "run")
    host = FakeHost()

    assert start(host, checkout, "run") == 0
    assert [line.rpartition("/")[2] for line in host.calls] == ["python -m packdesk"]
    assert host.said == []


def test_run_after_test_has_nothing_to_install(checkout: Path) -> None:
    """What the tests need includes what the program needs."""
    start(FakeHost(), checkout, "test")
    host = FakeHost()

    start(host, checkout, "run")

    assert host.called("pip") == []


def test_test_after_run_adds_the_extra(checkout: Path) -> None:
    """The environment stays; only the extra is brought."""
    start(FakeHost(), checkout, "run")
    host = FakeHost()

    start(host, checkout, "test")

    assert host.called("-m venv") == []
    assert [line.endswith("-e .[test]") for line in host.called("pip install")] == [True]


def test_a_changed_project_file_is_installed_again_with_its_extras(checkout: Path) -> None:
    """After a pull that changes dependencies `run` keeps what `test` had brought."""
    start(FakeHost(), checkout, "test")
    (checkout / "pyproject.toml").write_text("[project]\nname = 'packdesk'\nversion = '2'\n")
    host = FakeHost()

    start(host, checkout, "run")

    assert [line.endswith("-e .[test]") for line in host.called("pip install")] == [True]


def test_a_package_taken_away_is_noticed(checkout: Path) -> None:
    """The fingerprint covers every installed version."""
    start(FakeHost(), checkout, "run")
    (checkout / ".venv" / "lib" / "python3" / "site-packages" / "pint-1.dist-info").mkdir(
        parents=True
    )
    host = FakeHost()

    start(host, checkout, "run")

    assert len(host.called("pip install")) == 1


def test_a_moved_checkout_gets_a_new_environment(checkout: Path) -> None:
    """Scripts in an environment hold its old path, so it is made anew."""
    start(FakeHost(), checkout, "run")
    moved = checkout.rename(checkout.with_name("moved"))
    host = FakeHost()

    start(host, moved, "run")

    assert len(host.called("-m venv")) == 1


@pytest.mark.parametrize("left", ["", "[]", '{"root": 1}', "null"])
def test_a_damaged_note_leads_to_one_more_install(checkout: Path, left: str) -> None:
    """An interrupted set-up is simply done again."""
    start(FakeHost(), checkout, "run")
    (checkout / ".venv" / bootstrap.STATE_FILE).write_text(left)
    host = FakeHost()

    assert start(host, checkout, "run") == 0
    assert len(host.called("pip install")) == 1


def test_a_failed_install_is_not_taken_for_done(checkout: Path) -> None:
    """After a failure the next run tries again."""
    failed = FakeHost(failing="pip install")
    assert start(failed, checkout, "run") == 1
    assert "network" in failed.said[-1]
    host = FakeHost()

    start(host, checkout, "run")

    assert len(host.called("pip install")) == 1


def test_a_missing_venv_module_gets_its_line(checkout: Path) -> None:
    """Debian keeps ensurepip in a package of this Python's own version."""
    host = FakeHost(modules="venv")

    assert start(host, checkout, "run") == 1
    package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
    assert f"sudo apt-get install -y --no-install-recommends {package}" in host.said[-1]
    assert host.calls == []


def test_root_gets_the_venv_module_installed(checkout: Path) -> None:
    """As root the package is brought and the run goes on."""
    host = FakeHost(root=True, modules="venv")

    assert start(host, checkout, "run") == 0
    assert host.calls[0].startswith("apt-get update")
    assert "-venv" in host.called("apt-get install")[0]


# --------------------------------------------------------------------------------------------
# System packages


def test_without_root_the_exact_line_is_printed(checkout: Path) -> None:
    """Nothing is installed behind a person's back; the line can be copied."""
    host = FakeHost(missing=[*GL, ["libEGL.so.1", "libegl1"]])

    assert start(host, checkout, "run") == 1
    assert host.said[-1].splitlines()[-1].strip() == (
        "sudo apt-get update && sudo apt-get install -y --no-install-recommends libegl1 libgl1"
    )
    assert host.called("apt-get") == []
    assert host.called("packdesk") == []


def test_without_sudo_the_line_is_for_root(checkout: Path) -> None:
    """A machine without sudo gets the line without it."""
    host = FakeHost(missing=GL, programs="apt-get")

    start(host, checkout, "run")

    assert "as root" in host.said[-1]
    assert "sudo" not in host.said[-1]


def test_root_is_told_before_it_is_installed(checkout: Path) -> None:
    """As root on Debian the packages are named, the lists renewed, the packages installed."""
    host = FakeHost(root=True, missing=GL)

    assert start(host, checkout, "run") == 0
    assert "Installing system packages for Qt: libgl1." in host.said
    assert [line.split()[1] for line in host.called("apt-get")] == ["update", "install"]
    assert host.calls[-1].endswith("-m packdesk")


def test_a_failing_apt_stops_the_run(checkout: Path) -> None:
    """The window is not tried without its libraries."""
    host = FakeHost(root=True, missing=GL, failing="apt-get install")

    assert start(host, checkout, "run") == 1
    assert "apt-get could not" in host.said[-1]


def test_another_system_is_told_what_it_lacks(checkout: Path) -> None:
    """Where there is no apt-get the person hears which packages to look for."""
    host = FakeHost(root=True, missing=GL, programs="")

    assert start(host, checkout, "run") == 1
    assert "what Debian keeps in libgl1" in host.said[-1]


def test_a_library_without_a_known_package_is_named(checkout: Path) -> None:
    """What we cannot install we can still name."""
    host = FakeHost(root=True, missing=[["libnew.so.9", ""]])

    assert start(host, checkout, "run") == 1
    assert "Qt misses libnew.so.9" in host.said[-1]


@pytest.mark.parametrize(
    ("known", "name"),
    [
        ("libglib2.0-0", "libglib2.0-0"),
        ("libglib2.0-0t64", "libglib2.0-0t64"),
        ("", "libglib2.0-0"),
    ],
)
def test_packages_renamed_by_a_release_are_found(known: str, name: str) -> None:
    """Trixie's names end in t64; with no lists to look in the plain name is taken."""
    assert bootstrap.debian_name(FakeHost(known=known), "libglib2.0-0") == name


def test_the_tests_bring_their_tools_in_the_same_line(checkout: Path) -> None:
    """One line brings libraries and tools, so that a person types once."""
    host = FakeHost(missing=GL, programs="apt-get sudo xauth")

    assert start(host, checkout, "test") == 1
    assert host.said[-1].endswith("--no-install-recommends libgl1 xdotool xvfb")


# --------------------------------------------------------------------------------------------
# With and without a screen


def test_no_screen_leads_to_a_rehearsal(checkout: Path) -> None:
    """It says so, and leaves everything in out below the current folder."""
    host = FakeHost(no_screen="There is no screen.")

    assert start(host, checkout, "run") == 0
    assert "There is no screen. Rehearsing" in host.said[-2]
    out = Path.cwd() / "out"
    sample = checkout / "sample_sessions" / "a.jsonl"
    assert host.calls[-1].endswith(f"-m packdesk rehearse {sample} --out {out}")
    assert host.envs[-1]["QT_QPA_PLATFORM"] == "offscreen"
    assert str(out) in host.said[-1]


def test_a_screen_that_refuses_us_counts_as_none(checkout: Path) -> None:
    """A display that answers but lets no program in leads to a rehearsal as well."""
    host = FakeHost(screen_opens=False)

    start(host, checkout, "run")

    assert "rehearse" in host.calls[-1]


def test_a_failed_rehearsal_promises_nothing(checkout: Path) -> None:
    """The exit status is passed on and no folder is praised."""
    host = FakeHost(no_screen="There is no screen.", failing="rehearse")

    assert start(host, checkout, "run") == 1
    assert "Rehearsing" in host.said[-1]


def test_arguments_go_to_the_program(checkout: Path) -> None:
    """Any command of the program can be run in a fresh checkout."""
    host = FakeHost(no_screen="There is no screen.")

    start(host, checkout, "run", "plan", "x.jsonl", "--json")

    assert host.calls[-1].endswith("-m packdesk plan x.jsonl --json")


# --------------------------------------------------------------------------------------------
# The test command


def test_guard_rails_come_before_the_tests(checkout: Path) -> None:
    """Lint, form, types and the order of the rooms, then pytest; its count line is the last."""
    host = FakeHost()

    assert start(host, checkout, "test", "tests/system") == 0
    assert [word for line in host.calls for word in RAILS if word in line] == RAILS
    assert host.calls[-1].endswith(" tests/system")
    assert host.envs[-1]["QT_QPA_PLATFORM"] == "offscreen"
    assert not Path(host.envs[-1]["PACKDESK_HOME"]).exists()


@pytest.mark.parametrize("failing", RAILS)
def test_any_failure_fails_the_command(checkout: Path, failing: str) -> None:
    """Each guard rail counts, and the tests are run all the same."""
    host = FakeHost(failing=failing)

    assert start(host, checkout, "test") == 1
    assert "-m pytest" in host.calls[-1]
