"""What helps where something went wrong at the counter, and how a count by hand compares."""

from __future__ import annotations

from packdesk.present.cards import Control
from packdesk.present.load_view import short_food
from packdesk.session.commands import TakeCount
from packdesk.session.figures import AgreedLine
from packdesk.session.state import Count, SessionState
from packdesk.session.tally import counted_as, line_stages, tallies, tally
from packdesk.session.terms import PouchStage, Stage

AMISS_TITLE = "Something went wrong?"

REOPEN = Control(
    "Open one again",
    icon="again",
    key="O",
    form="reopen",
    act="These are open",
    title="Say which pouches you opened again.",
)
SWAP = Control(
    "Two mixed up",
    icon="edit",
    key="X",
    form="swap",
    act="Exchange the two",
    title="Say which two pouches have each other's number.",
)
COUNTABLE = {
    PouchStage.FILLED: "filled",
    PouchStage.ABSORBERS_IN: "with absorbers in",
    PouchStage.PRESSED_SHUT: "shut",
    PouchStage.SEALED: "sealed",
}
"""What may be counted at the counter: pouches that have come at least so far."""


def amiss_controls(session: SessionState, stage: Stage, line: int) -> tuple[Control, ...]:
    """What can be put right at a stage, as things stand; `line` is the plan line in hand there."""
    if stage not in (Stage.FILLING, Stage.SEALING) or session.closed_at is not None:
        return ()
    pouches = session.working_pouches()
    found = []
    if any(pouch.closed and not pouch.pail for pouch in pouches):
        found.append(REOPEN)
    if sum(pouch.told_apart for pouch in pouches) > 1:
        found.append(SWAP)
    if pouches:
        found.append(_count_control(session, stage, line))
    return tuple(found)


def _count_control(session: SessionState, stage: Stage, line: int) -> Control:
    """Count what was worked at here, of the food in hand; it is named where there is no choice."""
    foods = countable_lines(session)
    whose = f"Count the {short_food(foods[0].food_name)}" if len(foods) == 1 else "Count one food"
    if stage is Stage.SEALING:
        sealed = any(pouch.gas_tight for pouch in session.working_pouches())
        what = PouchStage.SEALED if sealed else PouchStage.PRESSED_SHUT
    else:
        in_round = any(round_.left for round_ in session.rounds.values())
        what = PouchStage.PRESSED_SHUT if in_round else PouchStage.FILLED
    return Control(
        "Count and compare",
        icon="rule",
        key="K",
        form="compare",
        command=TakeCount(line, what.value, 0),
        act="Compare the count",
        title=f"{whose} by hand and enter it; the tally stays as it is.",
    )


def countable_lines(session: SessionState) -> tuple[AgreedLine, ...]:
    """The plan lines that pouches were filled for."""
    return tuple(each.line for each in tallies(session) if each.filled)


def count_words(session: SessionState) -> str:
    """How the last count differs from the tally, and what to do.

    Empty once a pouch of that food has come further, or another count was entered: a tally that
    happens to come back to the same number is not the one that was counted.
    """
    if not session.counts:
        return ""
    last = session.counts[-1]
    line = tally(session, last.line)
    if line is None or last.what not in COUNTABLE:
        return ""
    stage = PouchStage(last.what)
    if counted_as(line, stage) != last.tallied or last.counted == last.tallied:
        return ""
    if line_stages(session, last.line) != last.stages:
        return ""
    return _differs(last, line.line, COUNTABLE[stage])


def _differs(count: Count, line: AgreedLine, what: str) -> str:
    off = abs(count.counted - count.tallied)
    food = short_food(line.food_name)
    told = f"You count {count.counted} {what} of {food}, the tally says {count.tallied}."
    if count.counted < count.tallied:
        missing, press = ("one", "a press") if off == 1 else (f"{off}", f"{off} presses")
        return (
            f"{told} Look for the {missing} missing and count again (K); else void {press} too "
            "many (H, then V)."
        )
    cause = "One pouch was" if off == 1 else f"{off} pouches were"
    return f"{told} {cause} never noted: note what was done with a press more, or count again (K)."
