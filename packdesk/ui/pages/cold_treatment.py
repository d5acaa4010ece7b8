"""The page at the freezer: put pails in, read them, take them out; every lid stays on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from packdesk.present.cards import Control, WorkCard
from packdesk.present.freezer_plan import session_freezer_plan
from packdesk.present.load_due import chosen_load
from packdesk.present.load_view import FreezerSaid, load_figures_of, unfrozen_g, usual_load_g
from packdesk.present.work_cold import next_to_freeze
from packdesk.session.case import Refusal
from packdesk.session.commands import (
    BypassCold,
    Command,
    FreezeLoad,
    NoteCoreReading,
    NoteFreezerReading,
    NoteRoomReading,
    TakeLoadOut,
)
from packdesk.session.state import Load
from packdesk.session.terms import LotVerdict, Probe, Stage
from packdesk.ui.pages.core_view import CoreView, all_loads, picked
from packdesk.ui.pages.form import HALF, THIRD, TWO_THIRDS, WHOLE, Form
from packdesk.ui.pages.freezer_card import FreezerCard
from packdesk.ui.pages.inputs import AtField, OptionInput, PickInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.plan_form import capital
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Moment, Sentence, Share, usual
from packdesk.ui.widgets.choice_field import Choice
from packdesk.units import Dimension, NotUnderstood

FREEZER_C = (-90.0, 5.0)
ROOM_C = (-10.0, 50.0)
CORE_C = (-60.0, 60.0)
USUAL_FREEZER_C = -18.0
USUAL_PAIL_L = 18.9
PLANNED_EVERY_S = 900.0
"""A plan for days is worked out anew no more often than this while nothing is recorded."""


class ColdPage(Page):
    """Loads go in, readings are noted, loads come out."""

    stage = Stage.COLD_TREATMENT
    evidence_gives_way = True

    def build(self) -> None:
        self._reason_wanted = False
        self._turn_of = ""
        self._build_freeze()
        self._build_reading()
        self._build_take_out()
        self._build_bypass()
        self.freezer = FreezerCard(self.theme)
        self.freezer.said.connect(self.said)
        self.freezer.failed.connect(self.show_trouble)
        self._planned_at: tuple[object, int] = ((), 0)
        self.body.addWidget(self.freezer)
        self.core = CoreView(self.theme)
        self.core.load_chosen.connect(lambda letter: self.choose(load=letter))
        self.body.addWidget(self.core, 1)
        self.finish(stretch=False)

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        looked_at = self._cooling(sight) or all_loads(sight)
        self.core.show_loads(sight, looked_at, self._shown(sight) or picked(looked_at, self.chosen))
        self._show_freezer(sight, looked_at)
        early = card.main.form != "take_out" or self._reason_wanted
        self.forms["take_out"].inputs["reason"].setVisible(early)
        if fresh and sight.session is not None:
            self._prepare_freeze(sight)
            self._prepare_temperatures(sight)

    def press_key(self, key: str) -> bool:
        ours = (self.core, self.freezer)
        return super().press_key(key) or any(each.press_key(key) for each in ours)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "freeze":
                return Order(self._freeze(typed, sight), typed["when"])
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
        self._reason_wanted = True

    def kept(self) -> None:
        super().kept()
        self._reason_wanted = False

    def _show_freezer(self, sight: Sight, looked_at: Sequence[Load]) -> None:
        """By when what is still outside must go in, for the packing day agreed."""
        quarter = int(sight.now.utc.timestamp() // PLANNED_EVERY_S)
        if sight.session is None or (
            self._planned_at[0] is sight.entries and self._planned_at[1] == quarter
        ):
            return
        self._planned_at = (sight.entries, quarter)
        found = session_freezer_plan(
            sight.session,
            sight.state.book,
            sight.tools.catalog,
            sight.now,
            sight.tools.offset_min_at,
        )
        self.freezer.show_plan(found, sight, notes=not looked_at)

    def _cooling(self, sight: Sight) -> list[Load]:
        if sight.session is None:
            return []
        return [load for load in sight.session.loads.values() if load.taken_out is None]

    def _shown(self, sight: Sight) -> Load | None:
        cooling = self._cooling(sight)
        return chosen_load(cooling, self.chosen, sight.session, sight.now) if cooling else None

    def _freeze(self, typed: Mapping[str, Any], sight: Sight) -> FreezeLoad:
        catalog, book = sight.tools.catalog, sight.state.book
        lot = book.lots[typed["lot"]]
        if lot.food not in catalog.foods:
            raise NotUnderstood(f"{capital(lot.food_name)} is not in the catalogue any more.")
        try:
            figures = load_figures_of(
                catalog,
                lot.food,
                typed["pail"],
                typed["mass"],
                typed["start"],
                FreezerSaid(typed["freezer"]),
            )
        except ValueError as refused:
            raise AtField("mass", str(refused)) from None
        pail = catalog.pails[typed["pail"]]
        return FreezeLoad(lot.lot, pail.key, pail.name, typed["mass"], figures)

    def _reading(self, typed: Mapping[str, Any], sight: Sight) -> Command:
        where, temp_c = typed["where"], typed["temp"]
        if where == "freezer":
            return NoteFreezerReading(temp_c)
        if where == "room":
            return NoteRoomReading(temp_c, typed.get("damp"))
        load = self._shown(sight)
        if load is None:
            raise NotUnderstood("No load is in the freezer. Note the freezer or the room.")
        return NoteCoreReading(load.load, temp_c, Probe(where))

    def _prepare_freeze(self, sight: Sight) -> None:
        form = self.forms["freeze"]
        book, session, catalog = sight.state.book, sight.session, sight.tools.catalog
        planned = [line.lot for line in session.plan.lines] if session.plan is not None else []
        lots = [
            book.lots[lot]
            for lot in dict.fromkeys((*planned, *book.lots))
            if lot in book.lots and book.lots[lot].verdict is not LotVerdict.REFUSED
        ]
        waiting = [lot.lot for lot in lots if unfrozen_g(session, book, lot.lot) > 0.0]
        choices = tuple(Choice(each.lot, f"{capital(each.food_name)}, {each.lot}") for each in lots)
        turn = next_to_freeze(book, session, sight.now)
        for name in ("freeze", "bypass"):
            item = self.forms[name].inputs["lot"]
            kept = item.key if item.key in waiting and turn == self._turn_of else ""
            item.show_choices(choices, kept or turn or "".join(waiting[:1]))
        self._turn_of = turn
        pail = form.inputs["pail"]
        usual_pail = min(
            catalog.pails.values(),
            key=lambda each: abs(each.nominal_volume_l - USUAL_PAIL_L),
            default=None,
        )
        pail.show_choices(
            tuple(Choice(each.key, capital(each.name)) for each in catalog.pails.values()),
            pail.key or (usual_pail.key if usual_pail is not None else ""),
        )
        self._preset_mass()

    def _preset_mass(self) -> None:
        form, sight = self.forms["freeze"], self.sight
        if sight is None or sight.session is None or sight.session.plan is None:
            return
        lot, pail = form.inputs["lot"].key, form.inputs["pail"].key
        if form.inputs["mass"].box.isModified() or not lot or not pail:
            return
        mass_g = usual_load_g(sight.session, sight.state.book, sight.tools.catalog, lot, pail)
        said = sight.measures.mass(mass_g) if mass_g else ""
        form.inputs["mass"].preset_quantity(said)

    def _prepare_temperatures(self, sight: Sight) -> None:
        units, session = sight.units, sight.session
        expected = (
            ("freeze", "start", ROOM_C),
            ("freeze", "freezer", FREEZER_C),
            ("take_out", "room", ROOM_C),
            ("reading", "temp", CORE_C),
        )
        for form, name, within in expected:
            self.forms[form].inputs[name].expect(usual(Dimension.TEMPERATURE, units, within))
        self.forms["freeze"].inputs["mass"].expect(usual(Dimension.MASS, units, (50.0, 100_000.0)))
        rooms = session.room_readings
        packing_c = session.plan.packing_temp_c if session.plan is not None else 21.0
        room = sight.measures.temperature(rooms[-1].temp_c if rooms else packing_c)
        self.forms["freeze"].inputs["start"].preset_quantity(room)
        self.forms["take_out"].inputs["room"].preset_quantity(room)
        loads = list(session.loads.values())
        freezer_c = loads[-1].figures.freezer_temp_c if loads else USUAL_FREEZER_C
        if session.freezer_readings:
            freezer_c = session.freezer_readings[-1].temp_c
        freezer = sight.measures.temperature(freezer_c)
        self.forms["freeze"].inputs["freezer"].preset_quantity(freezer)

    # Forms --------------------------------------------------------------------------------------

    def _when(self, label: str = "When") -> TypedInput:
        moment = Moment(lambda: self.sight.now, lambda at: self.sight.tools.offset_min_at(at))
        return TypedInput(
            self.theme, label, moment, empty=None, letters=True, hint="now, or 21:30 yesterday"
        )

    def _degrees(self, label: str, within: tuple[float, float], **how: Any) -> TypedInput:
        return TypedInput(self.theme, label, usual(Dimension.TEMPERATURE, "metric", within), **how)

    def _build_freeze(self) -> None:
        theme = self.theme
        form = self.add_form("freeze", Form(theme))
        lot = PickInput(theme, "Lot", "Choose the lot that is in this pail.")
        pail = PickInput(theme, "Pail", "Choose the pail it is in.")
        for pick in (lot, pail):
            pick.chosen.connect(lambda _key: self._preset_mass())
        form.add("lot", lot, HALF)
        form.add("pail", pail, HALF)
        form.add("mass", TypedInput(theme, "Mass in this pail", usual(Dimension.MASS, "metric")))
        form.add("start", self._degrees("Food before the cold", ROOM_C))
        form.add("freezer", self._degrees("Freezer", FREEZER_C))
        form.add("when", self._when("When the lid was shut"), HALF)

    def _build_reading(self) -> None:
        theme = self.theme
        form = self.add_form("reading", Form(theme, waits=True))
        form.add("temp", self._degrees("Temperature read", CORE_C), THIRD)
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
        form.add("room", self._degrees("Room it comes into", ROOM_C))
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
