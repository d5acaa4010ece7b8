"""What is said of a pail as it goes into a freezer; usual answers stand in every field."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from packdesk.instants import When
from packdesk.present.known_freezers import known_freezer, rest_temp_c
from packdesk.present.load_view import (
    FreezerSaid,
    fill_words,
    load_figures_of,
    unfrozen_g,
    usual_load_g,
)
from packdesk.present.work_cold import next_to_freeze
from packdesk.sentences import capital
from packdesk.session.case import Case
from packdesk.session.commands import FreezeLoad
from packdesk.session.decide_cold import freezing_question
from packdesk.session.packing_room import known_room_c
from packdesk.session.temperatures import no_such_food, no_such_rest
from packdesk.session.terms import LotVerdict, Stands
from packdesk.ui.pages.form import HALF, THIRD, Form
from packdesk.ui.pages.inputs import AtField, OptionInput, PickInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.typed import THERMOMETER_C, usual
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice
from packdesk.units import Dimension, NotUnderstood, System, say

HEIGHT_MM = (50.0, 2500.0)
CAPACITY_G = (100.0, 200_000.0)
USUAL_FREEZER_C = -18.0
USUAL_PAIL_L = 18.9

STANDS = (
    Option(Stands.FREE_AIR, "In free air"),
    Option(Stands.TOUCHING, "Touching"),
    Option(Stands.STACKED, "Stacked"),
)
FREEZERS = (Option("1", "First"), Option("2", "Second"))


class FreezeForm(Form):
    """Lot, pail, mass, temperatures, and which freezer it goes into and where it stands there."""

    def __init__(self, theme: Theme, when: TypedInput) -> None:
        super().__init__(theme)
        self._sight: Sight | None = None
        self._turn_of = ""
        self._stood = (1, Stands.FREE_AIR)
        self._asked: tuple[object, ...] = ()
        self._warning = ""
        lot = PickInput(theme, "Lot", "Choose the lot that is in this pail.")
        pail = PickInput(theme, "Pail", "Choose the pail it is in.")
        for pick in (lot, pail):
            pick.chosen.connect(lambda _key: self._preset_mass())
        self.add("lot", lot, HALF)
        self.add("pail", pail, HALF)
        self.add("mass", TypedInput(theme, "Mass in this pail", usual(Dimension.MASS, "metric")))
        self.add("start", self._degrees("Food before the cold", THERMOMETER_C))
        self.add("freezer", self._degrees("Freezer at rest", THERMOMETER_C))
        which = OptionInput(theme, "Which freezer", "1")
        which.show_options(FREEZERS, "1")
        which.chosen.connect(lambda _key: self._turn_to_freezer())
        self.add("which", which, HALF)
        stands = OptionInput(theme, "Where it stands", Stands.FREE_AIR)
        stands.show_options(STANDS, Stands.FREE_AIR)
        self.add("stands", stands, HALF)
        length = usual(Dimension.LENGTH, "metric", HEIGHT_MM)
        self.add("height", TypedInput(theme, "Freezer's inside height", length, empty=None))
        mass = usual(Dimension.MASS, "metric", CAPACITY_G)
        self.add("capacity", TypedInput(theme, "It freezes in 24 h, if known", mass, empty=None))
        self.add("when", when, THIRD)

    def prepare(self, sight: Sight) -> None:
        """Offer lots and pails, and put usual answers where the person typed none."""
        self._sight = sight
        session = sight.session
        units = sight.units
        expected = (
            ("start", Dimension.TEMPERATURE, THERMOMETER_C),
            ("freezer", Dimension.TEMPERATURE, THERMOMETER_C),
            ("mass", Dimension.MASS, (50.0, 100_000.0)),
            ("height", Dimension.LENGTH, HEIGHT_MM),
            ("capacity", Dimension.MASS, CAPACITY_G),
        )
        for name, dimension, within in expected:
            self.inputs[name].expect(usual(dimension, units, within))
        self._offer_lots(sight)
        self._offer_pails(sight)
        self._preset_mass()
        if session is not None:
            room = sight.measures.temperature(known_room_c(session))
            self.inputs["start"].preset_quantity(room)
        self._preset_freezer()

    def ordered(self, typed: Mapping[str, Any], sight: Sight) -> FreezeLoad:
        """The command that what was typed comes to; raises `AtField` and `NotUnderstood`."""
        catalog, book = sight.tools.catalog, sight.state.book
        lot = book.lots[typed["lot"]]
        if lot.food not in catalog.foods:
            raise NotUnderstood(f"The catalogue has no {lot.food_name} any more.")
        number = int(typed["which"])
        known = known_freezer(sight.session, number) if sight.session is not None else None
        for name, words in (
            ("start", no_such_food(typed["start"], sight.units)),
            ("freezer", no_such_rest(typed["freezer"], sight.units)),
        ):
            if words:
                raise AtField(name, words)
        said = FreezerSaid(
            typed["freezer"],
            number,
            Stands(typed["stands"]),
            typed["height"],
            typed["capacity"],
            known.spare_power_w if known is not None else None,
        )
        try:
            figures = load_figures_of(
                catalog, lot.food, typed["pail"], typed["mass"], typed["start"], said
            )
        except ValueError as refused:
            raise AtField("mass", str(refused)) from None
        pail = catalog.pails[typed["pail"]]
        return FreezeLoad(lot.lot, pail.key, pail.name, typed["mass"], figures)

    def filled_to(self, sight: Sight) -> str:
        """How high what is typed stands in its pail; empty while something lacks or is wrong."""
        mass_g, lot = self.inputs["mass"].peek(), sight.state.book.lots.get(self.inputs["lot"].key)
        pail = sight.tools.catalog.pails.get(self.inputs["pail"].key)
        food = sight.tools.catalog.foods.get(lot.food) if lot is not None else None
        if mass_g is None or pail is None or food is None:
            return ""
        return fill_words(food, pail, mass_g, sight.measures)

    @property
    def warned(self) -> str:
        """What was last found that would be asked."""
        return self._warning

    def asks_anew(self, sight: Sight) -> bool:
        """Whether what would be asked of the next load has to be worked out, or worked out anew."""
        asked = self._what_is_asked(sight)
        if asked is None:
            self._asked, self._warning = (), ""
        return asked is not None and asked != self._asked

    def asking(self, sight: Sight) -> Callable[[], str] | None:
        """What works out the question there would be, anywhere: it holds nothing of the window."""
        self._asked = self._what_is_asked(sight) or ()
        if not self._asked or sight.session_id is None:
            return None
        when = When(sight.now.utc)
        case = Case(sight.state, sight.entries, sight.session_id, when, sight.now)
        try:
            return partial(freezing_question, case, self.ordered(self._peeked(), sight))
        except (NotUnderstood, ValueError):
            self._warning = ""
            return None

    def take_answer(self, question: str) -> None:
        """Say from now on that this would be asked."""
        self._warning = question

    def _peeked(self) -> dict[str, Any]:
        return {
            name: item.peek() if isinstance(item, TypedInput) else item.key
            for name, item in self.inputs.items()
            if name != "when"
        }

    def _what_is_asked(self, sight: Sight) -> tuple[object, ...] | None:
        """What an answer would rest on; None while something is not typed."""
        typed = self._peeked()
        needed = ("lot", "pail", "mass", "start", "freezer")
        if sight.session is None or any(typed[name] in (None, "") for name in needed):
            return None
        half_hour = int(sight.now.utc.timestamp() // 1800)
        said = sorted((name, str(value)) for name, value in typed.items())
        return (id(sight.entries), half_hour, *said)

    def _degrees(self, label: str, within: tuple[float, float]) -> TypedInput:
        return TypedInput(self.theme, label, usual(Dimension.TEMPERATURE, "metric", within))

    def _offer_lots(self, sight: Sight) -> None:
        book, session = sight.state.book, sight.session
        if session is None:
            return
        planned = [line.lot for line in session.plan.lines] if session.plan is not None else []
        lots = [
            book.lots[lot]
            for lot in dict.fromkeys((*planned, *book.lots))
            if lot in book.lots and book.lots[lot].verdict is not LotVerdict.REFUSED
        ]
        waiting = [lot.lot for lot in lots if unfrozen_g(session, book, lot.lot) > 0.0]
        choices = tuple(Choice(each.lot, f"{capital(each.food_name)}, {each.lot}") for each in lots)
        turn = next_to_freeze(book, session, sight.now)
        item = self.inputs["lot"]
        kept = item.key if item.key in waiting and turn == self._turn_of else ""
        item.show_choices(choices, kept or turn or "".join(waiting[:1]))
        self._turn_of = turn

    def _offer_pails(self, sight: Sight) -> None:
        catalog, pail = sight.tools.catalog, self.inputs["pail"]
        usual_pail = min(
            catalog.pails.values(),
            key=lambda each: abs(each.nominal_volume_l - USUAL_PAIL_L),
            default=None,
        )
        pail.show_choices(
            tuple(Choice(each.key, capital(each.name)) for each in catalog.pails.values()),
            pail.key or (usual_pail.key if usual_pail is not None else ""),
        )

    def _preset_mass(self) -> None:
        sight = self._sight
        if sight is None or sight.session is None or sight.session.plan is None:
            return
        lot, pail = self.inputs["lot"].key, self.inputs["pail"].key
        if self.inputs["mass"].box.isModified() or not lot or not pail:
            return
        mass_g = usual_load_g(sight.session, sight.state.book, sight.tools.catalog, lot, pail)
        said = sight.measures.mass(mass_g) if mass_g else ""
        self.inputs["mass"].preset_quantity(said)

    def _turn_to_freezer(self) -> None:
        """Another one is chosen: what was typed of the inside of the one before is not its."""
        if int(self.inputs["which"].key or 1) != self._stood[0]:
            for name in ("height", "capacity"):
                self.inputs[name].box.setModified(False)
        self._preset_freezer()

    def _preset_freezer(self) -> None:
        """What was last said of this freezer is likely true of it still."""
        sight = self._sight
        if sight is None or sight.session is None:
            return
        freezer = int(self.inputs["which"].key or 1)
        temp_c = rest_temp_c(sight.session, freezer, USUAL_FREEZER_C)
        self.inputs["freezer"].preset_quantity(sight.measures.temperature(temp_c))
        known = known_freezer(sight.session, freezer)
        height_mm = known.height_mm if known is not None else None
        said = say(height_mm, Dimension.LENGTH, System(sight.units), 5.0) if height_mm else ""
        self.inputs["height"].preset_quantity(said)
        capacity_g = known.capacity_g if known is not None else None
        self.inputs["capacity"].preset_quantity(
            sight.measures.mass(capacity_g) if capacity_g else ""
        )
        stands = known.stands if known is not None else Stands.FREE_AIR
        if (freezer, stands) != self._stood:
            self._stood = (freezer, stands)
            self.inputs["stands"].begin_with(stands)
