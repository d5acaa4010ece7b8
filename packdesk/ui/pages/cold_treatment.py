"""The page at the freezer: put pails in, read them, take them out; every lid stays on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QTimer

from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import HEAT_TREATMENT
from packdesk.present.cold_evidence import CORE_READING, out_now, rule_choices
from packdesk.present.load_due import chosen_load
from packdesk.sentences import capital
from packdesk.session.case import Refusal
from packdesk.session.commands import (
    BypassCold,
    ChooseColdRule,
    Command,
    NoteCoreReading,
    NoteFreezerReading,
    NoteRoomReading,
    TakeLoadOut,
)
from packdesk.session.load import Load
from packdesk.session.packing_room import known_room_c
from packdesk.session.terms import ColdRule, LotVerdict, Probe, Stage
from packdesk.ui.pages.core_view import CoreView, all_loads, picked
from packdesk.ui.pages.form import HALF, THIRD, TWO_THIRDS, WHOLE, Form
from packdesk.ui.pages.freeze_form import FreezeForm
from packdesk.ui.pages.freezer_card import FreezerCard
from packdesk.ui.pages.inputs import OptionInput, PickInput, TypedInput
from packdesk.ui.pages.long_job import LongJob, reckoning_thread
from packdesk.ui.pages.options import Option, Options
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import THERMOMETER_C, Moment, Sentence, Share, usual
from packdesk.ui.widgets.choice_field import Choice
from packdesk.units import Dimension, NotUnderstood


class ColdPage(Page):
    """Loads go in, readings are noted, loads come out."""

    stage = Stage.COLD_TREATMENT
    evidence_gives_way = True

    def build(self) -> None:
        self._reason_wanted = False
        self.add_form("freeze", FreezeForm(self.theme, self._when("When the lid was shut")))
        self._build_reading()
        self._build_take_out()
        self._build_bypass()
        self._rules = Options(self.theme, "")
        self._rules.chosen.connect(self._choose_rule)
        self.freezer = FreezerCard(self.theme)
        self.freezer.calendar.said.connect(self.said)
        self.freezer.calendar.failed.connect(self.not_done.show_trouble)
        self.freezer.worked_out.connect(self._planned)
        self.body.addWidget(self.freezer)
        self.core = CoreView(self.theme)
        self.core.load_chosen.connect(lambda letter: self.choose(load=letter))
        self.core.calendar.said.connect(self.said)
        self.core.calendar.failed.connect(self.not_done.show_trouble)
        self.body.addWidget(self.core, 1)
        self.body.addWidget(self._rules)
        self.finish(stretch=False)

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        looked_at = self._cooling(sight) or all_loads(sight)
        self.freezer.show_agreed(sight, notes=not looked_at)
        self.core.show_loads(
            sight,
            looked_at,
            self._shown(sight) or picked(looked_at, self.chosen),
            calendar=self.freezer.calendar.isHidden(),
        )
        early = card.main.form != "take_out" or self._reason_wanted
        self.forms["take_out"].inputs["reason"].setVisible(early)
        shown = self._shown(sight)
        self._show_rules(sight, shown if card.main.form != "take_out" else None)
        if fresh and sight.session is not None:
            self.forms["freeze"].prepare(sight)
            self._prepare_bypass(sight)
            self._prepare_temperatures(sight)
        self.foreword.say(*self._of_form(card, sight, shown))

    def press_key(self, key: str) -> bool:
        ours = (self.core, self.freezer.calendar)
        return super().press_key(key) or any(each.press_key(key) for each in ours)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "freeze":
                return Order(self.forms["freeze"].ordered(typed, sight), typed["when"])
            case "reading":
                return Order(self._reading(typed, sight), typed["when"])
            case "take_out":
                load = self._shown(sight)
                if load is None:
                    raise NotUnderstood("No load is in the freezer.")
                command = TakeLoadOut(
                    load.load, typed["room"], typed["damp"], typed.get("reason", "")
                )
                return Order(command, typed["when"])
            case "bypass":
                return Order(BypassCold(typed["lot"], typed["reason"]))
            case _:
                return super().order(control, typed, sight)

    def refused(self, refusal: Refusal) -> None:
        """A refusal may ask for the reason why a load comes out."""
        super().refused(refusal)
        self._reason_wanted = self._reason_wanted or not refusal.question

    def kept(self) -> None:
        super().kept()
        self._reason_wanted = False

    def _cooling(self, sight: Sight) -> list[Load]:
        if sight.session is None:
            return []
        return [load for load in sight.session.loads.values() if load.taken_out is None]

    def _shown(self, sight: Sight) -> Load | None:
        cooling = self._cooling(sight)
        return chosen_load(cooling, self.chosen, sight.session, sight.now) if cooling else None

    def _reading(self, typed: Mapping[str, Any], sight: Sight) -> Command:
        where, temp_c = typed["where"], typed["temp"]
        if where.startswith("freezer"):
            return NoteFreezerReading(temp_c, int(where.removeprefix("freezer") or 1))
        if where == "room":
            return NoteRoomReading(temp_c, typed.get("damp"))
        load = self._shown(sight)
        if load is None:
            raise NotUnderstood("No load is in the freezer. Note the freezer or the room.")
        return NoteCoreReading(load.load, temp_c, Probe(where))

    def _of_form(self, card: WorkCard, sight: Sight, shown: Load | None) -> tuple[str, ...]:
        """What is to be known while a form is filled in."""
        opened = next((name for name in self.forms if self.form_opened(name)), card.main.form)
        if opened == "freeze":
            asked = self.refusal.isVisible()
            warning = "" if asked else self._warning(sight)
            return tuple(words for words in (self._filled_to(sight), warning) if words)
        if opened == "reading" and self.form_opened("reading"):
            return (CORE_READING,)
        if opened == "bypass":
            return HEAT_TREATMENT
        early = opened == "take_out" and self.form_opened("take_out")
        if early and shown is not None and sight.session is not None:
            return out_now(sight.session, shown, sight.now, sight.measures)
        return ()

    def _filled_to(self, sight: Sight) -> str:
        return str(self.forms["freeze"].filled_to(sight))

    def _warning(self, sight: Sight) -> str:
        """What would be asked of the next load, as last worked out."""
        form: FreezeForm = self.forms["freeze"]
        if form.asks_anew(sight):
            QTimer.singleShot(0, self, self._work_out_warning)
        return form.warned

    def _work_out_warning(self) -> None:
        """Beside the window: with some loads in the freezer it takes a third of a second."""
        form: FreezeForm = self.forms["freeze"]
        if self.sight is None or not self.isVisible() or not form.asks_anew(self.sight):
            return
        ask = form.asking(self.sight)
        if ask is None:
            return
        job = LongJob(lambda _tell: ask(), self, threads=reckoning_thread)
        job.done.connect(self._warn)
        for ended in (job.done, job.failed, job.stopped):
            ended.connect(job.deleteLater)
        job.start()

    def _warn(self, question: str) -> None:
        form: FreezeForm = self.forms["freeze"]
        if self.sight is not None and not form.asks_anew(self.sight):
            form.take_answer(question)
            self._renew(fresh=False)

    def _planned(self) -> None:
        if self.sight is not None and self.isVisible():
            self._renew(fresh=False)

    def _show_rules(self, sight: Sight, shown: Load | None) -> None:
        """The two rules side by side, each with its range; the one that governs is chosen.

        Not of a load that is cold enough: it is to come out, and the plot needs the room.
        """
        choices = (
            rule_choices(sight.session, shown, sight.now, sight.measures)
            if sight.session is not None and shown is not None
            else ()
        )
        form_opened = any(self.form_opened(name) for name in self.forms)
        self._rules.setVisible(bool(choices) and not form_opened)
        if choices:
            governs = next(each.rule for each in choices if each.governs)
            self._rules.show_options(
                tuple(Option(each.rule, each.name, each.when) for each in choices), governs
            )

    def _choose_rule(self, key: str) -> None:
        if self.sight is None or self.sight.session is None:
            return
        if self.sight.session.cold_rule != key:
            self.submitted.emit(ChooseColdRule(ColdRule(key)), None)

    def _prepare_bypass(self, sight: Sight) -> None:
        book, lots = sight.state.book, self.forms["freeze"].inputs["lot"]
        choices = tuple(
            Choice(each.lot, f"{capital(each.food_name)}, {each.lot}")
            for each in book.lots.values()
            if each.verdict is not LotVerdict.REFUSED
        )
        item = self.forms["bypass"].inputs["lot"]
        item.show_choices(choices, lots.key)

    def _prepare_temperatures(self, sight: Sight) -> None:
        units, session = sight.units, sight.session
        expected = (
            ("take_out", "room", THERMOMETER_C),
            ("reading", "temp", THERMOMETER_C),
        )
        for form, name, within in expected:
            self.forms[form].inputs[name].expect(usual(Dimension.TEMPERATURE, units, within))
        room = sight.measures.temperature(known_room_c(session))
        self.forms["take_out"].inputs["room"].preset_quantity(room)
        where = self.forms["reading"].inputs["where"]
        freezers = sorted({load.figures.freezer for load in session.loads.values()} or {1})
        where.show_options(
            (
                Option("core", "Core"),
                Option("wall", "Pail wall"),
                *(
                    Option(
                        f"freezer{each}" if each > 1 else "freezer",
                        "Freezer" if len(freezers) == 1 else f"Freezer {each}",
                    )
                    for each in freezers
                ),
                Option("room", "Room"),
            ),
            where.key or "core",
        )

    # Forms --------------------------------------------------------------------------------------

    def _when(self, label: str = "When") -> TypedInput:
        moment = Moment(lambda: self.sight.now, lambda at: self.sight.tools.offset_min_at(at))
        return TypedInput(
            self.theme, label, moment, empty=None, letters=True, hint="now, or 21:30 yesterday"
        )

    def _degrees(self, label: str, within: tuple[float, float], **how: Any) -> TypedInput:
        return TypedInput(self.theme, label, usual(Dimension.TEMPERATURE, "metric", within), **how)

    def _build_reading(self) -> None:
        theme = self.theme
        form = self.add_form("reading", Form(theme, waits=True))
        form.add("temp", self._degrees("Temperature read", THERMOMETER_C), THIRD)
        where = OptionInput(theme, "Where", "core")
        where.show_options(
            (
                Option("core", "Core"),
                Option("wall", "Pail wall"),
                Option("freezer", "Freezer"),
                Option("room", "Room"),
            ),
            "core",
        )
        where.chosen.connect(lambda key: form.inputs["damp"].setVisible(key == "room"))
        form.add("where", where, TWO_THIRDS)
        form.add("when", self._when(), HALF)
        damp = TypedInput(theme, "Humidity, if read", Share(), empty=None)
        damp.box.set_unit("%")
        form.add("damp", damp, THIRD)
        damp.hide()

    def _build_take_out(self) -> None:
        theme = self.theme
        form = self.add_form("take_out", Form(theme))
        form.add("room", self._degrees("Room it comes into", THERMOMETER_C))
        damp = TypedInput(theme, "Humidity, if read", Share(), empty=None)
        damp.box.set_unit("%")
        form.add("damp", damp)
        form.add("when", self._when())
        reason = Sentence("Say why it comes out early.")
        form.add(
            "reason",
            TypedInput(theme, "Reason, if before its time", reason, empty="", letters=True),
            WHOLE,
        )

    def _build_bypass(self) -> None:
        theme = self.theme
        form = self.add_form("bypass", Form(theme))
        form.add("lot", PickInput(theme, "Lot", "Choose the lot that needs no cold."), HALF)
        reason = Sentence("Say why this lot needs no cold, such as salt or sugar.")
        form.add("reason", TypedInput(theme, "Reason", reason, letters=True), HALF)
