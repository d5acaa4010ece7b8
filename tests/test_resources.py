from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import packdesk
from packdesk.resources import ShippedFileMissing, shipped

CHECKOUT = Path(packdesk.__file__).parents[1]


def test_a_checkout_finds_its_resources_beside_the_package() -> None:
    """In a checkout a shipped file is the one in `resources`."""
    assert shipped("catalog", "foods.toml") == CHECKOUT / "resources" / "catalog" / "foods.toml"


def test_a_checkout_finds_its_sample_sessions_beside_the_package() -> None:
    """In a checkout the sample sessions have a folder of their own."""
    assert shipped("sample_sessions") == CHECKOUT / "sample_sessions"


def test_a_missing_file_is_named_with_the_cure() -> None:
    """A shipped file that is nowhere is named, with the places looked in and what to do."""
    with pytest.raises(
        ShippedFileMissing, match=r"catalog/fods\.toml is missing.*Install PackDesk"
    ):
        shipped("catalog", "fods.toml")


def test_an_installed_copy_finds_what_it_was_shipped_with(tmp_path: Path) -> None:
    """The wheel carries the shipped files, and an installed copy opens them from its own folder."""
    source, wheels, site = tmp_path / "source", tmp_path / "wheels", tmp_path / "site"
    for folder in ("packdesk", "resources", "sample_sessions"):
        leave_out = shutil.ignore_patterns("__pycache__", "shipped")
        shutil.copytree(CHECKOUT / folder, source / folder, ignore=leave_out)
    (source / "sample_sessions" / "marker.txt").write_text("here", encoding="utf-8")
    shutil.copy(CHECKOUT / "pyproject.toml", source)
    (source / "README.md").write_text("Long description.\n", encoding="utf-8")
    pip = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check"]
    offline = ["--no-deps", "--no-index"]
    run([*pip, "wheel", *offline, "--no-build-isolation", "--wheel-dir", wheels, source])
    (wheel,) = wheels.glob("packdesk-*.whl")
    run([*pip, "install", *offline, "--target", site, wheel])

    program = (
        "from packdesk.resources import shipped;"
        "from packdesk.catalog.read import read_catalog;"
        "catalog, faults = read_catalog();"
        "print(len(catalog.foods), len(faults), shipped('sample_sessions', 'marker.txt'))"
    )
    said = run([sys.executable, "-c", program], site)

    marker = site / "packdesk" / "shipped" / "sample_sessions" / "marker.txt"
    assert said.split(maxsplit=2) == ["14", "0", f"{marker}\n"]


def run(command: list[str | Path], site: Path | None = None) -> str:
    """What the command prints; its complaint as the test's failure where it fails.

    With `site`, packages are looked for there first and the checkout is out of sight.
    """
    surroundings = dict(os.environ)
    if site is not None:
        surroundings["PYTHONPATH"] = str(site)
    result = subprocess.run(
        command, cwd=site, env=surroundings, capture_output=True, text=True, check=False
    )
    assert result.returncode == 0, result.stderr
    return result.stdout
