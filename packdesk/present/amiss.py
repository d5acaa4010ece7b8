"""What helps where something went wrong at the counter, and how a count by hand compares."""

from __future__ import annotations

from packdesk.present.cards import Control
from packdesk.session.figures import AgreedLine
from packdesk.session.state import Count, SessionState
from packdesk.session.tally import counted_as, tally
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
COUNT = Control(
    "Count and compare",
    icon="rule",
    key="K",
    form="compare",
    act="Compare the count",
    title="Count by hand and enter it; the tally stays as it is.",
)

COUNTABLE = {
    PouchStage.FILLED: "filled",
    PouchStage.ABSORBERS_IN: "with absorbers in",
    PouchStage.PRESSED_SHUT: "shut",
    PouchStage.SEALED: "sealed",
}
"""What may be counted at the counter: pouches that have come at least so far."""


def amiss_controls(session: SessionState, stage: Stage) -> tuple[Control, ...]:
    """What can be put right at a stage, as things stand."""
    if stage not in (Stage.FILLING, Stage.SEALING) or session.closed_at is not None:
        return ()
    pouches = session.working_pouches()
    found = []
    if any(pouch.closed and not pouch.pail for pouch in pouches):
        found.append(REOPEN)
    if sum(pouch.told_apart for pouch in pouches) > 1:
        found.append(SWAP)
    if pouches:
        found.append(COUNT)
    return tuple(found)


def count_words(session: SessionState) -> str:
    """How the last count differs from the tally, and what to do; empty once either has changed."""
    if not session.counts:
        return ""
    last = session.counts[-1]
    line = tally(session, last.line)
    if line is None or last.what not in COUNTABLE:
        return ""
    stage = PouchStage(last.what)
    if counted_as(line, stage) != last.tallied or last.counted == last.tallied:
        return ""
    return _differs(last, line.line, COUNTABLE[stage])


def _differs(count: Count, line: AgreedLine, what: str) -> str:
    off = abs(count.counted - count.tallied)
    told = f"You count {count.counted} {what} of {line.food_name}, the tally says {count.tallied}."
    if count.counted < count.tallied:
        cause = "One press was" if off == 1 else f"{off} presses were"
        return (
            f"{told} {cause} too many, or a pouch stands elsewhere. Look for it; else undo the "
            "press, or void it in the story."
        )
    cause = "One pouch was" if off == 1 else f"{off} pouches were"
    return f"{told} {cause} never noted: note what was done with a press more, or count again."
