"""Can this computer be kept awake while a clock runs?"""

from __future__ import annotations

import logging
from collections.abc import Callable
from contextlib import AbstractContextManager
from typing import Protocol

COULD_NOT = (
    "This computer could not be kept awake, and it rings no alarm while it sleeps. "
    "Switch its sleep off in the system's settings, or watch the due times on a wall clock."
)

_log = logging.getLogger(__name__)


class Hold(Protocol):
    """What a request to stay awake came to."""

    @property
    def active(self) -> bool:
        """Whether the system granted it."""


Request = Callable[[bool], AbstractContextManager[Hold]]
"""Asks the system to stay awake; True for the screen as well."""


class KeepAwake:
    """Holds the computer awake, at most once at a time.

    Use it from one thread only: Windows ties the request to the thread that made it. No
    request stops a closing lid, the power button or an empty battery.
    """

    def __init__(self, request: Request | None = None) -> None:
        self._request = request or _ask_system
        self._held: AbstractContextManager[Hold] | None = None
        self._screen_on = False

    @property
    def held(self) -> bool:
        """Whether the computer is being kept awake now."""
        return self._held is not None

    def hold(self, *, screen_on: bool) -> str:
        """Keep the computer (and its screen) awake; answer a sentence when it could not be done.

        An empty answer means that it is held. Asking again for the same changes nothing.
        """
        if self._held is not None and self._screen_on == screen_on:
            return ""
        self.release()
        try:
            holding = self._request(screen_on)
            granted = holding.__enter__().active
        except Exception:  # a broken desktop service must never stop a session
            _log.warning("keeping awake failed", exc_info=True)
            return COULD_NOT
        if not granted:
            holding.__exit__(None, None, None)
            return COULD_NOT
        self._held, self._screen_on = holding, screen_on
        return ""

    def release(self) -> None:
        """Let the computer sleep again; do it as soon as no clock runs."""
        held, self._held = self._held, None
        if held is None:
            return
        try:
            held.__exit__(None, None, None)
        except Exception:  # the system drops the request at the latest when the program ends
            _log.warning("letting sleep again failed", exc_info=True)


def _ask_system(screen_on: bool) -> AbstractContextManager[Hold]:
    from wakepy import keep

    return keep.presenting(on_fail="pass") if screen_on else keep.running(on_fail="pass")
