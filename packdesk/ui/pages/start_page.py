"""The start page: the sessions of the book, a new session, how the window looks."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Mapping, Sequence
from typing import Any
from uuid import UUID

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout

from packdesk.desk.ports import SessionHead
from packdesk.instants import date_and_time
from packdesk.present.cards import Control, WorkCard
from packdesk.session.commands import OpenSession
from packdesk.session.terms import Stage
from packdesk.ui.icons import Icon
from packdesk.ui.pages.form import HALF, Form
from packdesk.ui.pages.inputs import OptionInput, TypedInput
from packdesk.ui.pages.options import Option, Options
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Sentence
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.choice import PaletteChoice
from packdesk.ui.theme.measure import TEXT_PERCENTS, Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.units import NotUnderstood

CODE_LETTERS = "ABCDEFGHJKMNPQRTUVWXY346789"
"""Letters and digits that are not taken for each other on a label."""

MOST_SESSIONS = 12

KEYS = (
    "Space: the main control. Enter: record what is typed. Figures go to the field for them.",
    "Backspace: undo. Esc: back. H: everything that happened. F: read from afar.",
)


def new_code() -> str:
    """Make up the four signs that stand on the labels of a session."""
    return "".join(secrets.choice(CODE_LETTERS) for _ in range(4))


class StartPage(Page):
    """Go on with a session, or begin one.

    Signals:
        session_chosen: the identity of the session to go on with.
        palette_chosen: a `PaletteChoice`.
        name_given: who works here, as it stands beside entries; empty for nobody.
        text_size_chosen: the size of the text in per cent.
        alarm_test_asked: the alarm is to sound once, to be heard.
    """

    session_chosen = Signal(object)
    palette_chosen = Signal(object)
    name_given = Signal(str)
    text_size_chosen = Signal(int)
    alarm_test_asked = Signal()
    stage = Stage.BEFORE

    def __init__(self, theme: Theme, tap_clock: Callable[[], float] | None = None) -> None:
        self._heads: tuple[SessionHead, ...] = ()
        self._due: Mapping[UUID, str] = {}
        self._named = ""
        self.resumes: list[SecondControl] = []
        super().__init__(theme, tap_clock)

    def build(self) -> None:
        theme = self.theme
        form = self.add_form("session", Form(theme))
        name = TypedInput(
            theme,
            "Name of the new session",
            Sentence("Write the foods and the season, such as Autumn wheat.", 60),
            letters=True,
            hint="such as Autumn wheat",
        )
        form.add("name", name, HALF)
        units = OptionInput(theme, "Units", "metric")
        units.show_options((Option("metric", "kg and °C"), Option("us", "lb and °F")), "metric")
        form.add("units", units, HALF)
        self._list_title = Words(theme, Role.BODY)
        self.body.addWidget(self._list_title)
        self._list = QVBoxLayout()
        self._list.setSpacing(theme.whole(11))
        self.body.addLayout(self._list)
        self.name = TypedInput(
            theme,
            "Your name, for the record",
            Sentence("Write a name.", 60),
            empty="",
            letters=True,
            hint="may stay empty",
        )
        self.name.committed.connect(self._take_name)
        self.body.addWidget(self.name)
        self._build_looks()
        self.finish()

    def _build_looks(self) -> None:
        """What can be set: colours, size of the text, and the sound tried out."""
        theme = self.theme
        self.colours = Options(theme, "Colours")
        self.colours.show_options(
            (
                Option(PaletteChoice.FOLLOW_SYSTEM, "As the system"),
                Option(PaletteChoice.LIGHT, "Light"),
                Option(PaletteChoice.DARK, "Dark"),
                Option(PaletteChoice.HIGH_CONTRAST, "High contrast"),
            ),
            PaletteChoice.FOLLOW_SYSTEM,
        )
        self.colours.chosen.connect(lambda key: self.palette_chosen.emit(PaletteChoice(key)))
        self.sizes = Options(theme, "Size of the text")
        percent = str(theme.measure.text_percent)
        self.sizes.show_options(
            tuple(Option(str(each), f"{each} %") for each in TEXT_PERCENTS), percent
        )
        self.sizes.chosen.connect(lambda key: self.text_size_chosen.emit(int(key)))
        self.alarm_test = SecondControl(theme, clock=self.tap_clock)
        self.alarm_test.show_face(SecondFace("Test the alarm", icon=Icon.RING))
        self.alarm_test.acted.connect(self.alarm_test_asked)
        self._keys = Words(theme, Role.NOTE, weight=Weight.REGULAR, color="ink2")
        self._keys.say(*KEYS)
        for widget in (self.colours, self.sizes, self.alarm_test, self._keys):
            self.body.addWidget(widget)

    def show_looks(self, palette: str, percent: int) -> None:
        """Mark the colours and the size of the text that are in use."""
        self.colours.choose(palette)
        self.sizes.choose(str(percent))

    def show_sessions(self, heads: Sequence[SessionHead], due: Mapping[UUID, str]) -> None:
        """List the sessions of the book, the one used last on top; `due` tells of their clocks."""
        self._heads = tuple(heads)[:MOST_SESSIONS]
        self._due = due

    def show_name(self, name: str) -> None:
        """Show who works here."""
        self._named = name
        self.name.preset(name)

    def _take_name(self) -> None:
        try:
            name = self.name.value()
        except NotUnderstood:
            return
        if name != self._named:
            self._named = name
            self.name_given.emit(name)

    def card_now(self, sight: Sight) -> WorkCard:
        """Always the way to a new session, whatever is open."""
        return WorkCard(
            stage=Stage.BEFORE,
            sentence="Start with what you bought." if not self._heads else "Begin or go on.",
            main=Control("Start a session", "Space bar or Enter", icon="add", form="session"),
            evidence=("A session is one packing project, from the plan to the last seal check.",),
        )

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        self._list_title.say("Sessions in this book" if self._heads else "")
        while len(self.resumes) > len(self._heads):
            button = self.resumes.pop()
            button.hide()
            button.deleteLater()
        while len(self.resumes) < len(self._heads):
            button = SecondControl(self.theme, clock=self.tap_clock)
            place = len(self.resumes)
            button.acted.connect(lambda place=place: self._resume(place))
            self._list.addWidget(button)
            self.resumes.append(button)
        for button, head in zip(self.resumes, self._heads, strict=True):
            at = date_and_time(head.last_at, sight.now.offset_min_at)
            how = "closed" if head.closed else "open"
            due = self._due.get(head.session, "")
            told = f"{how}, last used {at}{f'; {due}' if due else ''}"
            button.show_face(SecondFace(head.name, told, Icon.RING if due else Icon.AGAIN))

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        return Order(OpenSession(typed["name"], typed["units"], new_code()))

    def focus_main(self) -> None:
        """With nothing to go on with the first thing is the name."""
        form = self.forms["session"]
        if self._heads:
            super().focus_main()
        else:
            form.focus_on(form.inputs["name"])

    def _resume(self, place: int) -> None:
        self.session_chosen.emit(self._heads[place].session)
