"""Decisions at the counter beside the rounds: filling, pressing shut, sealing."""

from __future__ import annotations

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.figures import AgreedLine
from packdesk.session.state import Pouch, SessionState

SEAL_WITHIN_MIN = 60.0
"""How long a zip may stand in for a seam (common practice, no source)."""

CLOSE_GAP_WITHIN_MIN = 10.0
"""A gap left for drawing off air is closed at once (common practice; the figure has no source)."""


def line_in(session: SessionState, number: int) -> AgreedLine:
    """The plan line of that number; refused when there is none."""
    line = session.plan.line(number) if session.plan is not None else None
    if line is None:
        raise Refused("Agree a plan with this food first.")
    return line


def next_numbers(session: SessionState, count: int) -> tuple[int, ...]:
    """The next `count` pouch numbers; a number is never used twice, not even of an emptied one."""
    first = max(session.pouches, default=0) + 1
    return tuple(range(first, first + count))


def open_pouches(session: SessionState, line: int | None = None) -> tuple[Pouch, ...]:
    """Filled pouches that are neither shut nor sealed, by number."""
    return tuple(pouch for pouch in session.working_pouches(line) if not pouch.closed)


@facts_of.register
def _(command: c.FillPouches, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    line = line_in(session, command.line)
    if command.count < 1:
        raise Refused("Count at least one pouch.")
    assert session.plan is not None, "a line was found in it"
    return (
        f.PouchesFilled(
            line=line.line,
            pouches=next_numbers(session, command.count),
            net_mass_g=command.net_mass_g,
            told_apart=session.plan.numbered,
        ),
    )


@facts_of.register
def _(command: c.CheckReady, case: Case) -> tuple[Fact, ...]:
    waiting = tuple(p.number for p in open_pouches(the_session(case)))
    if not waiting:
        raise Refused("No filled pouch stands open. Fill some before opening a packet.")
    return (f.ReadyChecked(pouches=waiting),)


@facts_of.register
def _(command: c.ShutPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.PouchesShut(pouches=command.pouches, seal_within_min=SEAL_WITHIN_MIN),)


@facts_of.register
def _(command: c.SealPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (
        f.PouchesSealed(
            pouches=command.pouches,
            seams=command.seams,
            gap_left=command.gap_left,
            close_within_min=CLOSE_GAP_WITHIN_MIN if command.gap_left else 0.0,
        ),
    )


@facts_of.register
def _(command: c.DrawOffAir, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.AirDrawnOff(pouches=command.pouches),)
