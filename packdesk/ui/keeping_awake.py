"""A computer that sleeps cannot ring: it is held awake in time, and somebody is told beforehand."""

from __future__ import annotations

from collections.abc import Iterable

from packdesk.desk.ports import Awake, Choices, Trouble
from packdesk.instants import Reading
from packdesk.present.alarm_words import asleep_words
from packdesk.present.early_warning import hold_awake
from packdesk.session.state import SessionState
from packdesk.ui.notices import Notices

UNDERSTOOD = "sleep_understood"
MOST_SESSIONS = 5
"""So many sessions are remembered: as many as a line of the settings holds."""


class KeepingAwake:
    """Holds the computer awake while a clock within the hour runs, and tells what is amiss.

    Once that is understood it is not told again in the same session, also after another start,
    unless the computer could be held awake in between.
    """

    def __init__(self, awake: Awake, choices: Choices, notices: Notices) -> None:
        self._awake = awake
        self._choices = choices
        self._notices = notices
        self._held = False

    def follow(self, sessions: Iterable[SessionState | None], now: Reading) -> None:
        """Hold or let go as the clocks of the sessions ask."""
        soon = [str(each.session) for each in sessions if each and hold_awake(each, now)]
        if soon and not self._held:
            self._tell(self._awake.hold(screen_on=True), soon)
        elif not soon and self._held:
            self._awake.release()
        self._held = bool(soon)

    def _tell(self, amiss: str, sessions: list[str]) -> None:
        known = self._choices.settings.text(UNDERSTOOD).split()
        if not amiss:
            self._remember([each for each in known if each not in sessions])
        elif not set(sessions) <= set(known):
            others = [each for each in known if each not in sessions]
            notice = self._notices.say(amiss)
            notice.answered.connect(lambda: self._remember([*others, *sessions]))

    def _remember(self, sessions: list[str]) -> None:
        words = " ".join(sessions[-MOST_SESSIONS:])
        if words == self._choices.settings.text(UNDERSTOOD):
            return
        try:
            self._choices.keep(self._choices.settings.with_choice(UNDERSTOOD, words))
        except Trouble:
            return  # then it is told once more

    def let_go(self) -> None:
        """Let the computer sleep as it likes."""
        if self._held:
            self._awake.release()
            self._held = False

    def walking_off(self, session: SessionState, now: Reading) -> str:
        """What to know before walking off, with the next clock; empty where there is none."""
        return asleep_words(session, now)
