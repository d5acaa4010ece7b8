"""The plan as it is typed: a row for each lot with its pouch and mass, and what that takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout

from packdesk.catalog.pouches import Pouch
from packdesk.instants import Reading
from packdesk.present.measures import Measures
from packdesk.present.plan_offer import LineWish, OfferedLine, SiteWish
from packdesk.sentences import capital
from packdesk.session.book_state import Lot
from packdesk.session.packing_room import USUAL_ROOM_C, planned_room_c
from packdesk.session.state import SessionState
from packdesk.ui.pages.day_ahead import DayAhead
from packdesk.ui.pages.form import HALF, WHOLE, Form
from packdesk.ui.pages.inputs import OptionInput, PickInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.typed import Quantity, Sentence, usual
from packdesk.ui.pages.words import Caution, Words, let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.choice_field import Choice
from packdesk.ui.widgets.refusal import Objection, Refusal
from packdesk.ui.widgets.themed import Themed
from packdesk.units import Dimension

GRAMS_PER_POUND = 453.59237
"""Exact: the international avoirdupois pound."""


class PlanRow(Themed):
    """One lot: its name, a pouch to pick, a mass to set, and what it takes or why it is unfit.

    Signals:
        changed: pouch or mass changed.
        take_off_asked: the lot is to leave the plan.
    """

    changed = Signal()
    take_off_asked = Signal()

    def __init__(self, theme: Theme, parent: Form) -> None:
        super().__init__(theme, parent)
        self._food = Words(theme, Role.BODY)
        self._lot = Words(theme, Role.NOTE, weight=Weight.REGULAR, color="ink2")
        self.pouch = PickInput(theme, "Pouch", "Choose the pouch for this lot.")
        self.pouch.chosen.connect(lambda _key: self._take_pouch())
        self.fill = TypedInput(
            theme, "In each", Quantity(Dimension.MASS, "g"), empty=None, hint="full"
        )
        self.fill.edited.connect(lambda _text: self.changed.emit())
        why = Sentence("Say why it is put up all the same.")
        self.reason = TypedInput(
            theme, "Reason to put it up all the same", why, empty="", letters=True
        )
        self.reason.edited.connect(lambda _text: self.changed.emit())
        self.reason.hide()
        self._takes = Words(theme, Role.BODY)
        self._detail = Words(theme, Role.NOTE, weight=Weight.REGULAR)
        self.refusal = Refusal(theme)
        self.refusal.cure_asked.connect(self.take_off_asked)
        let_grow(self.refusal)
        self._warnings = Words(theme, Role.NOTE, weight=Weight.REGULAR, color="ink2")
        self._caution = Caution(theme)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        names, takes = QVBoxLayout(), QVBoxLayout()
        for box, words in ((names, (self._food, self._lot)), (takes, (self._takes, self._detail))):
            box.setSpacing(0)
            for each in words:
                box.addWidget(each)
            box.addStretch(1)
        takes.insertWidget(0, self.refusal)
        top = Qt.AlignmentFlag.AlignTop
        self._grid.addLayout(names, 0, 0)
        self._grid.addWidget(self.pouch, 0, 1, top)
        self._grid.addWidget(self.fill, 0, 2, top)
        self._grid.addLayout(takes, 0, 3)
        self._grid.addWidget(self._warnings, 1, 0, 1, 4)
        self._grid.addWidget(self._caution, 2, 0, 1, 4)
        self._grid.addWidget(self.reason, 3, 0, 1, 4)
        for column, share in enumerate((20, 32, 16, 32)):
            self._grid.setColumnStretch(column, share)
            self._grid.setColumnMinimumWidth(column, 1)
        self.lot = ""
        self._agreed_g: float | None = None
        self._agreed_words = ""
        self.restyle()

    def show_lot(
        self,
        lot: Lot,
        pouches: Sequence[Pouch],
        pouch: str,
        units: str,
        agreed_g: float | None = None,
        reason: str = "",
    ) -> None:
        """Show a lot, the pouches it may go into, the mass agreed for each, the reason given."""
        self.lot = lot.lot
        self._food.say(capital(lot.food_name))
        self._lot.say(f"Lot {lot.lot}, {Measures(units).mass(lot.mass_g)}")
        choices = tuple(Choice(each.key, pouch_words(each)) for each in pouches)
        self.pouch.show_choices(choices, self.pouch.key or pouch)
        name = f"{lot.food_name}, lot {lot.lot}"
        self.pouch.box.setAccessibleName(f"Pouch for {name}")
        unit = "g" if units == "metric" else "lb"
        self.fill.expect(Quantity(Dimension.MASS, unit, (20.0, max(lot.mass_g, 20.0))))
        self.fill.box.setAccessibleName(f"Mass in each pouch of {name}, in {unit}")
        self.reason.box.setAccessibleName(f"Reason to put up {name} all the same")
        if reason:
            self.reason.preset(reason)
        self._agreed_g = agreed_g
        if agreed_g is not None:
            in_unit = agreed_g if unit == "g" else agreed_g / GRAMS_PER_POUND
            self._agreed_words = f"{in_unit:.0f}" if unit == "g" else f"{in_unit:.2f}"
            self.fill.preset(self._agreed_words)

    def show_line(self, line: OfferedLine | None) -> None:
        """Show what the line takes, or what stands against it."""
        unfit = line is not None and line.unfit
        self.refusal.show_objection(
            Objection(line.what, line.figure, cure="Take it off") if unfit else None
        )
        self._takes.say(line.takes if line is not None else "")
        self._detail.say(line.detail if line is not None else "")
        self._warnings.say(*((line.advice,) if unfit else line.warnings if line else ()))
        self._caution.say(line.caution if line is not None else "")
        self.reason.setVisible(line is not None and line.by_reason)

    def wish(self) -> LineWish | None:
        """What is chosen and typed so far; None while the pouch is open."""
        if not self.pouch.key:
            return None
        agreed = self._agreed_g is not None and self.fill.text == self._agreed_words
        return LineWish(
            self.lot,
            self.pouch.key,
            self._agreed_g if agreed else self.fill.peek(),
            self.reason.peek() or "",
        )

    def _take_pouch(self) -> None:
        """Another pouch is filled anew: what was agreed for the one before says nothing of it."""
        if self.fill.text == self._agreed_words:
            self.fill.clear()
        self.changed.emit()

    def restyle(self) -> None:
        super().restyle()
        self._grid.setHorizontalSpacing(self.theme.whole(14))
        self._grid.setVerticalSpacing(self.theme.whole(2))


class PlanForm(Form):
    """The rows of the plan, the lots that could join it, and where it will be packed.

    Signals:
        changed: something was typed or chosen.
        lot_left: a lot is to leave the plan; carries its name.
        lot_joined: a lot is to join the plan; carries its name.
    """

    changed = Signal()
    lot_left = Signal(str)
    lot_joined = Signal(str)

    def __init__(
        self,
        theme: Theme,
        now: Callable[[], Reading],
        offset_min_at: Callable[[datetime], int],
    ) -> None:
        super().__init__(theme, stays=True)
        self._rows: dict[str, PlanRow] = {}
        self._shown_at: datetime | None = None
        self._row_box = QVBoxLayout()
        self._grid.addLayout(self._row_box, 0, 0, 1, WHOLE)
        self.new_row()
        self._site_inputs(now, offset_min_at)
        self.restyle()

    @property
    def rows(self) -> tuple[PlanRow, ...]:
        """The rows, one a lot."""
        return tuple(self._rows.values())

    def show_lots(
        self,
        lots: Sequence[Lot],
        others: Sequence[Lot],
        pouches: Sequence[Pouch],
        session: SessionState,
    ) -> None:
        """Show a row for each of `lots`; `others` could join."""
        planned = {line.lot: line for line in session.plan.lines} if session.plan else {}
        for gone in [lot for lot in self._rows if lot not in {each.lot for each in lots}]:
            row = self._rows.pop(gone)
            for name in ("pouch", "fill", "reason"):
                del self.inputs[f"{name} {gone}"]
            self._row_box.removeWidget(row)
            row.hide()
            row.deleteLater()
        for lot in lots:
            if lot.lot not in self._rows:
                self._add_row(lot.lot)
            line = planned.get(lot.lot)
            usual_pouch = line.pouch if line is not None else self._usual_pouch(pouches)
            agreed_g = None
            if line is not None and self._rows[lot.lot].pouch.key in ("", line.pouch):
                agreed_g = line.fill_mass_g
            reason = line.against_advice if line is not None else ""
            self._rows[lot.lot].show_lot(lot, pouches, usual_pouch, session.units, agreed_g, reason)
        join = self.inputs["join"]
        join.setVisible(bool(others))
        join.show_choices(
            tuple(Choice(each.lot, f"{capital(each.food_name)}, lot {each.lot}") for each in others)
        )
        self._expect(session)

    def show_offer(self, lines: Sequence[OfferedLine]) -> None:
        """Show what the whole plan takes."""
        by_lot = {line.lot: line for line in lines}
        for lot, row in self._rows.items():
            row.show_line(by_lot.get(lot))

    def wishes(self) -> tuple[LineWish, ...]:
        """What is chosen and typed so far."""
        found = [row.wish() for row in self._rows.values()]
        return tuple(wish for wish in found if wish is not None)

    def site(self) -> SiteWish:
        """Where and when it is packed, as far as that can be read."""
        elevation, room, day = (self.inputs[name].peek() for name in ("elevation", "room", "day"))
        return SiteWish(
            elevation_m=elevation if elevation is not None else 0.0,
            packing_temp_c=room if room is not None else USUAL_ROOM_C,
            pack_at=day if isinstance(day, datetime) else None,
        )

    def restyle(self) -> None:
        super().restyle()
        if hasattr(self, "_row_box"):
            self._row_box.setSpacing(self.theme.whole(10))

    def _site_inputs(
        self, now: Callable[[], Reading], offset_min_at: Callable[[datetime], int]
    ) -> None:
        theme = self.theme
        self.add(
            "day",
            TypedInput(
                theme,
                "Packing day and time",
                DayAhead(now, offset_min_at),
                empty=None,
                letters=True,
                hint="Saturday at nine",
            ),
        )
        self.add(
            "elevation",
            TypedInput(theme, "Elevation above the sea", usual(Dimension.ELEVATION, "metric")),
        )
        self.add(
            "room",
            TypedInput(
                theme, "Room when packing", usual(Dimension.TEMPERATURE, "metric", (-10.0, 50.0))
            ),
        )
        working = OptionInput(theme, "Working", "counted")
        working.show_options(
            (
                Option("counted", "Counted", "pouches of a group are alike"),
                Option("numbered", "Numbered", "each pouch has its number"),
            ),
            "counted",
        )
        self.add("working", working, WHOLE)
        join = PickInput(theme, "Put another lot of the book on", "Choose a lot.", forgets=True)
        join.chosen.connect(self.lot_joined)
        join.value = lambda: ""
        self.add("join", join, HALF)
        for name in ("day", "elevation", "room"):
            self.inputs[name].edited.connect(lambda _text: self.changed.emit())

    def _expect(self, session: SessionState) -> None:
        self.inputs["elevation"].expect(usual(Dimension.ELEVATION, session.units))
        self.inputs["room"].expect(usual(Dimension.TEMPERATURE, session.units, (-10.0, 50.0)))
        plan = session.plan
        measures = Measures(session.units)
        self.inputs["room"].preset_quantity(measures.temperature(planned_room_c(plan)))
        if plan is not None and plan.agreed_at != self._shown_at:
            self._shown_at = plan.agreed_at
            self.inputs["working"].begin_with("numbered" if plan.numbered else "counted")
        metres = plan.elevation_m if plan is not None else 0.0
        feet = session.units == "us"
        self.inputs["elevation"].preset(f"{metres / 0.3048:.0f}" if feet else f"{metres:.0f}")

    def _add_row(self, lot: str) -> None:
        row = PlanRow(self.theme, self)
        row.changed.connect(self.changed)
        row.take_off_asked.connect(lambda: self.lot_left.emit(lot))
        self._rows[lot] = row
        self._row_box.addWidget(row)
        own = {f"pouch {lot}": row.pouch, f"fill {lot}": row.fill, f"reason {lot}": row.reason}
        self.inputs = {**own, **self.inputs}
        row.show()

    def _usual_pouch(self, pouches: Sequence[Pouch]) -> str:
        """The pouch picked last, else the first with a zip."""
        picked = [row.pouch.key for row in self._rows.values() if row.pouch.key]
        zipped = [pouch.key for pouch in pouches if pouch.zip]
        return (picked[-1:] or zipped[:1] or [pouches[0].key if pouches else ""])[0]


def pouch_words(pouch: Pouch) -> str:
    """A pouch by its measures first, because its size word is only a name."""
    name, _, measures = pouch.name.rpartition(", ")
    return f"{measures}, {name}" if name and measures.endswith("mm") else capital(pouch.name)
