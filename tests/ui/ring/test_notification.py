"""A notice on the desktop, never waited for, and words where none can be shown."""

from __future__ import annotations

import threading
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import pytest
from jeepney import HeaderFields, Message, new_error, new_method_return
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QSystemTrayIcon

from packdesk.ui.ring import notification
from packdesk.ui.ring.desktop_bus import (
    CRITICAL,
    NO_BUS,
    NO_SERVICE,
    NORMAL,
    SHOWN,
    DesktopBus,
)
from packdesk.ui.ring.notification import (
    ASKED,
    ASKING,
    NO_TRAY,
    BusNotices,
    TrayNotices,
    default_notices,
)

SIGNATURE = "susssasa{sv}i"
"""What Notify takes, by the Desktop Notifications Specification 1.2."""


class InventedService:
    """A connection to a notification service that insists on the specification's types."""

    def __init__(self, can: tuple[str, ...] = ("body",), *, there: bool = True) -> None:
        self.can = can
        self.there = there
        self.calls: list[tuple[str, tuple[Any, ...]]] = []
        self.closed = 0
        self.before_answer: Callable[[], None] = lambda: None
        self._next = 0

    def send_and_get_reply(self, message: Message, *, timeout: float | None = None) -> Message:
        """Answer a call."""
        assert timeout is not None, "nothing may wait for ever"
        message.serialise(serial=1)  # raises where the body does not fit its signature
        fields = message.header.fields
        message.header.serial = 1
        method = fields[HeaderFields.member]
        self.calls.append((method, message.body))
        self.before_answer()
        if not self.there:
            return new_error(message, "org.freedesktop.DBus.Error.ServiceUnknown", "s", ("none",))
        if method == "GetCapabilities":
            return new_method_return(message, "as", (list(self.can),))
        if method == "Notify":
            assert fields[HeaderFields.signature] == SIGNATURE
            replaced = message.body[1]
            if not replaced:
                self._next += 1
            return new_method_return(message, "u", (replaced or self._next,))
        assert (method, fields[HeaderFields.signature]) == ("CloseNotification", "u")
        return new_method_return(message)

    def close(self) -> None:
        """Note it."""
        self.closed += 1

    def bodies(self, method: str) -> list[tuple[Any, ...]]:
        """What a method was called with."""
        return [body for called, body in self.calls if called == method]


# The message bus ----------------------------------------------------------------------------------


def test_a_notice_is_sent_as_the_specification_says() -> None:
    """Name, words and hints arrive; what is due is critical, never expires and makes no sound."""
    service = InventedService()

    assert DesktopBus(lambda: service).show("Packet P1", "Due at 10:51.", CRITICAL) == SHOWN
    ((name, replaces, _, title, body, actions, hints, expires),) = service.bodies("Notify")
    assert (name, replaces, title, body) == ("PackDesk", 0, "Packet P1", "Due at 10:51.")
    assert hints["urgency"] == ("y", 2)
    assert hints["suppress-sound"] == ("b", True)
    assert (actions, expires) == ([], 0)


def test_a_warning_may_go_by_itself() -> None:
    """A normal notice leaves its time to the desktop."""
    service = InventedService()
    DesktopBus(lambda: service).show("Packet P1", "10 min left.", NORMAL)

    (sent,) = service.bodies("Notify")
    assert sent[6]["urgency"] == ("y", 1)
    assert sent[7] == -1


def test_a_later_notice_takes_the_place_of_the_one_before() -> None:
    """An alarm that repeats each minute leaves one notice, not a heap."""
    service = InventedService()
    bus = DesktopBus(lambda: service)
    bus.show("Packet P1 is 1 min past its time", "", CRITICAL)
    bus.show("Packet P1 is 2 min past its time", "", CRITICAL)

    assert [body[1] for body in service.bodies("Notify")] == [0, 1]


@pytest.mark.parametrize(
    ("can", "arrives"),
    [(("body",), "rice & <beans>"), (("body", "body-markup"), "rice &amp; &lt;beans&gt;")],
)
def test_marks_in_a_food_name_stay_what_they_are(can: tuple[str, ...], arrives: str) -> None:
    """Where the desktop reads markup in the words, they are written so that none is seen."""
    service = InventedService(can)
    DesktopBus(lambda: service).show("", "rice & <beans>", CRITICAL)

    assert service.bodies("Notify")[0][4] == arrives


def test_withdrawing_closes_the_notice_and_leaves_the_bus() -> None:
    """What was acted on stands no longer on the desktop."""
    service = InventedService()
    bus = DesktopBus(lambda: service)
    bus.show("Packet P1", "", CRITICAL)
    bus.withdraw()

    assert service.bodies("CloseNotification") == [(1,)]
    assert service.closed == 1


def test_withdrawing_nothing_asks_nothing() -> None:
    """Where nothing is shown the bus is not joined."""
    joined: list[None] = []
    DesktopBus(lambda: joined.append(None)).withdraw()

    assert joined == []


@pytest.mark.parametrize("fault", [KeyError, OSError, RuntimeError, ImportError])
def test_without_a_bus_there_are_words(fault: type[Exception]) -> None:
    """No address, no socket, no library: the answer is a sentence, not an error."""

    def nowhere() -> InventedService:
        raise fault("no bus")

    assert DesktopBus(nowhere).show("Packet P1", "", CRITICAL) == NO_BUS


def test_a_bus_without_a_service_is_told() -> None:
    """A desktop that shows no notices is answered in words, and asked again the next time."""
    service = InventedService(there=False)
    bus = DesktopBus(lambda: service)

    assert bus.show("Packet P1", "", CRITICAL) == NO_SERVICE
    assert service.closed == 1
    service.there = True
    assert bus.show("Packet P1", "", CRITICAL) == SHOWN


def test_a_notice_closed_by_hand_is_no_fault() -> None:
    """A service that knows the notice no more does not disturb the withdrawing."""
    service = InventedService()
    bus = DesktopBus(lambda: service)
    bus.show("Packet P1", "", CRITICAL)
    service.there = False
    bus.withdraw()

    assert service.closed == 1


# From the window ----------------------------------------------------------------------------------


def test_showing_does_not_wait_for_the_bus() -> None:
    """While a slow service thinks, the window has long gone on; its answer comes in words."""
    service = InventedService()
    thinking, answered = threading.Event(), threading.Event()
    service.before_answer = lambda: (thinking.set(), answered.wait(10))
    notices = BusNotices(DesktopBus(lambda: service))
    notices.show("Packet P1", "Due at 10:51.", critical=True)

    assert thinking.wait(10)
    assert notices.words == ASKING
    answered.set()
    notices.close(wait_s=10)
    assert notices.words == SHOWN
    assert [method for method, _ in service.calls][-1] == "CloseNotification"


def test_orders_are_followed_one_after_another() -> None:
    """Shown, withdrawn, shown again: the last word stands."""
    service = InventedService()
    notices = BusNotices(DesktopBus(lambda: service))
    notices.show("first", "", critical=True)
    notices.withdraw()
    notices.show("second", "", critical=False)
    notices.close(wait_s=10)

    done = [method for method, _ in service.calls if method != "GetCapabilities"]
    assert done == ["Notify", "CloseNotification"] * 2
    assert service.closed == 2


def test_notices_that_were_never_shown_start_no_thread() -> None:
    """Withdrawing and closing without a notice leaves no thread behind."""
    before = threading.active_count()
    notices = BusNotices(DesktopBus(InventedService))
    notices.withdraw()
    notices.close()

    assert threading.active_count() == before


# The notification area ----------------------------------------------------------------------------


class InventedTray(SimpleNamespace):
    """An icon in a notification area."""

    MessageIcon = QSystemTrayIcon.MessageIcon
    there = True
    isSystemTrayAvailable = supportsMessages = staticmethod(lambda: InventedTray.there)  # noqa: N815

    def __init__(self, parent: QObject) -> None:
        super().__init__(visible=False, said=[])
        InventedTray.last = self

    def __getattr__(self, name: str) -> Callable[..., None]:
        """Take the calls that change nothing here."""
        if name in ("setIcon", "setToolTip", "deleteLater"):
            return lambda *_: None
        raise AttributeError(name)

    def show(self) -> None:
        """Stand there."""
        self.visible = True

    def hide(self) -> None:
        """Stand there no more."""
        self.visible = False

    def showMessage(self, *said: object) -> None:  # noqa: N802
        """Say it."""
        self.said.append(said)


def test_elsewhere_the_notification_area_shows_it(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On Windows and macOS an icon comes with the message and goes when it is acted on."""
    monkeypatch.setattr(notification, "QSystemTrayIcon", InventedTray)
    monkeypatch.setattr(InventedTray, "there", True)
    notices = default_notices(qapp, "win32")
    notices.show("Packet P1", "Due at 10:51.", critical=True)

    icon = InventedTray.last
    assert icon.said == [("Packet P1", "Due at 10:51.", QSystemTrayIcon.MessageIcon.Critical)]
    assert icon.visible
    assert notices.words == ASKED
    notices.withdraw()
    assert not icon.visible
    notices.close()


def test_without_a_notification_area_there_are_words(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A desktop without one is told, and no icon is made."""
    monkeypatch.setattr(notification, "QSystemTrayIcon", InventedTray)
    monkeypatch.setattr(InventedTray, "there", False)
    notices = TrayNotices(qapp)
    notices.show("Packet P1", "", critical=True)

    assert notices.words == NO_TRAY
    notices.close()


def test_linux_goes_by_the_message_bus(qapp: QApplication) -> None:
    """On Linux the bus is asked, not the notification area."""
    assert isinstance(default_notices(qapp, "linux"), BusNotices)
