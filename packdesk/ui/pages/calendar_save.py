"""The control that writes what is still to come as a file for the person's own calendar."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from packdesk.desk.ports import Trouble
from packdesk.present.calendar_entries import CalendarEntry, calendar_entries
from packdesk.present.freezer_plan import FreezerPlan
from packdesk.ui.icons import Icon
from packdesk.ui.pages.paper_shelf import ask_where
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.words import let_grow
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl, SecondFace

CALENDAR_KEY = "K"
NO_PLAN = FreezerPlan()


class CalendarSave(SecondControl):
    """Asks where and writes; not offered while nothing is to come.

    Signals:
        said: a sentence about what was done.
        failed: a `Trouble`, and what to call to try again.
    """

    said = Signal(str)
    failed = Signal(object, object)
    ask_where: Callable[[QWidget, Path], Path | None] = staticmethod(ask_where)

    def __init__(self, theme: Theme, word: str, *, icon: Icon | None = Icon.DONE) -> None:
        super().__init__(theme)
        self._sight: Sight | None = None
        self._plan = NO_PLAN
        self.show_face(SecondFace(word, CALENDAR_KEY, icon))
        let_grow(self)
        self.acted.connect(self.save)

    def offer(self, sight: Sight, plan: FreezerPlan = NO_PLAN) -> bool:
        """Offer the calendar of the open session, `plan` for what is outside; whether it is."""
        self._sight, self._plan = sight, plan
        offered = bool(self._entries())
        self.setVisible(offered)
        return offered

    def press_key(self, key: str) -> bool:
        """Save where this is the key for it; whether it was."""
        if key != CALENDAR_KEY or not self.isVisible():
            return False
        self.save()
        return True

    def save(self) -> None:
        """Ask where, and write what is to come."""
        sight = self._sight
        if sight is None or sight.session is None:
            return
        name = "".join(each if each.isalnum() else "-" for each in sight.session.name.lower())
        out = self.ask_where(self, sight.tools.paper_folder / f"{name}.ics")
        if out is not None:
            self._write(sight, out)

    def _entries(self) -> tuple[CalendarEntry, ...]:
        sight = self._sight
        if sight is None or sight.session is None:
            return ()
        return calendar_entries(sight.session, sight.now, self._plan)

    def _write(self, sight: Sight, out: Path) -> None:
        entries = self._entries()
        assert sight.session is not None, "only a session has something to come"
        try:
            sight.tools.papers.calendar(entries, sight.session.name, sight.now.utc, out)
        except Trouble as trouble:
            self.failed.emit(trouble, lambda: self._write(sight, out))
        else:
            count = "1 entry" if len(entries) == 1 else f"{len(entries)} entries"
            self.said.emit(f"{count} for your calendar: {out}")
