"""Notifications by the desktop's message bus: what is sent, and what the answer means.

The interface is org.freedesktop.Notifications of the Desktop Notifications Specification.
jeepney is spoken, since Qt's bus module cannot send a 32-bit unsigned number from Python,
which strict servers insist on. All of it may wait for the bus: never call it where a window
waits for you.
"""

from __future__ import annotations

import html
import logging
from collections.abc import Callable
from typing import Any, Protocol

ANSWER_S = 5.0
"""How long a notification service may take; the bus may have to start it first."""

CRITICAL = 2
"""The specification's urgency of what must not vanish by itself."""
NORMAL = 1

NO_BUS = "No desktop notification: this desktop has no message bus."
NO_SERVICE = "No desktop notification: no service of this desktop shows any."
SHOWN = "A desktop notification was shown."

_PLACE = "/org/freedesktop/Notifications"
_NAME = "org.freedesktop.Notifications"

_log = logging.getLogger(__name__)


class Connection(Protocol):
    """The part of jeepney's blocking connection that is used."""

    def send_and_get_reply(self, message: Any, *, timeout: float | None = None) -> Any:
        """Send a call and wait for its answer."""

    def close(self) -> None:
        """Leave the bus."""


def session_bus() -> Connection:
    """Join the bus of this desktop."""
    from jeepney.io.blocking import open_dbus_connection

    return open_dbus_connection(bus="SESSION")


class DesktopBus:
    """One notification at a time: a later one takes the place of the one before.

    The connection stays open as long as something is shown, since a desktop may drop what a
    program has sent when that program leaves the bus.
    """

    def __init__(self, connect: Callable[[], Connection] = session_bus) -> None:
        self._connect = connect
        self._connection: Connection | None = None
        self._markup = False
        self._shown = 0

    def show(self, title: str, body: str, urgency: int) -> str:
        """Show it and answer in words what came of it."""
        try:
            connection = self._joined()
        except Exception:  # no address, no socket, no leave: all the same to the person
            _log.info("no message bus", exc_info=True)
            return NO_BUS
        try:
            self._shown = self._call(
                connection,
                "Notify",
                "susssasa{sv}i",
                (
                    "PackDesk",
                    self._shown,
                    "packdesk",
                    title,
                    html.escape(body, quote=False) if self._markup else body,
                    [],
                    {
                        "urgency": ("y", urgency),
                        "resident": ("b", True),
                        "desktop-entry": ("s", "packdesk"),
                        "suppress-sound": ("b", True),
                    },
                    0 if urgency == CRITICAL else -1,
                ),
            )[0]
        except Exception:  # a broken desktop service must never stop a session
            _log.info("no notification was shown", exc_info=True)
            self.close()
            return NO_SERVICE
        return SHOWN

    def withdraw(self) -> None:
        """Take away what is shown, if anything is."""
        if self._connection is not None and self._shown:
            try:
                self._call(self._connection, "CloseNotification", "u", (self._shown,))
            except Exception:  # it was closed by hand, or the service is gone
                _log.info("no notification to take away", exc_info=True)
        self.close()

    def close(self) -> None:
        """Leave the bus."""
        connection, self._connection, self._shown = self._connection, None, 0
        if connection is not None:
            connection.close()

    def _joined(self) -> Connection:
        if self._connection is None:
            connection = self._connect()
            try:
                can = self._call(connection, "GetCapabilities", None, ())[0]
            except Exception:  # Notify will tell
                can = ()
            self._markup = "body-markup" in can
            self._connection = connection
        return self._connection

    @staticmethod
    def _call(connection: Connection, method: str, signature: str | None, body: tuple) -> tuple:
        from jeepney import DBusAddress, new_method_call
        from jeepney.wrappers import unwrap_msg

        service = DBusAddress(_PLACE, bus_name=_NAME, interface=_NAME)
        message = new_method_call(service, method, signature, body)
        return unwrap_msg(connection.send_and_get_reply(message, timeout=ANSWER_S))
