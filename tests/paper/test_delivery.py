"""Files that arrive whole or not at all."""

from __future__ import annotations

import errno
import os
from io import BytesIO
from pathlib import Path
from typing import NoReturn

import pytest

from packdesk.desk.ports import Trouble
from packdesk.paper.delivery import deliver


def test_a_file_arrives_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    """The file is there under its own name alone, and replaces the one before."""
    out = tmp_path / "labels.pdf"

    deliver(b"old", out)
    deliver(b"new", out)

    assert out.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [out]


def test_an_open_stream_is_written_to() -> None:
    """Content can go to memory instead of a file."""
    out = BytesIO()

    deliver(b"sheet", out)

    assert out.getvalue() == b"sheet"


def test_a_folder_that_is_not_there_is_a_trouble(tmp_path: Path) -> None:
    """A missing folder is told in words with what to do."""
    with pytest.raises(Trouble) as trouble:
        deliver(b"sheet", tmp_path / "gone" / "labels.pdf")

    assert "its folder is not there" in trouble.value.sentence
    assert trouble.value.cure


def test_a_name_that_is_a_folder_is_a_trouble(tmp_path: Path) -> None:
    """A folder of the same name is not replaced, and no part of the file is left behind."""
    out = tmp_path / "labels.pdf"
    out.mkdir()

    with pytest.raises(Trouble) as trouble:
        deliver(b"sheet", out)

    assert trouble.value.cure
    assert list(tmp_path.iterdir()) == [out]


def test_what_is_no_ordinary_file_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A device or a pipe is never replaced by a paper."""
    out = tmp_path / "queue"
    out.write_bytes(b"as it was")
    monkeypatch.setattr(Path, "is_file", lambda _: False)

    with pytest.raises(Trouble) as trouble:
        deliver(b"sheet", out)

    assert "that is a device or a pipe" in trouble.value.sentence
    assert out.read_bytes() == b"as it was"
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (errno.EACCES, "may not write there"),
        (errno.EROFS, "can only be read"),
        (errno.ENOSPC, "the disk is full"),
        (errno.EIO, "did not take it"),
    ],
)
@pytest.mark.parametrize("step", ["open", "fsync", "replace"])
def test_the_old_file_stays_whatever_step_fails(
    step: str, fault: int, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A refusal of the system at any step is told in words and leaves the folder as it was."""
    out = tmp_path / "labels.pdf"
    out.write_bytes(b"old")

    def fail(*_: object, **__: object) -> NoReturn:
        raise OSError(fault, os.strerror(fault))

    with monkeypatch.context() as patch:
        patch.setattr(os if step == "fsync" else Path, step, fail)
        with pytest.raises(Trouble) as trouble:
            deliver(b"new", out)

    assert words in trouble.value.sentence
    assert "labels.pdf" in trouble.value.sentence
    assert out.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [out]


def test_a_stream_that_fails_is_a_trouble() -> None:
    """A stream on a full disk is told the same way."""

    class Full(BytesIO):
        def write(self, _: object) -> NoReturn:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with pytest.raises(Trouble, match="the disk is full"):
        deliver(b"sheet", Full())
