"""The page before the cold: receive what was bought, plan what it goes into, agree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from packdesk.present.cards import Control, WorkCard
from packdesk.present.load_view import short_food
from packdesk.present.look_over import LOOK_AGAIN, LOOK_OVER, RECEIVE
from packdesk.present.plan_offer import PlanOffer, lots_of, plan_offer
from packdesk.present.work_before import before_card
from packdesk.sentences import capital
from packdesk.session.book_state import Lot
from packdesk.session.commands import AgreePlan, LookAtLot, ReceiveLot
from packdesk.session.terms import LotVerdict, Stage
from packdesk.ui.pages.form import HALF, THIRD, TWO_THIRDS, WHOLE, Form
from packdesk.ui.pages.freezer_card import FreezerCard
from packdesk.ui.pages.inputs import AtField, OptionInput, PickInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.plan_form import PlanForm
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Moment, Sentence, usual
from packdesk.ui.widgets.choice_field import Choice
from packdesk.units import Dimension, NotUnderstood

NO_OFFER = PlanOffer((), (), ())


class BeforePage(Page):
    """Lots come in, pouches are chosen, the plan is agreed."""

    stage = Stage.BEFORE

    def build(self) -> None:
        self.offer = NO_OFFER
        self._build_lot()
        self._build_again()
        self._plan = PlanForm(
            self.theme,
            lambda: self.sight.now,
            lambda at: self.sight.tools.offset_min_at(at),
        )
        self._plan.changed.connect(self._work_out)
        self._plan.lot_left.connect(self._leave)
        self._plan.lot_joined.connect(self._join)
        self.add_form("plan", self._plan)
        self.freezer = FreezerCard(self.theme)
        self.freezer.calendar.said.connect(self.said)
        self.freezer.calendar.failed.connect(self.not_done.show_trouble)
        self.freezer.worked_out.connect(self._planned)
        self.body.addWidget(self.freezer)
        self.finish()

    def card_now(self, sight: Sight) -> WorkCard:
        if sight.session is None:
            return super().card_now(sight)
        lots = self._lots(sight)
        card = before_card(
            sight.state.book,
            sight.session,
            replace(self.chosen, lots=tuple(lot.lot for lot in lots)),
        )
        if self.form_opened("lot"):
            return replace(card, sentence=RECEIVE, evidence=LOOK_OVER)
        if self.form_opened("again"):
            return replace(card, sentence=LOOK_AGAIN, evidence=LOOK_OVER)
        unfit = [line for line in self.offer.lines if line.unfit]
        planning = card.main.form == "plan" or self.form_opened("plan")
        if planning and not unfit and self.offer.freezer.short:
            return replace(card, sentence=self.offer.freezer.short)
        if card.main.form != "plan" or not unfit:
            return card
        food = short_food(unfit[0].food_name)
        return replace(
            card,
            sentence=f"Settle the {food}, then agree the plan.",
            main=replace(card.main, missing=f"Settle the {food} first"),
        )

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        if not fresh or sight.session is None:
            return
        self._prepare_forms(sight)
        self._show_freezer(sight)

    def _prepare_forms(self, sight: Sight) -> None:
        lots_known = [
            each
            for each in sight.state.book.lots.values()
            if each.verdict is not LotVerdict.REFUSED
        ]
        again = self.forms["again"].inputs["lot"]
        apart = [each.lot for each in lots_known if each.verdict is LotVerdict.QUARANTINED]
        again.show_choices(
            tuple(
                Choice(each.lot, f"{capital(each.food_name)}, {each.lot}, {each.verdict}")
                for each in lots_known
            ),
            again.key or "".join(apart[:1]),
        )
        units = sight.units
        lot = self.forms["lot"]
        lot.inputs["food"].show_choices(
            tuple(
                Choice(key, capital(food.name)) for key, food in sight.tools.catalog.foods.items()
            ),
            lot.inputs["food"].key,
        )
        lot.inputs["mass"].expect(usual(Dimension.MASS, units, (50.0, 2_000_000.0)))
        lots = self._lots(sight)
        accepted = [
            each
            for each in sight.state.book.lots.values()
            if each.verdict is LotVerdict.ACCEPTED and each not in lots
        ]
        pouches = tuple(sight.tools.catalog.pouches.values())
        self._plan.show_lots(lots, accepted, pouches, sight.session)
        if self.form_shown() is self._plan or sight.session.plan is not None:
            self._work_out(renew=False)

    def _show_freezer(self, sight: Sight) -> None:
        """The freezer's calendar: of what is typed while the plan is open, else as agreed."""
        if self.form_shown() is self._plan:
            self.freezer.show_plan(self.offer.freezer, sight)
        elif self.form_shown() is None:
            self.freezer.show_agreed(sight)
        else:
            self.freezer.hide()

    def _planned(self) -> None:
        if self.sight is not None and self.isVisible():
            self._show_freezer(self.sight)

    def press_key(self, key: str) -> bool:
        return super().press_key(key) or self.freezer.calendar.press_key(key)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        if control.form == "lot":
            return Order(self._lot(typed, sight))
        if control.form == "again":
            command = LookAtLot(typed["lot"], LotVerdict(typed["look"]), typed["seen"])
            return Order(command, typed["when"])
        if control.form == "plan":
            return Order(self._agreement(typed, sight))
        return super().order(control, typed, sight)

    def kept(self) -> None:
        super().kept()
        self.chosen = replace(self.chosen, lots=None)

    def _lots(self, sight: Sight) -> tuple[Lot, ...]:
        """The lots of the plan: those of the session, or what the person made of them."""
        book = sight.state.book
        if self.chosen.lots is not None:
            return tuple(book.lots[lot] for lot in self.chosen.lots if lot in book.lots)
        return lots_of(sight.entries, sight.session, sight.session_id, book)

    def _leave(self, lot: str) -> None:
        rest = [each.lot for each in self._lots(self.sight) if each.lot != lot]
        self.offer = NO_OFFER
        self.choose(lots=tuple(rest))
        self.focus_main()

    def _join(self, lot: str) -> None:
        self.choose(lots=(*(each.lot for each in self._lots(self.sight)), lot))

    def _work_out(self, *, renew: bool = True) -> None:
        """Work the plan out from what is typed so far and show it."""
        sight = self.sight
        try:
            self.offer = plan_offer(
                self._plan.wishes(),
                self._plan.site(),
                sight.state.book,
                sight.session,
                sight.tools.catalog,
                sight.now,
                sight.tools.offset_min_at,
            )
        except ValueError:
            self.offer = NO_OFFER
        self._plan.show_offer(self.offer.lines)
        self.supplies = self.offer.supplies
        if renew:
            self.choose()
            self.renewed.emit()
        elif self.card is not None:
            self.card = self.card_now(sight)

    def _agreement(self, typed: Mapping[str, Any], sight: Sight) -> AgreePlan:
        self._work_out(renew=False)
        fit = [line for line in self.offer.lines if not line.unfit]
        if len(fit) < len(self._plan.rows):
            raise NotUnderstood("A line cannot be planned yet. Take it off, or change its pouch.")
        earlier = sight.session.plan
        return AgreePlan(
            lines=self.offer.agreed,
            numbered=typed["working"] == "numbered",
            elevation_m=typed["elevation"],
            packing_temp_c=typed["room"],
            pack_at=typed["day"] or (earlier.pack_at if earlier is not None else None),
        )

    def _lot(self, typed: Mapping[str, Any], sight: Sight) -> ReceiveLot:
        verdict = LotVerdict(typed["look"])
        if verdict is not LotVerdict.ACCEPTED and not typed["seen"]:
            raise AtField("seen", "Say what you saw. A lot that is not accepted needs a reason.")
        food = sight.tools.catalog.foods[typed["food"]]
        return ReceiveLot(
            food=food.key,
            food_name=food.name,
            mass_g=typed["mass"],
            supplier_lot=typed["code"],
            verdict=verdict,
            seen=typed["seen"],
        )

    def _build_again(self) -> None:
        theme = self.theme
        again = self.add_form("again", Form(theme))
        again.add("lot", PickInput(theme, "Lot", "Choose the lot.", forgets=True), TWO_THIRDS)
        moment = Moment(lambda: self.sight.now, lambda at: self.sight.tools.offset_min_at(at))
        when = TypedInput(
            theme, "When", moment, empty=None, letters=True, hint="now, or 21:30 yesterday"
        )
        again.add("when", when, THIRD)
        again.add("look", self._verdicts(), WHOLE)
        words = Sentence("Write what you saw.")
        again.add("seen", TypedInput(theme, "What you saw", words, letters=True), WHOLE)

    def _verdicts(self) -> OptionInput:
        look = OptionInput(self.theme, "How it looks", LotVerdict.ACCEPTED)
        look.show_options(
            (
                Option(LotVerdict.ACCEPTED, "Accepted", "sound and dry"),
                Option(LotVerdict.QUARANTINED, "Quarantined", "apart until sure"),
                Option(LotVerdict.REFUSED, "Refused", "does not come in"),
            ),
            LotVerdict.ACCEPTED,
        )
        return look

    def _build_lot(self) -> None:
        theme = self.theme
        lot = self.add_form("lot", Form(theme))
        lot.add("food", PickInput(theme, "Food", "Choose what you bought.", forgets=True), HALF)
        lot.add("mass", TypedInput(theme, "Mass", usual(Dimension.MASS, "metric")))
        lot.new_row()
        lot.add("look", self._verdicts(), WHOLE)
        words = Sentence("Write what you saw.")
        lot.add("seen", TypedInput(theme, "What you saw", words, empty="", letters=True), HALF)
        code = Sentence("Write the code on the sack.", 40)
        lot.add(
            "code",
            TypedInput(theme, "Supplier's lot code", code, empty="", letters=True, hint="if any"),
            HALF,
        )
