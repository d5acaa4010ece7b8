"""Decisions where something went wrong: pouches opened again or felt, two numbers mixed up."""

from __future__ import annotations

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.in_doubt import served_by


@facts_of.register
def _(command: c.ReopenPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.PouchesReopened(pouches=command.pouches, reason=command.reason.strip()),)


@facts_of.register
def _(command: c.FeelAbsorbers, case: Case) -> tuple[Fact, ...]:
    pouches = served_by(the_session(case), command.round)
    return (
        f.AbsorbersFelt(
            round=command.round,
            pouches=tuple(pouch.number for pouch in pouches),
            without=command.without,
        ),
    )


@facts_of.register
def _(command: c.SwapPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.PouchesSwapped(first=command.first, second=command.second),)
