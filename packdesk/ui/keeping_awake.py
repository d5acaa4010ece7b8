"""A computer that sleeps cannot ring: it is held awake in time, and somebody is told beforehand."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from packdesk.desk.ports import Awake
from packdesk.instants import Reading
from packdesk.present.alarm_words import asleep_words
from packdesk.present.early_warning import hold_awake
from packdesk.session.state import SessionState


class KeepingAwake:
    """Holds the computer awake while a clock within the hour runs; `say` tells what is amiss."""

    def __init__(self, awake: Awake, say: Callable[[str], None]) -> None:
        self._awake = awake
        self._say = say
        self._held = False

    def follow(self, sessions: Iterable[SessionState | None], now: Reading) -> None:
        """Hold or let go as the clocks of the sessions ask."""
        soon = any(hold_awake(session, now) for session in sessions)
        if soon and not self._held:
            self._say(self._awake.hold(screen_on=True))
        elif not soon and self._held:
            self._awake.release()
        self._held = soon

    def let_go(self) -> None:
        """Let the computer sleep as it likes."""
        if self._held:
            self._awake.release()
            self._held = False

    def walking_off(self, session: SessionState, now: Reading) -> str:
        """What to know before walking off, with the next clock; empty where there is none."""
        return asleep_words(session, now)
