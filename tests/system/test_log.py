from __future__ import annotations

import logging
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from packdesk.system import log as log_module
from packdesk.system.log import FILE_NAME, Log


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    """A log in a folder of its own, closed afterwards."""
    opened = Log(tmp_path)
    yield opened
    opened.close()


def test_lines_reach_the_file(log: Log, tmp_path: Path) -> None:
    """What any room of the program logs is in the file, with its room's name."""
    logging.getLogger("packdesk.record").warning("the disk is nearly full")

    assert "packdesk.record: the disk is nearly full" in (tmp_path / FILE_NAME).read_text()


def test_an_uncaught_error_is_written_and_said(log: Log) -> None:
    """The trace goes to the file, one sentence to the person."""
    said: list[str] = []
    log.catch_uncaught(said.append)

    try:
        _ = 1 / 0
    except ZeroDivisionError as fault:
        sys.excepthook(type(fault), fault, fault.__traceback__)

    assert "ZeroDivisionError: division by zero" in log.file.read_text()
    assert len(said) == 1
    assert "shown as saved is in the record" in said[0]
    assert str(log.file) in said[0]


def test_an_error_in_a_thread_is_said_too(log: Log) -> None:
    """A worker that fails does not fail silently."""
    said: list[str] = []
    log.catch_uncaught(said.append)

    worker = threading.Thread(target=lambda: [][1])
    worker.start()
    worker.join()

    assert "IndexError" in said[0]


def test_ctrl_c_is_no_mistake(log: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    """An interruption by a person goes to the hook that was there before."""
    said: list[str] = []
    passed: list[type[BaseException]] = []
    log._hooks = (lambda kind, fault, trace: passed.append(kind), log._hooks[1])
    log.catch_uncaught(said.append)

    sys.excepthook(KeyboardInterrupt, KeyboardInterrupt(), None)

    assert passed == [KeyboardInterrupt]
    assert said == []


def test_closing_gives_the_hooks_back(tmp_path: Path) -> None:
    """After closing, the interpreter and the logger are as they were."""
    before = (sys.excepthook, threading.excepthook, list(logging.getLogger("packdesk").handlers))

    opened = Log(tmp_path)
    opened.catch_uncaught(lambda _: None)
    opened.close()

    after = (sys.excepthook, threading.excepthook, list(logging.getLogger("packdesk").handlers))
    assert after == before


def test_a_log_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    """Without a file the program runs on, and the apology names no file."""
    said: list[str] = []
    opened = Log(tmp_path / "absent")
    opened.catch_uncaught(said.append)
    try:
        sys.excepthook(ValueError, ValueError("odd"), None)
    finally:
        opened.close()

    assert "cannot be written" in opened.trouble
    assert "odd" in said[0]
    assert FILE_NAME not in said[0]


def test_the_files_stay_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However much is logged, the newest lines are kept in a few files of bounded size."""
    monkeypatch.setattr(log_module, "LARGEST_BYTES", 1000)
    opened = Log(tmp_path)
    try:
        for number in range(200):
            logging.getLogger("packdesk").info("line %d", number)
    finally:
        opened.close()

    sizes = [file.stat().st_size for file in tmp_path.iterdir()]
    assert len(sizes) == log_module.OLDER_KEPT + 1
    assert max(sizes) <= 1000
    assert "line 199" in (tmp_path / FILE_NAME).read_text()
