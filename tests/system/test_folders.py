from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from packdesk.desk.ports import Trouble
from packdesk.system.folders import HOME, find_folders


def test_one_variable_moves_everything(tmp_path: Path) -> None:
    """With PACKDESK_HOME set, nothing lies outside it."""
    found = find_folders({HOME: str(tmp_path)})

    assert {found.data.parent, found.config.parent, found.cache.parent} == {tmp_path}
    assert len({found.data, found.config, found.cache}) == 3


def test_a_relative_home_is_fixed_at_the_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A later change of the current folder does not move the record."""
    monkeypatch.chdir(tmp_path)

    assert find_folders({HOME: "stick"}).data == tmp_path / "stick" / "data"


def test_without_it_the_systems_own_places_are_taken() -> None:
    """An empty variable counts as unset."""
    found = find_folders({HOME: " "})

    assert found == find_folders({})
    assert {place.name for place in (found.data, found.config, found.cache)} == {"packdesk"}


def test_folders_are_made_for_their_owner_alone(tmp_path: Path) -> None:
    """All folders are there afterwards, and making them again changes nothing."""
    found = find_folders({HOME: str(tmp_path / "new")}).made()

    assert found.made() == found
    assert stat.S_IMODE(found.data.stat().st_mode) & 0o077 == 0
    assert found.cache.is_dir()


def test_a_folder_in_the_way_of_a_file_is_told_with_its_cure(tmp_path: Path) -> None:
    """The sentence names the folder and the reason; the cure names the variable."""
    (tmp_path / "data").write_text("a file")

    with pytest.raises(Trouble) as caught:
        find_folders({HOME: str(tmp_path)}).made()

    assert str(tmp_path / "data") in caught.value.sentence
    assert "record book" in caught.value.sentence
    assert HOME in caught.value.cure


def test_a_folder_without_write_permission_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that exists but refuses writing is found before anything is recorded."""
    monkeypatch.setattr(os, "access", lambda place, mode: not mode & os.W_OK)

    with pytest.raises(Trouble, match="cannot be written to"):
        find_folders({HOME: str(tmp_path)}).made()
