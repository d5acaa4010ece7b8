"""The page at the counter: the scale, the absorbers, the zip."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout

from packdesk.present import mass_question, other_source, ready_check, shut_up
from packdesk.present.absorbers_felt import FELT
from packdesk.present.cards import Control, WorkCard
from packdesk.present.in_hand import line_in_hand
from packdesk.present.meant import meant
from packdesk.present.round_view import RoundView, round_view
from packdesk.present.shut_up import JAR, OVER
from packdesk.session.admit.filling import MOST_HANDS
from packdesk.session.commands import (
    FillPouches,
    NoteFoodLost,
    PlaceAbsorbers,
    ShutRemainder,
    WeighEmptyPouch,
)
from packdesk.session.figures import AgreedLine
from packdesk.session.terms import Stage
from packdesk.ui.pages.amiss_forms import AMISS, amiss_forms, amiss_order, offer_count
from packdesk.ui.pages.aside import aside_form, aside_order
from packdesk.ui.pages.filled_from import show_lines, show_loads
from packdesk.ui.pages.form import HALF, THIRD, Form
from packdesk.ui.pages.group_cells import GroupCells
from packdesk.ui.pages.inputs import OptionInput, TypedInput
from packdesk.ui.pages.jar_form import jar_form, jar_order, show_reckoned
from packdesk.ui.pages.packet_form import PacketForm
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.scale_forms import expect_masses, scale_forms
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Whole
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role
from packdesk.ui.widgets.packet_ribbon import PacketRibbon
from packdesk.ui.widgets.tick_row import TickRow


class FillingPage(Page):
    """Fill pouches, open a packet, drop absorbers in, press shut.

    Signals:
        alarm_test_asked: the alarm is to sound once, to be heard.
    """

    alarm_test_asked = Signal()
    stage = Stage.FILLING
    caution_first = True

    def build(self) -> None:
        theme = self.theme
        self._asked_at = 0
        """How many pouches there were when a mass was asked about."""
        self._first = Words(theme, Role.BODY)
        self.body.addWidget(self._first)
        self._ticks = TickRow(theme)
        self.body.addWidget(self._ticks)
        self._lines = OptionInput(theme, "")
        self._lines.chosen.connect(lambda key: self.choose(line=int(key), count=None))
        self.body.addWidget(self._lines)
        self._loads = OptionInput(theme, "Filled from load")
        self._loads.chosen.connect(lambda key: self.choose(loads=tuple(key.split(","))))
        self.body.addWidget(self._loads)
        for name, form in scale_forms(theme).items():
            self.add_form(name, form)
        self._packet = self.add_form("packet", PacketForm(theme))
        self._packet.looked.connect(self._looked)
        self.add_form(JAR, jar_form(theme))
        self.add_form(OVER, jar_form(theme))
        for name, form in amiss_forms(theme).items():
            self.add_form(name, form)
        self.add_form("aside", aside_form(theme))
        hands = self.add_form("hands", Form(theme))
        people = Whole("people", 1, MOST_HANDS)
        hands.add("hands", TypedInput(theme, "People at the counter", people, hint="1"), HALF)
        fewer = self.add_form("fewer", Form(theme, beside=True, waits=True))
        fewer.add(
            "count",
            TypedInput(theme, "How many", Whole("pouches"), hint="such as 5", counts=True),
            THIRD,
        )
        self._foremost = Words(theme, Role.BODY)
        self.body.addWidget(self._foremost)
        heads = QHBoxLayout()
        self._title = Words(theme, Role.BODY)
        self._progress = Words(theme, Role.BODY)
        heads.addWidget(self._title, 1)
        heads.addWidget(self._progress)
        self.body.addLayout(heads)
        self._cells = GroupCells(theme)
        self.body.addWidget(self._cells)
        self._ribbon = PacketRibbon(theme)
        self.body.addWidget(self._ribbon)
        self.giving_way = (self._ribbon, self._cells)
        self.finish()

    def kept(self) -> None:
        super().kept()
        self.chosen = replace(self.chosen, loads=(), opening=None)

    def _looked(self) -> None:
        """The words follow what is picked in the form of a packet or jar."""
        if self.sight is not None and self._packet.opening != self.chosen.opening:
            self.choose(opening=self._packet.opening)

    def card_now(self, sight: Sight) -> WorkCard:
        """The card, with a check that is on record, or a question that is overtaken, forgotten."""
        session = sight.session
        if session is None or session.ready_for or any(r.left for r in session.rounds.values()):
            self.chosen = replace(self.chosen, ready=None)
        if session is None or len(session.pouches) != self._asked_at:
            self.chosen = replace(self.chosen, asked=None)
        return super().card_now(sight)

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        session = sight.session
        tally = line_in_hand(session, self.chosen) if session is not None else None
        if tally is None:
            for widget in (
                self._ticks,
                self._lines,
                self._loads,
                self._first,
                self._foremost,
                self._title,
                self._progress,
                self._cells,
                self._ribbon,
            ):
                widget.hide()
            return
        show_loads(self._loads, session, tally.line, card.main.command)
        view = round_view(session, tally, self._meant(card), sight.now, self.chosen.round)
        at_the_scale = self.form_shown() is self.forms["fill"]
        above = card.foremost if at_the_scale and not self._opened else ()
        self._first.say(*above)
        self._foremost.say(*(() if above else card.foremost), *view.foremost)
        check = self.chosen.ready if card.main.form in (ready_check.TICK, "") else None
        self._ticks.show_ticks(ready_check.ready_ticks(session, check) if check is not None else ())
        if check is not None and not ready_check.wants_pouches_in_sight(session, check):
            view = replace(view, cells=())
        if card.main.form == FELT:  # it is about pouches that are shut, not about those to come
            view = replace(view, title="", progress="", cells=())
        self._show_round(view, bool(card.foremost or view.foremost))
        if not self.form_opened("compare"):
            offer_count(self.forms["compare"], card, session)
        if self._opened in (JAR, OVER):
            show_reckoned(self.forms[self._opened], self.acting(), session)
        if fresh:
            busy = self._opened or self.chosen.ready is not None or self.chosen.asked is not None
            show_lines(self._lines, session, tally.line.line, busy=bool(busy))
            expect_masses(self.forms, session, tally.line, sight.units)
            if any(control.form == "packet" for control in (card.main, *card.seconds)):
                self._packet.show_offer(tally.line, sight)

    def _meant(self, card: WorkCard) -> int:
        """How many pouches the next press means; none while an act of its own is filled in."""
        return 0 if self._opened and self._turn.acting.title else meant(card.main)

    def standing_words(self, card: WorkCard) -> tuple[str, ...]:
        """How far the work is; a form for what comes out of a packet, or of a hand, needs room."""
        return () if self._form_needs_room() else super().standing_words(card)

    def evidence_words(self, card: WorkCard) -> tuple[str, ...]:
        return () if self._form_needs_room() else super().evidence_words(card)

    def _form_needs_room(self) -> bool:
        shown = self.form_shown()
        return shown is not None and shown in (self._packet, self.forms[JAR], self.forms[OVER])

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "fill":
                assert isinstance(control.command, FillPouches), "the card fills with this form"
                return self._filled(replace(control.command, shown_g=typed["mass"]), sight)
            case mass_question.WEIGH_AGAIN:
                self.choose(asked=None)
                return None
            case ready_check.OPEN_CHECK:
                line, catalog = self._line(sight), sight.tools.catalog
                self.choose(ready=ready_check.new_check(sight.session, line, catalog))
                self.focus_main()
                return None
            case ready_check.TICK:
                self._tick(sight)
                return None
            case ready_check.HANDS:
                self._take_hands(typed["hands"])
                return None
            case other_source.TAKE_FROM:
                assert isinstance(control.command, PlaceAbsorbers), "the card takes with this"
                self.choose(round=control.command.round)
                self.focus_main()
                return None
            case "tare":
                return Order(WeighEmptyPouch(self._line(sight).pouch, typed["tare"]))
            case "lost":
                line = self._line(sight).line
                return Order(NoteFoodLost(line, typed["mass"], typed["reason"]))
            case "aside":
                return Order(aside_order(typed))
            case "alarm_test":
                self.alarm_test_asked.emit()
                return None
            case "packet":
                return Order(self._packet.order(typed, sight))
            case shut_up.JAR | shut_up.OVER:
                assert isinstance(control.command, ShutRemainder), "the card shuts up with this"
                return Order(jar_order(control.command, typed))
            case form if form in AMISS:
                return Order(amiss_order(control, typed))
            case _:
                return super().order(control, typed, sight)

    def take_digits(self, text: str, *, anew: bool = False) -> bool:
        """A new mass, as from a scale, takes the place of one that is asked about."""
        if self.chosen.asked is not None:
            self.choose(asked=None)
        if self.form_shown() is None and self.card is not None:
            # «4 are in the jar»: who counts another number types it.
            ways = [each for each in self.card.seconds if each.form == JAR]
            if ways and isinstance(self.card.main.command, ShutRemainder):
                self.open_form(JAR)
        return super().take_digits(text, anew=anew)

    @property
    def needs_looking(self) -> bool:
        return self.chosen.asked is not None or super().needs_looking

    def close_form(self) -> bool:
        """Close what was opened by hand: a form, the ready check, a question."""
        if super().close_form():
            return True
        opened = self.chosen.ready is not None or self.chosen.asked is not None
        if opened:
            self.choose(ready=None, asked=None)
            self.focus_main()
        return opened

    def _line(self, sight: Sight) -> AgreedLine:
        """The plan line in hand, which a control of its card has been pressed for."""
        assert sight.session is not None, "pressed only with a session open"
        tally = line_in_hand(sight.session, self.chosen)
        assert tally is not None, "a control was offered for it"
        return tally.line

    def _filled(self, command: FillPouches, sight: Sight) -> Order | None:
        """Count pouches as filled, unless their mass is to be asked about first."""
        line = self._line(sight)
        if mass_question.doubt_of(sight.session, line, command) is None:
            return Order(command)
        self._asked_at = len(sight.session.pouches)
        self.forms["fill"].clear()
        self.choose(asked=command)
        self.focus_main()
        return None

    def _tick(self, sight: Sight) -> None:
        """Tick what is asked for, or sound the alarm that is to be heard."""
        check = self.chosen.ready
        assert check is not None, "its control stands there only while a check is under way"
        pressed = ready_check.pressed(sight.session, check)
        if pressed.sounded and not check.sounded:
            self.alarm_test_asked.emit()
        self.choose(ready=pressed)

    def _take_hands(self, hands: int) -> None:
        self.forms["hands"].clear()
        self._opened = ""
        self.choose(ready=replace(self.chosen.ready, hands=hands))
        self.focus_main()

    def _show_round(self, view: RoundView, crowded: bool) -> None:
        self._title.say(view.title if view.cells else "")
        self._progress.say(view.progress if view.cells else "")
        drawn = not self._form_needs_room()
        self._cells.show_cells(view.cells if drawn else ())
        self._ribbon.setVisible(view.packet is not None and drawn)
        if view.packet is not None:
            self._ribbon.show_face(view.packet)
        stands = view.standing[:1] if crowded else view.standing
        self.more_standing = stands
        self.more_evidence = (*view.standing[len(stands) :], *view.sentences)
        self.count_afar = view.progress
