from __future__ import annotations

from pathlib import Path

import pytest

from packdesk.record.place import remote_type, warnings_about

MOUNTS = """\
/dev/sda1 / ext4 rw 0 0
proc /proc proc rw 0 0
/dev/sdb1 /home/sam/stick fuseblk rw 0 0
server:/homes /home nfs4 rw 0 0
//server/papers /mnt/our\\040papers cifs rw 0 0
sam@server:/data /mnt/data fuse.over-a-wire rw 0 0
/secret /mnt/locked fuse.vault rw 0 0
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/var/lib", ""),
        ("/home/sam", "nfs4"),
        ("/homework", ""),
        ("/home/sam/stick", ""),
        ("/mnt/our papers/2026", "cifs"),
        ("/mnt/data", "fuse.over-a-wire"),
        ("/mnt/locked", ""),
    ],
)
def test_knows_disks_of_other_computers(folder: str, kind: str) -> None:
    """The innermost mount that holds a path says whether its disk is another computer's."""
    assert remote_type(Path(folder) / "record.packdesk", MOUNTS) == kind


@pytest.mark.parametrize(
    ("folder", "telling"),
    [
        ("Sync", True),
        ("my cloud/packing", True),
        ("MyDrive/data", True),
        ("Mobile Documents", True),
        ("data", False),
        ("drives and pails", False),
    ],
)
def test_knows_telling_folder_names(tmp_path: Path, folder: str, telling: bool) -> None:
    """A folder whose name speaks of being kept on several computers gives a warning."""
    warnings = warnings_about(tmp_path / folder / "record.packdesk")

    assert len(warnings) == telling


def test_a_remote_disk_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The warning about another computer's disk names its kind and says where copies may go."""
    table = tmp_path / "mounts"
    table.write_text(f"server:/homes {tmp_path} nfs4 rw 0 0\n")
    monkeypatch.setattr("packdesk.record.place._MOUNTS", table)
    monkeypatch.setattr("sys.platform", "linux")

    (warning,) = warnings_about(tmp_path / "record.packdesk")

    assert warning == (
        "The record book lies on a disk of another computer (nfs4). That can damage it: keep it on"
        " a disk of this computer, and put copies there."
    )


def test_nothing_is_said_where_nothing_is_known(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Without a table of mounts there is no warning and no fault."""
    monkeypatch.setattr("packdesk.record.place._MOUNTS", tmp_path / "missing")

    assert warnings_about(tmp_path / "record.packdesk") == ()
