"""The freezer's calendar on a page: by when what goes in, and a file for one's own calendar."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from uuid import UUID

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from packdesk.desk.ports import Progress
from packdesk.present.freezer_plan import (
    FREEZER_HEADER,
    FreezerPlan,
    session_freezer_plan,
    waiting_lots,
    waits_for_packing,
)
from packdesk.present.known_freezers import known_freezers
from packdesk.session.book_state import BookState
from packdesk.session.state import SessionState
from packdesk.ui.pages.calendar_save import CalendarSave
from packdesk.ui.pages.long_job import LongJob, reckoning_thread
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.themed import Themed

SAVE_WIDTH = 240


PLANNED_EVERY_S = 900.0
"""A plan for days is worked out anew no more often than this while nothing is recorded."""

AGAIN_AFTER = timedelta(seconds=30)
"""A plan that could not be worked out is tried again after so long."""

WORKED_OUT_ANEW = "This is being worked out anew."


class FreezerCard(Themed):
    """The sentence, a row for each loading, notes; hidden while there is nothing to say.

    Signals:
        worked_out: the plan of a session stands here now, worked out beside the window.
    """

    worked_out = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="sheet")
        self._plan = FreezerPlan()
        self._asked: tuple[object, int] = ((), 0)
        self._job: LongJob | None = None
        self._failed_at: datetime | None = None
        self._agreed: tuple[UUID | None, object, FreezerPlan] = (None, (), FreezerPlan())
        self._sentence = Words(theme, Role.BODY)
        self._cure = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self._notes = Words(theme, Role.NOTE, weight=Weight.REGULAR, color="ink2")
        self.calendar = CalendarSave(theme, "Calendar file…")
        self._table = QWidget()
        self._grid = QGridLayout(self._table)
        self._grid.setContentsMargins(0, 0, 0, 0)
        for column, share in enumerate((34, 22, 22, 22)):
            self._grid.setColumnStretch(column, share)
        left = QVBoxLayout()
        for words in (self._sentence, self._cure):
            left.addWidget(words)
        left.addStretch(1)
        top = QHBoxLayout()
        top.setSpacing(theme.whole(16))
        top.addLayout(left, 1)
        top.addWidget(self.calendar, 0, Qt.AlignmentFlag.AlignTop)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.whole(6))
        box.addLayout(top)
        box.addWidget(self._table)
        box.addWidget(self._notes)
        self.hide()
        self.restyle()

    @property
    def text(self) -> str:
        """All that is said."""
        return "\n".join(self._plan.words)

    def show_agreed(self, sight: Sight, *, notes: bool = True) -> None:
        """Show the calendar of the open session for the packing day agreed.

        It is worked out beside the window, which takes up to a second for some loads; what was
        known of the session stands here meanwhile; once other pails are outside than it was made
        for, it says so, and is no longer offered as a file.
        """
        session, plan = sight.session, FreezerPlan()
        if session is not None and waits_for_packing(session, sight.state.book):
            of, rests_on, known = self._agreed
            if of == session.session:
                plan = known if rests_on == _rests_on(session, sight.state.book) else _anew(known)
            again = self._failed_at is not None and sight.now.utc >= self._failed_at + AGAIN_AFTER
            asked = (sight.entries, int(sight.now.utc.timestamp() // PLANNED_EVERY_S))
            if self._asked[0] is not asked[0] or self._asked[1] != asked[1] or again:
                self._asked = asked
                self._work_out(session, sight)
        self.show_plan(plan, sight, notes=notes)

    def _work_out(self, session: SessionState, sight: Sight) -> None:
        asked, book, now, tools = self._asked, sight.state.book, sight.now, sight.tools
        self._failed_at = None

        def plan(_tell: Progress) -> FreezerPlan:
            return session_freezer_plan(session, book, tools.catalog, now, tools.offset_min_at)

        def take(found: FreezerPlan) -> None:
            if self._asked is asked:
                self._agreed = (session.session, _rests_on(session, book), found)
                self.worked_out.emit()

        def miss(_trouble: object) -> None:
            if self._asked is asked:
                self._failed_at = now.utc

        if self._job is not None:
            self._job.stop()
        self._job = job = LongJob(plan, self, threads=reckoning_thread)
        job.done.connect(take)
        job.failed.connect(miss)
        for ended in (job.done, job.failed, job.stopped):
            ended.connect(job.deleteLater)
        job.start()

    def show_plan(self, plan: FreezerPlan, sight: Sight, *, notes: bool = True) -> None:
        """Show a calendar; `notes` with the room it takes."""
        self.setVisible(bool(plan.words))
        if plan.plan is not None:
            self.calendar.offer(sight, plan)
        else:
            self.calendar.hide()
        self._notes.say(*(plan.notes if notes else ()))
        if plan == self._plan:
            return
        self._plan = plan
        self._sentence.say(plan.sentence)
        self._cure.say(plan.cure)
        while (item := self._grid.takeAt(0)) is not None:
            item.widget().deleteLater()
        for line, cells in enumerate((FREEZER_HEADER, *(row.cells for row in plan.rows))):
            for column, cell in enumerate(cells):
                self._grid.addWidget(
                    self._cell(cell, head=line == 0, name=column == 0), line, column
                )
        self._table.setVisible(bool(plan.rows))
        self._table.setAccessibleName("When the freezer is loaded")

    def _cell(self, text: str, *, head: bool, name: bool) -> Words:
        if head:
            words = Words(self.theme, Role.NOTE, weight=Weight.REGULAR, color="ink2")
        else:
            weight = Weight.REGULAR if name else Weight.SEMIBOLD
            words = Words(self.theme, Role.BODY, weight=weight)
        words.say(text)
        return words

    def restyle(self) -> None:
        super().restyle()
        self.calendar.setFixedWidth(self.theme.whole(SAVE_WIDTH))
        self._grid.setHorizontalSpacing(self.theme.whole(14))
        self._grid.setVerticalSpacing(self.theme.whole(2))


def _rests_on(session: SessionState, book: BookState) -> object:
    """What makes a plan another one: the packing day, what is outside, the freezers."""
    return (session.plan, waiting_lots(session, book), known_freezers(session))


def _anew(plan: FreezerPlan) -> FreezerPlan:
    """A plan that no longer holds, as it stands until the new one is known; never for a file."""
    if not plan.sentence:
        return plan
    return replace(plan, sentence=f"{plan.sentence} {WORKED_OUT_ANEW}", plan=None)
