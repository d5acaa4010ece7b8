"""The page at the counter: the scale, the absorbers, the zip."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout

from packdesk.present.cards import Control, WorkCard
from packdesk.present.meant import meant
from packdesk.present.round_view import RoundView, round_view
from packdesk.present.work_filling import line_in_hand, lines_offered, loads_offered
from packdesk.session.commands import FillPouches, OpenPacket, TakeRemainder
from packdesk.session.figures import AgreedLine
from packdesk.session.terms import PacketCondition, Stage
from packdesk.ui.pages.form import HALF, THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import OptionInput, PickInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Quantity, Whole, usual
from packdesk.ui.pages.words import Words, let_grow
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice
from packdesk.ui.widgets.packet_ribbon import PacketRibbon, RibbonFace
from packdesk.ui.widgets.pouch_cells import PouchCells
from packdesk.units import Dimension

LIGHT_FILL_G = 5000.0
"""Below this a metric kitchen scale shows grams."""

NEW_PACKET = "new"


class FillingPage(Page):
    """Fill pouches, open a packet, drop absorbers in, press shut.

    Signals:
        alarm_test_asked: the alarm is to sound once, to be heard.
    """

    alarm_test_asked = Signal()
    stage = Stage.FILLING

    def build(self) -> None:
        theme = self.theme
        self._wanted = ""
        self._lines = OptionInput(theme, "")
        self._lines.chosen.connect(lambda key: self.choose(line=int(key), count=None))
        self.body.addWidget(self._lines)
        self._loads = OptionInput(theme, "Filled from load")
        self._loads.chosen.connect(lambda key: self.choose(loads=tuple(key.split(","))))
        self.body.addWidget(self._loads)
        self._build_fill()
        self._build_packet()
        fewer = self.add_form("fewer", Form(theme, beside=True, waits=True))
        fewer.add("count", TypedInput(theme, "How many", Whole("pouches"), hint="such as 5"), THIRD)
        heads = QHBoxLayout()
        self._title = Words(theme, Role.BODY)
        self._progress = Words(theme, Role.BODY)
        heads.addWidget(self._title, 1)
        heads.addWidget(self._progress)
        self.body.addLayout(heads)
        self._cells = PouchCells(
            theme, cell_px=theme.px(cell_px(theme)), gap_px=theme.px(20), numbered=True
        )
        let_grow(self._cells)
        self.body.addWidget(self._cells)
        self._ribbon = PacketRibbon(theme)
        self.body.addWidget(self._ribbon)
        self.finish()

    def restyle(self) -> None:
        super().restyle()
        cells = getattr(self, "_cells", None)
        if cells is not None:
            cells.set_cell_px(self.theme.px(cell_px(self.theme)))

    def kept(self) -> None:
        super().kept()
        self.chosen = replace(self.chosen, loads=())

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        session = sight.session
        tally = line_in_hand(session, self.chosen) if session is not None else None
        if tally is None:
            for widget in (
                self._lines,
                self._loads,
                self._title,
                self._progress,
                self._cells,
                self._ribbon,
            ):
                widget.hide()
            return
        self._show_loads(card, sight, tally.line)
        self._show_round(round_view(session, tally, meant(card.main), sight.now))
        if fresh:
            self._show_lines(sight, tally.line.line)
            self._expect_mass(tally.line, sight.units)
            self._preset_packet(tally.line, sight)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "fill":
                assert isinstance(control.command, FillPouches), "the card fills with this form"
                return Order(replace(control.command, net_mass_g=typed["mass"]))
            case "alarm_test":
                self.alarm_test_asked.emit()
                return None
            case "packet":
                return Order(self._packet(typed, sight))
            case _:
                return super().order(control, typed, sight)

    def _build_fill(self) -> None:
        fill = self.add_form("fill", Form(self.theme))
        mass = TypedInput(
            self.theme,
            "Mass in the pouch, if weighed",
            usual(Dimension.MASS, "metric"),
            empty=None,
            counts=True,
        )
        fill.add("mass", mass, HALF)
        count = TypedInput(
            self.theme, "How many at once", Whole("pouches"), empty=1, hint="1", counts=True
        )
        fill.add("count", count, THIRD)

    def _build_packet(self) -> None:
        theme = self.theme
        packet = self.add_form("packet", Form(theme))
        source = PickInput(theme, "Absorbers from", "Choose a packet, or a jar shut up before.")
        source.chosen.connect(lambda _key: self._show_packet_inputs())
        packet.add("source", source, WHOLE)
        rating = PickInput(theme, "Rating of one absorber", "Choose what the packet says.")
        rating.chosen.connect(lambda _key: self._preset_count())
        packet.add("rating", rating, HALF)
        packet.add("absorbers", TypedInput(theme, "Absorbers in it", Whole("absorbers")), HALF)
        packet.new_row()
        packet.add("bag", OptionInput(theme, "The packet before it is cut", "tight"), HALF)
        packet.inputs["bag"].show_options(
            (Option("tight", "Tight", "drawn in hard"), Option("slack", "Slack", "air got in")),
            "tight",
        )
        packet.add(
            "room", TypedInput(theme, "Room temperature", usual(Dimension.TEMPERATURE, "metric")),
            HALF,
        )  # fmt: skip

    def _expect_mass(self, line: AgreedLine, units: str) -> None:
        """Bounds that catch a slip in unit or decimal mark, wide enough for any real pouch."""
        least = min(line.fill_mass_g, line.last_fill_mass_g or line.fill_mass_g) / 4.0
        most = line.fill_mass_g * 2.0
        quantity = usual(Dimension.MASS, units, (least, most))
        if units == "metric" and line.fill_mass_g < LIGHT_FILL_G:
            quantity = Quantity(Dimension.MASS, "g", (least, most))
        self.forms["fill"].inputs["mass"].expect(quantity)
        self.forms["packet"].inputs["room"].expect(
            usual(Dimension.TEMPERATURE, units, (-10.0, 50.0))
        )

    def _show_lines(self, sight: Sight, line: int) -> None:
        offered = lines_offered(sight.session) if sight.session is not None else ()
        self._lines.setVisible(len(offered) > 1)
        self._lines.show_options(
            tuple(Option(str(each.line), _capital(each.food_name)) for each in offered), str(line)
        )

    def _show_loads(self, card: WorkCard, sight: Sight, line: AgreedLine) -> None:
        """Several loads of the lot are open: which one the next pouch is filled from."""
        command = card.main.command
        filling = isinstance(command, FillPouches) and sight.session is not None
        offered = loads_offered(sight.session, line) if filling else ()
        self._loads.setVisible(bool(offered))
        if offered:
            picked = ",".join(command.loads)
            keys = [",".join(each) for each in offered]
            if picked not in keys:
                keys.append(picked)
            self._loads.show_options(
                tuple(Option(key, key.replace(",", ", then ")) for key in keys), picked
            )

    def _show_round(self, view: RoundView) -> None:
        self._title.say(view.title if view.cells else "")
        self._progress.say(view.progress if view.cells else "")
        self._cells.setVisible(bool(view.cells))
        self._cells.show_cells(view.cells)
        self._ribbon.setVisible(view.packet is not None)
        if view.packet is not None:
            at = view.packet
            self._ribbon.show_face(
                RibbonFace(
                    at.opened, at.now, at.due, at.opened_words, at.now_words, at.due_words,
                    at.done, at.forecast,
                )
            )  # fmt: skip
        self.more_evidence = view.sentences
        self.cells_afar = view.cells

    def _preset_packet(self, line: AgreedLine, sight: Sight) -> None:
        packet = self.forms["packet"]
        absorbers = sight.tools.catalog.absorbers
        jars = [
            Choice(each.remainder, f"Jar {each.remainder}: {each.count} of {each.rating_cc} cc")
            for each in sight.state.book.remainders.values()
            if not each.taken and each.count
        ]
        source = packet.inputs["source"]
        source.show_choices(
            (Choice(NEW_PACKET, "A new packet"), *jars),
            source.key if source.key in {jar.key for jar in jars} else NEW_PACKET,
        )
        rating = packet.inputs["rating"]
        wanted = next(
            (key for key, each in absorbers.items() if int(each.rating_cc) in line.absorbers_cc),
            "",
        )
        kept = rating.key if wanted == self._wanted else ""
        self._wanted = wanted
        rating.show_choices(
            tuple(Choice(key, each.name) for key, each in absorbers.items()), kept or wanted
        )
        room = packet.inputs["room"]
        readings = sight.session.room_readings
        temp_c = readings[-1].temp_c if readings else sight.session.plan.packing_temp_c
        room.preset_quantity(sight.measures.temperature(temp_c))
        self._preset_count()
        self._show_packet_inputs()

    def _preset_count(self) -> None:
        packet = self.forms["packet"]
        counts = ()
        if self.sight is not None:
            found = self.sight.tools.catalog.absorbers.get(packet.inputs["rating"].key)
            counts = found.packet_counts if found is not None else ()
        packet.inputs["absorbers"].preset(str(counts[0]) if counts else "")

    def _show_packet_inputs(self) -> None:
        packet = self.forms["packet"]
        new = packet.inputs["source"].key == NEW_PACKET
        packet.inputs["source"].setVisible(packet.inputs["source"].box.count() > 1)
        for name in ("rating", "absorbers", "bag"):
            packet.inputs[name].setVisible(new)

    def _packet(self, typed: Mapping[str, Any], sight: Sight) -> OpenPacket | TakeRemainder:
        if typed.get("source", NEW_PACKET) != NEW_PACKET:
            return TakeRemainder(typed["source"], typed["room"])
        absorber = sight.tools.catalog.absorbers[typed["rating"]]
        return OpenPacket(
            absorber=absorber.key,
            rating_cc=int(absorber.rating_cc),
            count=typed["absorbers"],
            condition=PacketCondition(typed["bag"]),
            room_c=typed["room"],
        )


def cell_px(theme: Theme) -> int:
    """How wide a pouch of a group is drawn at this step, in design px."""
    return 36 if theme.layout.rail else 50


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
