"""The form by which absorbers come into the open: a packet as it looks, or a jar shut up before."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Signal

from packdesk.present.chosen import Opening
from packdesk.present.packet_words import (
    jar_words,
    look_words,
    spent_packet,
    unfit_for_dry_food,
    unseen_words,
)
from packdesk.session.commands import OpenPacket, TakeRemainder
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.jar_first import jar_that_suits
from packdesk.session.lacking import lacking
from packdesk.session.open_again import wanting_one_more
from packdesk.session.packets import packet_at_hand
from packdesk.session.packing_room import known_room_c
from packdesk.session.supply import still_wanted
from packdesk.session.terms import Feel, Indicator, PacketCondition
from packdesk.ui.pages.form import HALF, THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import AtField, OptionInput, PickInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.sight import Sight
from packdesk.ui.pages.typed import Whole, usual
from packdesk.ui.pages.words import Words
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice
from packdesk.units import Dimension, NotUnderstood

NEW_PACKET = "new"

_INDICATED = {
    Indicator.NOT_SEEN: "Not looked at",
    Indicator.NO_OXYGEN: "Shows no oxygen",
    Indicator.OXYGEN: "Shows oxygen",
    Indicator.NONE_IN_IT: "None in the packet",
}


class PacketForm(Form):
    """Where the absorbers come from; of a packet its rating, its count, and how it looks.

    Signals:
        looked: something else is picked to be opened, or it looks otherwise.
    """

    looked = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._wanted = ""
        self._jar = ""
        """The jar that suits best; it is offered first as long as it is the same."""
        self._hold: dict[str, int] = {}
        """How many absorbers a packet of each kind is taken to hold."""
        self._source = PickInput(theme, "Absorbers from", "Choose a packet, or a jar from before.")
        self._source.chosen.connect(self._picked)
        self.add("source", self._source, WHOLE)
        self._rating = PickInput(theme, "Rating of one absorber", "Choose what the packet says.")
        self._rating.chosen.connect(lambda _key: self._preset_count())
        self.add("rating", self._rating, THIRD)
        self._absorbers = TypedInput(theme, "Absorbers in it", Whole("absorbers"))
        self.add("absorbers", self._absorbers, THIRD)
        self._indicator = _indicator(theme)
        self.add("indicator", self._indicator, THIRD)
        self._bag = _options(
            theme,
            "The packet before it is cut",
            (
                Option(PacketCondition.TIGHT.value, "Tight", "drawn in"),
                Option(PacketCondition.SLACK.value, "Slack", "air got in"),
                Option(PacketCondition.NOT_SEEN.value, "Not seen"),
            ),
        )
        self.add("bag", self._bag, HALF)
        self._feel = _options(
            theme,
            "The absorbers, felt through it",
            (
                Option(Feel.SOFT.value, "Soft", "as new"),
                Option(Feel.HARD.value, "Hard", "spent"),
                Option(Feel.NOT_FELT.value, "Not felt"),
            ),
        )
        self.add("feel", self._feel, HALF)
        self.doubt = Words(theme, Role.BODY)
        """What the look at the packet means, as soon as it is chosen."""
        self.add_words(self.doubt)
        self._room = TypedInput(theme, "Room temperature", usual(Dimension.TEMPERATURE, "metric"))
        self.add("room", self._room, THIRD)
        for item in (self._bag, self._feel, self._indicator):
            item.chosen.connect(self._picked)

    def show_offer(self, line: AgreedLine, sight: Sight) -> None:
        """Offer the jars and packets there are, what the pouches lack first."""
        absorbers = sight.tools.catalog.absorbers
        jars = tuple(
            Choice(each.remainder, f"Jar {jar_words(each)}")
            for each in sight.state.book.remainders.values()
            if not each.taken and each.count
        )
        keys = {jar.key for jar in jars}
        assert sight.session is not None, "absorbers are opened in a session"
        wanting = wanting_one_more(sight.session, line, sight.now.utc)
        suits = jar_that_suits(sight.state.book, sight.session, line, sight.now.utc)
        jar = suits.remainder if suits is not None else ""
        chosen = self._source.key if jar == self._jar else jar
        self._jar = jar
        self._source.show_choices(
            (Choice(NEW_PACKET, "A new packet"), *jars), chosen if chosen in keys else NEW_PACKET
        )
        wanted_cc = _lacked(line, sight)
        wanted = next(
            (key for key, each in absorbers.items() if int(each.rating_cc) in wanted_cc), ""
        )
        kept = self._rating.key if wanted == self._wanted else ""
        self._wanted = wanted
        self._rating.show_choices(
            tuple(Choice(key, each.name) for key, each in absorbers.items()), kept or wanted
        )
        self._room.expect(usual(Dimension.TEMPERATURE, sight.units, (-10.0, 50.0)))
        self._room.preset_quantity(sight.measures.temperature(known_room_c(sight.session)))
        rating_cc = int(absorbers[wanted].rating_cc) if wanted else 0
        waiting = open_pouches(sight.session)
        now = sight.now.utc
        wanted_now = still_wanted(sight.session, waiting, rating_cc, now)
        pieces = wanted_now + len(wanting)
        self._hold = {
            key: packet_at_hand(sight.session, int(each.rating_cc), each.packet_counts, pieces)
            for key, each in absorbers.items()
        }
        self._preset_count()
        self._show_what_is_needed()

    @property
    def opening(self) -> Opening:
        """What is picked to be opened, and how it looks."""
        if self._source.key not in ("", NEW_PACKET):
            return Opening(jar=self._source.key)
        return Opening(
            condition=PacketCondition(self._bag.key),
            indicator=Indicator(self._indicator.key),
            feel=Feel(self._feel.key),
        )

    def _picked(self, _key: str) -> None:
        self._show_what_is_needed()
        self.looked.emit()

    def order(self, typed: Mapping[str, Any], sight: Sight) -> OpenPacket | TakeRemainder:
        """What the form comes to; an absorber that is idle in dry food is objected to.

        So is the packet after one that was hard, until it is felt: who presses on in a hurry must
        not book another.
        """
        if typed.get("source", NEW_PACKET) != NEW_PACKET:
            return TakeRemainder(typed["source"], typed["room"])
        absorber = sight.tools.catalog.absorbers[typed["rating"]]
        unfit = unfit_for_dry_food(absorber)
        if unfit:
            raise AtField("rating", unfit)
        assert sight.session is not None, "absorbers are opened in a session"
        feel = Feel(typed["feel"])
        if feel is Feel.NOT_FELT and spent_packet(sight.state.book, sight.session):
            raise NotUnderstood("The last packet was hard. Feel this one, and choose Soft or Hard.")
        return OpenPacket(
            absorber=absorber.key,
            rating_cc=int(absorber.rating_cc),
            count=typed["absorbers"],
            condition=PacketCondition(typed["bag"]),
            room_c=typed["room"],
            indicator=Indicator(typed["indicator"]),
            feel=feel,
        )

    def clear(self) -> None:
        """Forget what was typed: the next packet is looked at anew."""
        super().clear()
        self._jar = ""
        _begin_unseen(self._indicator)
        self._say_doubt()

    def _preset_count(self) -> None:
        count = self._hold.get(self._rating.key, 0)
        self._absorbers.preset(str(count) if count else "")

    def _show_what_is_needed(self) -> None:
        new = self._source.key == NEW_PACKET
        self._source.setVisible(self._source.box.count() > 1)
        for item in (self._rating, self._absorbers, self._bag, self._feel, self._indicator):
            item.setVisible(new)
        self._say_doubt()

    def _say_doubt(self) -> None:
        new = self._source.key == NEW_PACKET and bool(self._indicator.key)
        if not new:
            self.doubt.say("")
            return
        bag, feel = PacketCondition(self._bag.key), Feel(self._feel.key)
        doubt = look_words(bag, Indicator(self._indicator.key), feel)
        self.doubt.say(doubt or unseen_words(bag, Indicator(self._indicator.key), feel))


def _indicator(theme: Theme) -> PickInput:
    item = PickInput(theme, "Oxygen indicator in it", "Choose what it shows.")
    _begin_unseen(item)
    return item


def _begin_unseen(indicator: PickInput) -> None:
    choices = tuple(Choice(each.value, words) for each, words in _INDICATED.items())
    indicator.show_choices(choices, Indicator.NOT_SEEN.value)


def _options(theme: Theme, label: str, options: tuple[Option, ...]) -> OptionInput:
    # A look that nobody took is not on record: the usual choice is that it was not taken.
    usual_key = options[-1].key
    item = OptionInput(theme, label, usual_key)
    item.show_options(options, usual_key)
    return item


def _lacked(line: AgreedLine, sight: Sight) -> tuple[int, ...]:
    """The ratings that the first pouch with part of its set lacks; all of the line's, if none."""
    pouches = sight.session.working_pouches(line.line) if sight.session is not None else ()
    for pouch in pouches:
        found = lacking(line, pouch)
        if pouch.placed and found and not pouch.closed:
            return tuple(found)
    return line.absorbers_cc
