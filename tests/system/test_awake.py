from __future__ import annotations

import sys
from types import TracebackType

import pytest

from packdesk.system.awake import COULD_NOT, KeepAwake


class FakeHold:
    """A request as a desktop would answer it."""

    def __init__(self, *, active: bool) -> None:
        self.active = active
        self.ended = 0

    def __enter__(self) -> FakeHold:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.ended += 1


class FakeSystem:
    """Grants or refuses each request and remembers them."""

    def __init__(self, *, grants: bool = True) -> None:
        self.grants = grants
        self.asked: list[bool] = []
        self.holds: list[FakeHold] = []

    def __call__(self, screen_on: bool) -> FakeHold:
        self.asked.append(screen_on)
        self.holds.append(FakeHold(active=self.grants))
        return self.holds[-1]


def test_it_holds_until_released() -> None:
    """A granted request is ended exactly once."""
    system = FakeSystem()
    awake = KeepAwake(system)

    assert awake.hold(screen_on=True) == ""
    assert awake.held

    awake.release()
    awake.release()

    assert not awake.held
    assert [hold.ended for hold in system.holds] == [1]


def test_asking_again_for_the_same_changes_nothing() -> None:
    """Each heartbeat may ask; the system is asked once."""
    system = FakeSystem()
    awake = KeepAwake(system)

    for _ in range(3):
        awake.hold(screen_on=False)

    assert system.asked == [False]


def test_asking_for_the_screen_as_well_replaces_the_request() -> None:
    """The earlier request ends when another kind is asked for."""
    system = FakeSystem()
    awake = KeepAwake(system)

    awake.hold(screen_on=False)
    awake.hold(screen_on=True)

    assert system.asked == [False, True]
    assert [hold.ended for hold in system.holds] == [1, 0]


def test_a_refusal_is_said() -> None:
    """The person hears that the computer may fall asleep, and what to do."""
    system = FakeSystem(grants=False)
    awake = KeepAwake(system)

    assert awake.hold(screen_on=True) == COULD_NOT
    assert not awake.held
    assert [hold.ended for hold in system.holds] == [1]


def test_a_broken_service_stops_nothing(caplog: pytest.LogCaptureFixture) -> None:
    """A fault while asking is written to the log and answered like a refusal."""

    def broken(screen_on: bool) -> FakeHold:
        raise RuntimeError("bus gone")

    assert KeepAwake(broken).hold(screen_on=False) == COULD_NOT
    assert "bus gone" in caplog.text


def test_without_a_session_bus_the_real_request_is_refused_politely(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """On a Linux machine with no desktop the answer is the sentence, not an error."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("DBUS_SESSION_BUS_ADDRESS", "unix:path=/nonexistent/packdesk-bus")

    assert KeepAwake().hold(screen_on=True) == COULD_NOT
