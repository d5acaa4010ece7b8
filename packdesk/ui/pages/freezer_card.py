"""The freezer's calendar on a page: by when what goes in, and a file for one's own calendar."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from packdesk.desk.ports import Trouble
from packdesk.present.calendar_entries import calendar_entries
from packdesk.present.freezer_plan import FREEZER_HEADER, FreezerPlan
from packdesk.ui.icons import Icon
from packdesk.ui.pages.paper_shelf import ask_where
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.words import Words, let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.themed import Themed

CALENDAR_KEY = "K"
SAVE_WIDTH = 240


class FreezerCard(Themed):
    """The sentence, a row for each loading, notes; hidden while there is nothing to say.

    Signals:
        said: a sentence about what was done.
        failed: a `Trouble`, and what to call to try again.
    """

    said = Signal(str)
    failed = Signal(object, object)
    ask_where: Callable[[QWidget, Path], Path | None] = staticmethod(ask_where)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="sheet")
        self._plan = FreezerPlan()
        self._sight: Sight | None = None
        self._sentence = Words(theme, Role.BODY)
        self._cure = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self._notes = Words(theme, Role.NOTE, weight=Weight.REGULAR, color="ink2")
        self.save_control = SecondControl(theme)
        self.save_control.show_face(SecondFace("Calendar file…", CALENDAR_KEY, Icon.DONE))
        let_grow(self.save_control)
        self.save_control.acted.connect(self.save)
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
        top.addWidget(self.save_control, 0, Qt.AlignmentFlag.AlignTop)
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

    def show_plan(self, plan: FreezerPlan, sight: Sight, *, notes: bool = True) -> None:
        """Show a calendar; `notes` with the room it takes."""
        self._sight = sight
        self.setVisible(bool(plan.words))
        self._notes.say(*(plan.notes if notes else ()))
        if plan == self._plan:
            return
        self._plan = plan
        self._sentence.say(plan.sentence)
        self._cure.say(plan.cure)
        self.save_control.setVisible(plan.plan is not None)
        while (item := self._grid.takeAt(0)) is not None:
            item.widget().deleteLater()
        for line, cells in enumerate((FREEZER_HEADER, *(row.cells for row in plan.rows))):
            for column, cell in enumerate(cells):
                self._grid.addWidget(
                    self._cell(cell, head=line == 0, name=column == 0), line, column
                )
        self._table.setVisible(bool(plan.rows))
        self._table.setAccessibleName("When the freezer is loaded")

    def press_key(self, key: str) -> bool:
        """Save where this is the key for it; whether it was."""
        if key != CALENDAR_KEY or self.isHidden() or self._plan.plan is None:
            return False
        self.save()
        return True

    def save(self) -> None:
        """Ask where, and write what is to come as a file for the person's own calendar."""
        sight = self._sight
        if sight is None or sight.session is None:
            return
        name = "".join(each if each.isalnum() else "-" for each in sight.session.name.lower())
        out = self.ask_where(self, sight.tools.paper_folder / f"{name}.ics")
        if out is not None:
            self._write(sight, out)

    def _write(self, sight: Sight, out: Path) -> None:
        entries = calendar_entries(sight.session, sight.now, self._plan)
        try:
            sight.tools.papers.calendar(entries, sight.session.name, sight.now.utc, out)
        except Trouble as trouble:
            self.failed.emit(trouble, lambda: self._write(sight, out))
        else:
            count = "1 entry" if len(entries) == 1 else f"{len(entries)} entries"
            self.said.emit(f"{count} for your calendar: {out}")

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
        self.save_control.setFixedWidth(self.theme.whole(SAVE_WIDTH))
        self._grid.setHorizontalSpacing(self.theme.whole(14))
        self._grid.setVerticalSpacing(self.theme.whole(2))
