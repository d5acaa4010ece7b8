"""The page at the counter: the scale, the absorbers, the zip."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout

from packdesk.present import mass_question, other_source, ready_check, shut_up
from packdesk.present.cards import Control, WorkCard
from packdesk.present.chosen import ReadyCheck
from packdesk.present.filling_words import KEYS, mass_hint, mass_label
from packdesk.present.iron_words import iron_lines
from packdesk.present.meant import meant
from packdesk.present.round_view import RoundView, round_view
from packdesk.present.shut_up import JAR, OVER
from packdesk.present.work_filling import line_in_hand, lines_offered, loads_offered
from packdesk.session.admit.filling import MOST_HANDS, MOST_TARE_G
from packdesk.session.commands import (
    FillPouches,
    NoteFoodLost,
    PlaceAbsorbers,
    ShutRemainder,
    WeighEmptyPouch,
)
from packdesk.session.figures import AgreedLine
from packdesk.session.terms import ReadyItem, Stage
from packdesk.ui.pages.amiss_forms import AMISS, amiss_forms, amiss_order
from packdesk.ui.pages.aside import aside_form, aside_order
from packdesk.ui.pages.form import HALF, THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import OptionInput, TypedInput
from packdesk.ui.pages.jar_form import jar_form, jar_order, show_reckoned
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.packet_form import PacketForm
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Quantity, Sentence, Whole, usual
from packdesk.ui.pages.words import Words, let_grow
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.packet_ribbon import PacketRibbon, RibbonFace
from packdesk.ui.widgets.pouch_cells import PouchCells
from packdesk.ui.widgets.tick_row import TickRow
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
    caution_first = True
    further = frozenset({"alarm_test"})

    def build(self) -> None:
        theme = self.theme
        self._asked_at = 0
        """How many pouches there were when a mass was asked about."""
        self._ticks = TickRow(theme)
        self.body.addWidget(self._ticks)
        self._lines = OptionInput(theme, "")
        self._lines.chosen.connect(lambda key: self.choose(line=int(key), count=None))
        self.body.addWidget(self._lines)
        self._loads = OptionInput(theme, "Filled from load")
        self._loads.chosen.connect(lambda key: self.choose(loads=tuple(key.split(","))))
        self.body.addWidget(self._loads)
        self._build_fill()
        self._packet = self.add_form("packet", PacketForm(theme))
        self.add_form(JAR, jar_form(theme))
        self.add_form(OVER, jar_form(theme))
        for name, form in amiss_forms(theme).items():
            self.add_form(name, form)
        self._build_beside()
        fewer = self.add_form("fewer", Form(theme, beside=True, waits=True))
        fewer.add("count", TypedInput(theme, "How many", Whole("pouches"), hint="such as 5"), THIRD)
        self._foremost = Words(theme, Role.BODY)
        self.body.addWidget(self._foremost)
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
                self._keys,
                self._foremost,
                self._title,
                self._progress,
                self._cells,
                self._ribbon,
            ):
                widget.hide()
            return
        self._show_loads(card, sight, tally.line)
        self._keys.setVisible(card.main.form == "fill" and not self._opened)
        view = round_view(session, tally, meant(card.main), sight.now, self.chosen.round)
        self._foremost.say(*card.foremost, *view.foremost)
        check = self.chosen.ready if card.main.form in (ready_check.TICK, "") else None
        self._ticks.show_ticks(ready_check.ready_ticks(session, check) if check is not None else ())
        if check is not None and not ready_check.wants_pouches_in_sight(session, check):
            view = replace(view, cells=())
        self._show_round(view)
        if self._opened in (JAR, OVER):
            show_reckoned(self.forms[self._opened], self.acting(), session)
        if fresh:
            self._show_lines(sight, tally.line.line)
            self._expect_mass(tally.line, sight.units)
            if any(control.form == "packet" for control in (card.main, *card.seconds)):
                self._packet.show_offer(tally.line, sight)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "fill":
                assert isinstance(control.command, FillPouches), "the card fills with this form"
                return self._filled(replace(control.command, shown_g=typed["mass"]), sight)
            case mass_question.WEIGH_AGAIN:
                self.choose(asked=None)
                return None
            case ready_check.OPEN_CHECK:
                self.choose(ready=self._new_check(sight))
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
                return Order(amiss_order(form, typed, self._line(sight).line))
            case _:
                return super().order(control, typed, sight)

    def take_digits(self, text: str, *, anew: bool = False) -> bool:
        """A new mass, as from a scale, takes the place of one that is asked about."""
        if self.chosen.asked is not None:
            self.choose(asked=None)
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

    def _new_check(self, sight: Sight) -> ReadyCheck:
        line = self._line(sight)
        wanted = line.absorbers_cc
        sizes = {
            count
            for each in sight.tools.catalog.absorbers.values()
            if int(each.rating_cc) in wanted[:1]
            for count in each.packet_counts
        }
        iron = iron_lines(sight.tools.catalog.films, (line,))
        return ReadyCheck(hands=sight.session.hands, packets=tuple(sorted(sizes)), iron=iron)

    def _tick(self, sight: Sight) -> None:
        """Tick what is asked for; the alarm is sounded before it can be said to be heard."""
        check = self.chosen.ready
        assert check is not None, "its control stands there only while a check is under way"
        item = ready_check.next_item(sight.session, check)
        if item is ReadyItem.ALARM_HEARD and not check.sounded:
            self.alarm_test_asked.emit()
            self.choose(ready=replace(check, sounded=True))
        elif item is not None:
            self.choose(ready=replace(check, ticked=(*check.ticked, item)))

    def _take_hands(self, hands: int) -> None:
        self.forms["hands"].clear()
        self._opened = ""
        self.choose(ready=replace(self.chosen.ready, hands=hands))
        self.focus_main()

    def _build_beside(self) -> None:
        """What happens at the scale now and then."""
        theme = self.theme
        tare = self.add_form("tare", Form(theme))
        tare.add(
            "tare",
            TypedInput(theme, "An empty pouch weighs", usual(Dimension.MASS, "metric"), hint="0"),
            HALF,
        )
        lost = self.add_form("lost", Form(theme))
        lost.add("mass", TypedInput(theme, "Food lost", usual(Dimension.MASS, "metric")), THIRD)
        why = Sentence("Say what became of it, such as spilled.")
        lost.add("reason", TypedInput(theme, "What became of it", why, letters=True), WHOLE - THIRD)
        self.add_form("aside", aside_form(theme))
        hands = self.add_form("hands", Form(theme))
        people = Whole("people", 1, MOST_HANDS)
        hands.add("hands", TypedInput(theme, "People at the counter", people, hint="1"), HALF)

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
        self._keys = Words(self.theme, Role.NOTE, color="ink2")
        self._keys.say(KEYS)
        self.body.addWidget(self._keys)

    def _expect_mass(self, line: AgreedLine, units: str) -> None:
        """Bounds that catch a slip in unit or decimal mark, wide enough for any real pouch."""
        mass = self.forms["fill"].inputs["mass"]
        mass.box.set_hint(mass_hint(self.sight.session, line))
        mass.set_label(mass_label(self.sight.session, line))
        tare_g = self.sight.session.tares.get(line.pouch, 0.0)
        least = min(line.fill_mass_g, line.last_fill_mass_g or line.fill_mass_g) / 4.0
        bounds = (least, line.fill_mass_g * 2.0 + tare_g)
        grams = units == "metric" and line.fill_mass_g < LIGHT_FILL_G
        for form, name, within in (
            ("fill", "mass", bounds),
            ("lost", "mass", (1.0, line.mass_g)),
            ("tare", "tare", (0.0, MOST_TARE_G)),
        ):
            quantity = usual(Dimension.MASS, units, within)
            if grams:
                quantity = Quantity(Dimension.MASS, "g", within)
            self.forms[form].inputs[name].expect(quantity)

    def _show_lines(self, sight: Sight, line: int) -> None:
        offered = lines_offered(sight.session) if sight.session is not None else ()
        busy = self._opened or self.chosen.ready is not None or self.chosen.asked is not None
        self._lines.setVisible(len(offered) > 1 and not busy)
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
        self.count_afar = view.progress


def cell_px(theme: Theme) -> int:
    """How wide a pouch of a group is drawn at this step, in design px."""
    return 36 if theme.layout.rail else 50


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
