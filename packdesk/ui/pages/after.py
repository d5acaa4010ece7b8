"""The page after the iron: pails, seal checks, the record, the end of the session."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from packdesk.present.cards import Control, WorkCard
from packdesk.present.drawn_cells import drawn_cells
from packdesk.present.tally_board import pouch_cell
from packdesk.session.commands import CheckSeals, CloseSession, StowPouches
from packdesk.session.terms import SealVerdict, Stage
from packdesk.ui.pages.aside import aside_form, aside_order
from packdesk.ui.pages.form import THIRD, WHOLE, Form
from packdesk.ui.pages.group_cells import GroupCells
from packdesk.ui.pages.inputs import OptionInput, TypedInput
from packdesk.ui.pages.options import Option
from packdesk.ui.pages.paper_choice import AFTERWARDS
from packdesk.ui.pages.paper_page import PaperPage
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.typed import Numbers, Sentence


class AfterPage(PaperPage):
    """Pouches are stowed and looked at; the record is made."""

    stage = Stage.AFTER

    def build(self) -> None:
        theme = self.theme
        stow = self.add_form("stow", Form(theme))
        pouches = TypedInput(theme, "Which pouches", Numbers(), hint="such as 1 to 8")
        stow.add("pouches", pouches, THIRD)
        pail = Sentence("Write the number or the name of the pail.", 20)
        stow.add("pail", TypedInput(theme, "Into pail", pail, letters=True), THIRD)
        check = self.add_form("check", Form(theme))
        check.add(
            "pouches", TypedInput(theme, "Which pouches", Numbers(), hint="such as 3, 5"), THIRD
        )
        check.new_row()
        verdict = OptionInput(theme, "How they feel", SealVerdict.SNUG)
        verdict.show_options(
            (
                Option(SealVerdict.TIGHT, "Tight", "like a brick"),
                Option(SealVerdict.SNUG, "Snug", "drawn in a little"),
                Option(SealVerdict.SOFT, "Soft", "air in it"),
                Option(SealVerdict.SWOLLEN, "Swollen", "do not open"),
            ),
            SealVerdict.SNUG,
        )
        check.add("verdict", verdict, WHOLE)
        close = self.add_form("close", Form(theme))
        remark = Sentence("Write what you would do otherwise next time.")
        close.add(
            "remark",
            TypedInput(theme, "Remark, if any", remark, empty="", letters=True),
            WHOLE,
        )
        self.add_form("aside", aside_form(theme))
        self._cells = GroupCells(theme)
        self.add_papers(AFTERWARDS)
        self.body.addWidget(self._cells)
        self.body.addWidget(self.shelf, 1)
        self.finish()

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        match card.main.command:
            case StowPouches(pouches=pouches) | CheckSeals(pouches=pouches):
                numbers = pouches
            case _:
                numbers = ()  # also while a paper is made or lies here
        session = sight.session
        group = [session.pouches[number] for number in numbers]
        cells = drawn_cells(group, 0, lambda pouch: pouch_cell(session, pouch, in_hand=True))
        self._cells.show_cells(cells)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        match control.form:
            case "stow":
                return Order(StowPouches(typed["pail"], typed["pouches"]))
            case "check":
                return Order(CheckSeals(typed["pouches"], SealVerdict(typed["verdict"])))
            case "aside":
                return Order(aside_order(typed))
            case "close":
                return Order(CloseSession(typed["remark"]))
            case "record":
                self.make_paper("record", sight)
                return None
            case _:
                return super().order(control, typed, sight)
