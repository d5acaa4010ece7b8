"""The page at the iron: which pouches are next, and how many were done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from packdesk.present.cards import Control, WorkCard
from packdesk.present.drawn_cells import drawn_cells
from packdesk.present.iron_words import ADVICE
from packdesk.present.short_pouches import asking, short_numbers
from packdesk.present.shut_up import JAR, OVER
from packdesk.present.tally_board import pouch_cell
from packdesk.present.work import work_card
from packdesk.present.work_sealing import reason_before, wanting_a_seam
from packdesk.session.commands import ReopenPouches, ReturnPouches, SealPouches, ShutRemainder
from packdesk.session.terms import Stage
from packdesk.ui.pages.amiss_forms import AMISS, amiss_forms, amiss_order, offer_count
from packdesk.ui.pages.aside import aside_form, aside_order
from packdesk.ui.pages.form import THIRD, WHOLE, Form
from packdesk.ui.pages.group_cells import GroupCells
from packdesk.ui.pages.inputs import TypedInput
from packdesk.ui.pages.jar_form import jar_form, jar_order, show_reckoned
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Numbers, Sentence, Whole
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role


class SealingPage(Page):
    """Seams are made, longest waiting first; a bad pouch is set aside."""

    stage = Stage.SEALING

    def build(self) -> None:
        theme = self.theme
        fewer = self.add_form("fewer", Form(theme, beside=True, waits=True))
        fewer.add(
            "count",
            TypedInput(theme, "How many", Whole("pouches"), hint="such as 5", counts=True),
            THIRD,
        )
        self.add_form("aside", aside_form(theme))
        never = self.add_form("never", Form(theme))
        reason = Sentence("Say why it is sealed all the same.")
        never.add(
            "reason",
            TypedInput(theme, "Reason for sealing it all the same", reason, letters=True),
            WHOLE,
        )
        back = self.add_form("return", Form(theme))
        back.add("pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"))
        self.add_form(JAR, jar_form(theme))
        self.add_form(OVER, jar_form(theme))
        for name, form in amiss_forms(theme).items():
            self.add_form(name, form)
        self._foremost = Words(theme, Role.BODY)
        self.body.addWidget(self._foremost)
        self._title = Words(theme, Role.BODY)
        self.body.addWidget(self._title)
        self._cells = GroupCells(theme)
        self.body.addWidget(self._cells)
        self.giving_way = (self._cells,)
        for form in self.forms.values():
            if isinstance(typed := form.inputs.get("pouches"), TypedInput):
                typed.edited.connect(lambda _text: self.choose())  # those it names are marked
        self.finish()

    def card_now(self, sight: Sight) -> WorkCard:
        if sight.session is None:
            return super().card_now(sight)
        films = sight.tools.catalog.films
        return work_card(self.stage, sight.state, self.chosen, sight.now, films)

    @property
    def reads_unseen(self) -> bool:
        """Also where it would seal what the words above the pouches say is short of absorber."""
        return super().reads_unseen or self._seals_short()

    def _seals_short(self) -> bool:
        if self.card is None or self.sight is None or self.sight.session is None:
            return False
        command, session = self.card.main.command, self.sight.session
        if not isinstance(command, SealPouches):
            return False
        about = [session.pouches[each] for each in command.pouches if each in session.pouches]
        return bool(short_numbers(asking(session, about, self.sight.now)))

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        session = sight.session
        waiting = wanting_a_seam(session) if session is not None else ()
        about = self._about(card)
        first = [pouch for pouch in waiting if pouch.number in about]
        others = [pouch for pouch in waiting if pouch.number not in about]
        self._foremost.say(*card.foremost)
        self._title.say(f"Waiting for the iron: {len(waiting)}" if waiting else "")
        if session is not None and not self.form_opened("compare"):
            offer_count(self.forms["compare"], card, session)
        if session is not None and isinstance(card.main.command, SealPouches):
            before = reason_before(session, card.main.command.pouches)
            self.forms["never"].inputs["reason"].preset(before)
        if self._opened in (JAR, OVER):
            show_reckoned(self.forms[self._opened], self.acting(), session)
        cells = drawn_cells(
            [*first, *others],
            0,
            lambda pouch: pouch_cell(session, pouch, pouch.number in about, sight.now.utc),
        )
        self._cells.show_cells(cells)

    def standing_words(self, card: WorkCard) -> tuple[str, ...]:
        """How hot the iron is to be; a form for what comes out of a packet needs the room."""
        return () if self._opened in (JAR, OVER) else super().standing_words(card)

    def _about(self, card: WorkCard) -> frozenset[int]:
        """The pouches the next press is about: those the card names, or those typed in a form."""
        form = self.forms.get(self._opened)
        if form is not None and not form.beside:
            typed = form.inputs.get("pouches")
            return frozenset((typed.peek() or ()) if typed is not None else ())
        match card.main.command:
            case SealPouches(pouches=numbers) | ReopenPouches(pouches=numbers):
                return frozenset(numbers)
        return frozenset()

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        if control.form == "never":
            assert isinstance(control.command, SealPouches), "the card seals with this form"
            return Order(replace(control.command, against_advice=typed["reason"]))
        if control.form == "aside":
            return Order(aside_order(typed))
        if control.form == ADVICE:
            self.choose(advice=not self.chosen.advice)
            return None
        if control.form == "return":
            return Order(ReturnPouches(typed["pouches"]))
        if control.form in (JAR, OVER):
            assert isinstance(control.command, ShutRemainder), "the card shuts up with this"
            return Order(jar_order(control.command, typed))
        if control.form in AMISS:
            return Order(amiss_order(control, typed))
        return super().order(control, typed, sight)
