from __future__ import annotations

import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from packdesk.instants import OWN_RUN, elapsed_s
from packdesk.system import clock
from packdesk.system.clock import SystemClock


def test_a_reading_lies_between_two_looks_at_the_wall_clock() -> None:
    """The instant is the machine's own, aware and in UTC."""
    before = datetime.now(UTC)
    reading = SystemClock().reading()
    after = datetime.now(UTC)

    assert before <= reading.utc <= after
    assert reading.utc.utcoffset() == timedelta(0)


def test_the_steady_clock_never_runs_back_and_counts_at_least_waking_time() -> None:
    """The clock that counts sleep is ahead of the one that does not."""
    waking_s = time.monotonic()
    first, second = clock.steady_clock_s(), clock.steady_clock_s()

    assert waking_s <= first <= second


def test_two_readings_of_one_run_are_certain() -> None:
    """Readings of two clock objects in one run of the machine can be subtracted."""
    found = elapsed_s(SystemClock().reading(), SystemClock().reading())

    assert found.certain
    assert 0 <= found.seconds < 60


@pytest.mark.parametrize(
    ("utc", "offset_min"),
    [("2026-10-25T00:30", 120), ("2026-10-25T01:30", 60), ("2026-03-29T01:00", 120)],
)
def test_the_offset_is_that_of_the_instant_asked_about(
    utc: str, offset_min: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Either side of a change of the clocks has its own offset (Central European rule)."""
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    try:
        found = SystemClock.offset_min(datetime.fromisoformat(utc).replace(tzinfo=UTC))
    finally:
        monkeypatch.undo()
        time.tzset()

    assert found == offset_min


def test_a_machine_that_does_not_name_its_run_answers_an_empty_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A missing boot identity is no fault."""
    monkeypatch.setattr(clock, "_LINUX_BOOT", tmp_path / "absent")
    monkeypatch.setattr(sys, "platform", "linux")

    assert clock.boot_identity() == ""


def test_a_run_without_a_name_is_named_by_that_of_the_program(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """All readings of one clock object are of one run, those of two of perhaps another."""
    monkeypatch.setattr(clock, "boot_identity", lambda: "")
    one, two = SystemClock(), SystemClock()

    assert one.reading().boot == one.reading().boot != two.reading().boot
    assert one.reading().boot.startswith(OWN_RUN)


def test_a_failing_question_to_the_system_answers_nothing() -> None:
    """A command that is missing or fails leaves the name empty."""
    assert clock._answer("packdesk-no-such-program") == ""
    assert clock._answer("false") == ""
    assert clock._answer("echo", "run 7") == "run 7"
