from __future__ import annotations

import os
from pathlib import Path
from uuid import UUID

import pytest

from packdesk.desk.ports import Trouble
from packdesk.system.station import FILE_NAME, renew_station, station_identity

FIRST = UUID("00000000-0000-4000-8000-000000000001")
SECOND = UUID("00000000-0000-4000-8000-000000000002")


def test_an_identity_is_made_once(tmp_path: Path) -> None:
    """The second start answers what the first one made, and nothing else is left behind."""
    assert station_identity(tmp_path, lambda: FIRST) == FIRST
    assert station_identity(tmp_path, lambda: SECOND) == FIRST
    assert [file.name for file in tmp_path.iterdir()] == [FILE_NAME]


def test_two_installations_differ(tmp_path: Path) -> None:
    """Each folder has an identity of its own."""
    one, other = tmp_path / "one", tmp_path / "other"
    one.mkdir()
    other.mkdir()

    assert station_identity(one) != station_identity(other)


def test_of_two_first_starts_at_once_the_quicker_one_holds(tmp_path: Path) -> None:
    """A program that finds the other's file at the last moment takes over its identity."""

    def overtaken() -> UUID:
        station_identity(tmp_path, lambda: SECOND)
        return FIRST

    assert station_identity(tmp_path, overtaken) == SECOND
    assert station_identity(tmp_path) == SECOND


@pytest.mark.parametrize("left", [b"", b"not an identity\n", b"\xff\xfe\x00"])
def test_a_damaged_file_is_put_aside(tmp_path: Path, left: bytes) -> None:
    """What power failure left in the file is kept beside it, and a new identity begins."""
    (tmp_path / FILE_NAME).write_bytes(left)

    assert station_identity(tmp_path, lambda: FIRST) == FIRST
    assert (tmp_path / f"{FILE_NAME}.damaged").read_bytes() == left


def test_a_stick_without_links_keeps_an_identity_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the file system knows no links the draft is moved into place."""

    def refuse(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)

    assert station_identity(tmp_path, lambda: FIRST) == FIRST
    assert station_identity(tmp_path) == FIRST


def test_a_missing_folder_is_trouble_with_a_cure(tmp_path: Path) -> None:
    """What cannot be kept is said, with the file's name."""
    with pytest.raises(Trouble, match=FILE_NAME) as caught:
        station_identity(tmp_path / "absent")

    assert "writable" in caught.value.cure


def test_a_renewed_station_gets_a_new_identity_and_keeps_the_former_aside(tmp_path: Path) -> None:
    """After renewing, the next start counts as a new station; the former identity is kept."""
    former = station_identity(tmp_path)

    renew_station(tmp_path)

    assert station_identity(tmp_path) != former
    assert str(former) in (tmp_path / "station.former").read_text("ascii")
