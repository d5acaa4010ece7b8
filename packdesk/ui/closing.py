"""What is asked before the window closes while clocks run: a closed program cannot ring."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtGui import QGuiApplication

from packdesk.instants import Reading
from packdesk.present.alarm_words import closing_words
from packdesk.session.state import SessionState
from packdesk.ui.notices import Notice, Notices

ONCE_MORE = "To close it all the same, close it once more."


class Closing:
    """Asks in the window itself, where a hand full of flour meets no dialog.

    The first wish to close is answered with a sentence and a large button to stay; while the
    sentence stands, the second wish is granted. The system on its way down is never held up.
    Nothing is asked until `asks` is set, as it is for a person.
    """

    def __init__(self, notices: Notices) -> None:
        self.asks = False
        self._notices = notices
        self._asked: Notice | None = None

    def allowed(
        self, in_hand: SessionState | None, others: Iterable[SessionState], now: Reading
    ) -> bool:
        """Whether the window may close; if not, the question stands in it from now on."""
        if not self.asks or QGuiApplication.instance().isSavingSession():
            return True
        words = closing_words(in_hand, others, now)
        if not words or (self._asked is not None and self._notices.stands(self._asked)):
            return True
        self._asked = self._notices.say(f"{words} {ONCE_MORE}", "Stay open", fleeting=True)
        return False
