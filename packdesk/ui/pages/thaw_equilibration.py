"""The page of the warming pails: know when the lid may come off, and take it off then."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.present.cards import Control, WorkCard
from packdesk.present.cold_evidence import CORE_READING
from packdesk.present.load_due import chosen_load
from packdesk.session.commands import Command, NoteCoreReading, NoteRoomReading, UncoverLoad
from packdesk.session.load import Load
from packdesk.session.terms import Probe, Stage
from packdesk.ui.pages.core_view import CoreView, all_loads, picked
from packdesk.ui.pages.form import HALF, THIRD, TWO_THIRDS, Form
from packdesk.ui.pages.inputs import OptionInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import THERMOMETER_C, Moment, Sentence, Share, usual
from packdesk.units import Dimension, NotUnderstood

ROOM = "room"


class ThawPage(Page):
    """Rooms are read, lids come off."""

    stage = Stage.THAW_EQUILIBRATION
    evidence_gives_way = True

    def build(self) -> None:
        theme = self.theme
        reading = self.add_form("reading", Form(theme))
        degrees = usual(Dimension.TEMPERATURE, "metric", THERMOMETER_C)
        reading.add("temp", TypedInput(theme, "Temperature read", degrees), THIRD)
        where = OptionInput(theme, "Where", ROOM)
        where.show_options((Option(ROOM, "Room"), Option(Probe.CORE, "Wired core probe")), ROOM)
        where.chosen.connect(lambda key: damp.setVisible(key == ROOM))
        reading.add("where", where, TWO_THIRDS)
        damp = TypedInput(theme, "Humidity, if read", Share(), empty=None)
        damp.box.set_unit("%")
        reading.add("when", self._when("When"), HALF)
        reading.add("damp", damp, THIRD)
        opened = self.add_form("open", Form(theme))
        opened.add("when", self._when("When the lid came off"), THIRD)
        early = self.add_form("early", Form(theme))
        reason = Sentence("Say why the lid comes off now.")
        early.add(
            "reason",
            TypedInput(theme, "Reason for opening it early", reason, letters=True),
            TWO_THIRDS,
        )
        early.add("when", self._when("When the lid came off"), THIRD)
        self.core = CoreView(theme)
        self.core.load_chosen.connect(lambda letter: self.choose(load=letter))
        self.core.calendar.said.connect(self.said)
        self.core.calendar.failed.connect(self.not_done.show_trouble)
        self.body.addWidget(self.core, 1)
        self.finish(stretch=False)

    def _when(self, label: str) -> TypedInput:
        moment = Moment(lambda: self.sight.now, lambda at: self.sight.tools.offset_min_at(at))
        return TypedInput(self.theme, label, moment, empty=None, letters=True, hint="now, or 21:30")

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        looked_at = self._warming(sight) or [
            load for load in all_loads(sight) if load.uncovered is not None
        ]
        self.core.show_loads(sight, looked_at, self._shown(sight) or picked(looked_at, self.chosen))
        self.foreword.say(*((CORE_READING,) if self.form_opened("reading") else ()))
        if fresh:
            degrees = usual(Dimension.TEMPERATURE, sight.units, THERMOMETER_C)
            self.forms["reading"].inputs["temp"].expect(degrees)

    def press_key(self, key: str) -> bool:
        return super().press_key(key) or self.core.press_key(key)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "reading":
                return Order(self._reading(typed, sight), typed["when"])
            case "early":
                load = self._shown(sight)
                if load is None:
                    raise NotUnderstood("No load is warming.")
                return Order(UncoverLoad(load.load, typed["reason"]), typed["when"])
            case "open":
                return Order(control.command, typed["when"])
            case _:
                return super().order(control, typed, sight)

    def _reading(self, typed: Mapping[str, Any], sight: Sight) -> Command:
        load = self._shown(sight)
        if typed["where"] == ROOM:
            return NoteRoomReading(typed["temp"], typed.get("damp"))
        if load is None:
            raise NotUnderstood("No load is warming. Note the room.")
        return NoteCoreReading(load.load, typed["temp"], Probe.CORE)

    def _warming(self, sight: Sight) -> list[Load]:
        if sight.session is None:
            return []
        return [
            load
            for load in sight.session.loads.values()
            if load.taken_out is not None and load.uncovered is None
        ]

    def _shown(self, sight: Sight) -> Load | None:
        warming = self._warming(sight)
        return chosen_load(warming, self.chosen, sight.session, sight.now) if warming else None
