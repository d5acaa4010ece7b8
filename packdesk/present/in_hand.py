"""Which plan line is in hand at the counter, and which loads it is filled from: picked, or due."""

from __future__ import annotations

from itertools import pairwise

from packdesk.present.chosen import Chosen
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.load_left import load_in_hand, next_loads, opened_loads
from packdesk.session.open_again import open_again
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import still_to_come
from packdesk.session.tally import LineTally, tallies


def line_in_hand(session: SessionState, chosen: Chosen) -> LineTally | None:
    """The plan line picked, or the first with something to do at the counter.

    Those with pouches that stand open again come first, since their absorbers work on the air. A
    line picked that is done with gives way to one with pouches that came back.
    """
    counted = tallies(session)
    counted = tuple(line for line in counted if _open_again(session, line)) or counted
    picked = next((line for line in counted if line.line.line == chosen.line), None)
    back = any(line.back for line in counted)
    if picked is not None and not (back and _done(picked)):
        return picked
    for line in counted:
        if line.shut < line.filled:
            return line
    ready = [line for line in counted if line.to_fill and lot_is_ready(session, line.line.lot)]
    over = [line for line in counted if _left_over(session, line)]
    return next(iter((*ready, *over, *counted)), None)


def lines_offered(session: SessionState) -> tuple[AgreedLine, ...]:
    """The plan lines there is something to choose between: while a round is open, its own only,
    and while pouches stand open again, theirs."""
    plan = session.plan
    if plan is None:
        return ()
    again = tuple(each.line for each in tallies(session) if _open_again(session, each))
    if again:
        return again
    if any(round_.left for round_ in session.rounds.values()):
        return tuple(line for line in plan.lines if open_pouches(session, line.line))
    return tuple(
        each.line
        for each in tallies(session)
        if each.to_fill or each.shut < each.filled or _left_over(session, each)
    )


def lot_is_ready(session: SessionState, lot: str) -> bool:
    """Whether a lot may be filled: a load of it is open, or it needs no cold."""
    return lot in session.bypassed or any(
        load.lot == lot and load.uncovered is not None for load in session.loads.values()
    )


def fill_loads(
    session: SessionState, line: AgreedLine, chosen: Chosen, mass_g: float
) -> tuple[str, ...]:
    """The loads that food of a plan line comes from next: those picked, else by reckoning."""
    open_now = {load.load for load in opened_loads(session, line.lot)}
    if chosen.loads and open_now.issuperset(chosen.loads):
        return chosen.loads
    return next_loads(session, line, mass_g)


def loads_offered(session: SessionState, line: AgreedLine) -> tuple[tuple[str, ...], ...]:
    """What the next pouch may be filled from: each load about the one in hand, and two in turn.

    Empty while there is nothing to choose.
    """
    order = [load.load for load in opened_loads(session, line.lot)]
    if len(order) < 2:
        return ()
    at = order.index(load_in_hand(session, line.lot))
    near = order[max(0, at - 1) : at + 2]
    found: list[tuple[str, ...]] = [(near[0],)]
    for first, second in pairwise(near):
        found += [(first, second), (second,)]
    return tuple(found)


def _done(tally: LineTally) -> bool:
    return not tally.to_fill and tally.shut >= tally.filled


def _left_over(session: SessionState, tally: LineTally) -> bool:
    """Whether food is there for more pouches than were planned: it is not left in silence."""
    return lot_is_ready(session, tally.line.lot) and still_to_come(session, tally.line).left_over


def _open_again(session: SessionState, tally: LineTally) -> bool:
    return tally.shut < tally.filled and bool(open_again(session, tally.line))
