"""Decisions about labels, and about the places of the sheets they lie on."""

from __future__ import annotations

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact


@facts_of.register
def _(command: c.NoteLabelsMade, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (
        f.LabelsMade(
            pouches=command.pouches,
            stock=command.stock,
            first_cell=command.first_cell,
            next_cell=command.next_cell,
            reprint=command.reprint,
            line=command.line,
            file=command.file,
            remarks=command.remarks,
        ),
    )


@facts_of.register
def _(command: c.NoteLabelsPrinted, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (
        f.LabelsPrinted(
            pouches=command.pouches,
            stock=command.stock,
            first_cell=command.first_cell,
            reprint=command.reprint,
        ),
        f.StockSheetUsed(stock=command.stock, cells=command.cells_used, session=case.noted_in),
    )


@facts_of.register
def _(command: c.NoteNumberLabels, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (
        f.NumberLabelsPrinted(
            line=command.line,
            pouches=command.pouches,
            stock=command.stock,
            first_cell=command.first_cell,
            reprint=command.reprint,
        ),
        f.StockSheetUsed(stock=command.stock, cells=command.cells_used, session=case.noted_in),
    )
