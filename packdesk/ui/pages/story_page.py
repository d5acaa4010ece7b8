"""Every entry of the session in words; one that was wrong is voided here, with a reason."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QBrush, QPalette
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QSizePolicy

from packdesk.present.cards import Control, WorkCard
from packdesk.present.outlines import OutlineLine
from packdesk.present.plan_change import lines_apart
from packdesk.present.story import about, story_lines
from packdesk.session.case import Refusal
from packdesk.session.commands import AddNote, TakeCount, VoidFact
from packdesk.session.envelope import Entry
from packdesk.session.liners import liner_numbers
from packdesk.session.terms import PouchStage, Stage
from packdesk.ui.pages.form import THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import PickInput, TypedInput
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Sentence, Whole
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.widgets.choice_field import Choice
from packdesk.units import NotUnderstood

LEAST_LIST = 150
COUNTED = (
    PouchStage.FILLED,
    PouchStage.ABSORBERS_IN,
    PouchStage.PRESSED_SHUT,
    PouchStage.SEALED,
    PouchStage.STOWED,
    PouchStage.SEAL_CHECKED,
    PouchStage.SET_ASIDE,
)


class StoryPage(Page):
    """The story of the session, the latest entry on top; notes, counts and voidings."""

    stage = Stage.AFTER

    def build(self) -> None:
        theme = self.theme
        self._along: tuple[UUID, ...] = ()
        self._listed: tuple[Entry, ...] | None = None
        self._told: tuple[Entry, ...] = ()
        note = self.add_form("note", Form(theme))
        note.add(
            "text",
            TypedInput(theme, "Note", Sentence("Write the note.", 400), letters=True),
            WHOLE,
        )
        void = self.add_form("void", Form(theme))
        reason = Sentence("Say why the entry does not count.")
        void.add(
            "reason",
            TypedInput(theme, "Why the chosen entry does not count", reason, letters=True),
            WHOLE,
        )
        count = self.add_form("count", Form(theme))
        count.add("line", PickInput(theme, "Food", "Choose what you counted."), THIRD)
        what = PickInput(theme, "Pouches that are", "Choose how far they have come.")
        what.show_choices(
            tuple(Choice(each, each.replace("_", " ")) for each in COUNTED), PouchStage.SEALED
        )
        count.add("what", what, THIRD)
        counted = TypedInput(theme, "Counted by hand", Whole("pouches", 0), hint="such as 12")
        count.add("counted", counted, THIRD)
        self._rests = Words(theme, Role.NOTE, weight=Weight.REGULAR)
        self.body.addWidget(self._rests)
        self.list = QListWidget()
        self.list.setAccessibleName("Entries, the latest first")
        self.list.setFrameShape(QListWidget.Shape.NoFrame)
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.list.setMinimumHeight(theme.whole(LEAST_LIST))
        self.list.currentItemChanged.connect(lambda _now, _then: self._forget_rests())
        self.body.addWidget(self.list, 1)
        self.finish(stretch=False)
        self._dress_list()

    def card_now(self, sight: Sight) -> WorkCard:
        """The same at every time: what happened, and what can be put right."""
        several = len(self._along) + 1
        return WorkCard(
            stage=Stage.AFTER,
            sentence="What happened, the latest on top.",
            main=Control("Write this down", "Enter", icon="edit", form="note"),
            seconds=(
                Control(
                    "Void an entry",
                    icon="refuse",
                    key="V",
                    form="void",
                    act="This does not count" if several == 1 else f"These {several} do not count",
                ),
                Control("Count by hand", icon="rule", key="C", form="count", act="Note this count"),
            ),
        )

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        if not fresh or sight.session is None:
            return
        plan = sight.session.plan
        line = self.forms["count"].inputs["line"]
        lines = plan.lines if plan is not None else ()
        names = lines_apart(lines, sight.units)
        choices = tuple(Choice(str(each), name) for each, name in names.items())
        line.show_choices(choices, line.key or (choices[0].key if choices else ""))
        if self._listed is not sight.entries:
            self._list_entries(sight)

    def _list_entries(self, sight: Sight) -> None:
        """Set the list anew; the entry chosen stays chosen, and nobody is told."""
        assert sight.session is not None, "prepare() shows a session only"
        self._listed = sight.entries
        self._told = about(sight.entries, sight.session)
        chosen = self._target()
        told = _lines(self._told, sight)
        with QSignalBlocker(self.list):
            self.list.clear()
            for entry, words in reversed(list(zip(self._told, told, strict=True))):
                item = QListWidgetItem(f"{words.when}   {words.words}")
                if words.voided:
                    font = self.theme.font(Role.NOTE, Weight.REGULAR)
                    font.setStrikeOut(True)
                    item.setFont(font)
                    item.setForeground(QBrush(self.theme.color("ink2")))
                    item.setToolTip(f"Does not count: {words.voided}")
                item.setData(Qt.ItemDataRole.UserRole, str(entry.id))
                self.list.addItem(item)
                if chosen == entry.id:
                    self.list.setCurrentItem(item)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "note":
                return Order(AddNote(typed["text"]))
            case "count":
                return Order(TakeCount(int(typed["line"]), typed["what"], typed["counted"]))
            case "void":
                target = self._target()
                if target is None:
                    raise NotUnderstood("No entry is chosen. Choose one in the list below.")
                return Order(VoidFact(target, typed["reason"], self._along))
            case _:
                return super().order(control, typed, sight)

    def refused(self, refusal: Refusal) -> None:
        """Show what rests on the chosen entry; the next press voids them together."""
        super().refused(refusal)
        if not refusal.rests or self.sight is None:
            return
        self._along = refusal.rests
        told = dict(
            zip(
                (entry.id for entry in self.sight.entries),
                _lines(self.sight.entries, self.sight),
                strict=True,
            )
        )
        self._rests.say(*(told[each].words for each in refusal.rests))
        self.choose()

    def kept(self) -> None:
        self._along = ()
        self._rests.say()
        super().kept()

    def close_form(self) -> bool:
        self._forget_rests()
        return super().close_form()

    def restyle(self) -> None:
        super().restyle()
        if hasattr(self, "list"):
            self._dress_list()

    def _target(self) -> UUID | None:
        item = self.list.currentItem()
        return UUID(item.data(Qt.ItemDataRole.UserRole)) if item is not None else None

    def _forget_rests(self) -> None:
        if self._along:
            self._along = ()
            self._rests.say()
            self.not_done.clear()
            self.choose()

    def _dress_list(self) -> None:
        theme = self.theme
        self.list.setFont(theme.font(Role.NOTE, Weight.REGULAR))
        palette = QPalette(self.list.palette())
        for role, color in (
            (QPalette.ColorRole.Base, "sheet"),
            (QPalette.ColorRole.Text, "ink"),
            (QPalette.ColorRole.Highlight, "haze"),
            (QPalette.ColorRole.HighlightedText, "ink"),
        ):
            palette.setColor(role, theme.color(color))
        self.list.setPalette(palette)
        self.list.setSpacing(theme.whole(4))


def _lines(entries: Sequence[Entry], sight: Sight) -> tuple[OutlineLine, ...]:
    """The entries in words, liners called so."""
    assert sight.session is not None, "entries are told of a session only"
    liners = liner_numbers(sight.session)
    return story_lines(entries, sight.measures, sight.now, liners=liners)
