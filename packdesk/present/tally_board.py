"""The tally: a cell for each pouch of the plan, the last entry, what Undo would take back."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from packdesk.instants import local, time_of_day
from packdesk.present.cards import CellState, PouchCell, TallyBoard, TallyLine
from packdesk.present.label_text import food_title
from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.present.words import fact_words
from packdesk.session.decide_voiding import last_act
from packdesk.session.envelope import Entry
from packdesk.session.state import Pouch, SessionState
from packdesk.session.tally import LineTally, tallies
from packdesk.session.terms import PouchStage
from packdesk.session.verdicts import Enough, verdict

_CELLS = {
    PouchStage.FILLED: CellState.FILLED,
    PouchStage.ABSORBERS_IN: CellState.ABSORBERS_IN,
    PouchStage.PRESSED_SHUT: CellState.PRESSED_SHUT,
    PouchStage.SEALED: CellState.SEALED,
    PouchStage.STOWED: CellState.STOWED,
    PouchStage.SEAL_CHECKED: CellState.SEAL_CHECKED,
    PouchStage.SET_ASIDE: CellState.SET_ASIDE,
}

CELL_WORDS = {
    CellState.PLANNED: "planned",
    CellState.FILLED: "filled",
    CellState.ABSORBERS_IN: "absorber in",
    CellState.PRESSED_SHUT: "pressed shut",
    CellState.SEALED: "sealed",
    CellState.LABELLED: "labelled",
    CellState.STOWED: "stowed",
    CellState.SEAL_CHECKED: "seal checked",
    CellState.SET_ASIDE: "set aside",
}


def tally_board(
    session: SessionState, entries: Sequence[Entry], session_id: UUID, measures: Measures
) -> TallyBoard:
    """Say the tally of `session`, with its last entry and when it was saved."""
    act = last_act(entries, session_id)
    last, undo = "", ""
    if act:
        words = fact_words(act[0].fact, measures)
        at = time_of_day(act[0].happened_at, act[0].recorded.utc_offset_min)
        last, undo = f"{words} {at}", words
    saved = ""
    if entries:
        recorded = entries[-1].recorded
        saved = f"Saved {local(recorded.utc, recorded.utc_offset_min):%H:%M:%S}"
    return TallyBoard(
        lines=tuple(_line(session, line, measures) for line in tallies(session)),
        last_entry=last,
        undo=undo,
        saved=saved,
    )


def _line(session: SessionState, line: LineTally, measures: Measures) -> TallyLine:
    pouches = [p for p in session.pouches.values() if p.line == line.line.line and not p.emptied]
    cells = [pouch_cell(session, pouch) for pouch in sorted(pouches, key=lambda p: p.number)]
    cells += [
        PouchCell(None, CellState.PLANNED, f"{line.line.food_name}, planned", liner=line.line.liner)
        for _ in range(line.to_fill)
    ]
    return TallyLine(
        line=line.line.line,
        food=food_title(short_food(line.line.food_name)),
        words=f"{line.planned} of {measures.mass(line.line.fill_mass_g)}: {progress(line)}",
        cells=tuple(cells),
    )


def progress(line: LineTally) -> str:
    """Say how far the pouches of a plan line have come, the furthest first."""
    if not line.filled and not line.aside:
        return "all planned"
    at = line.at_stage
    exact = (
        ("checked", at.get(PouchStage.SEAL_CHECKED, 0)),
        ("stowed", at.get(PouchStage.STOWED, 0)),
        ("sealed", at.get(PouchStage.SEALED, 0)),
        ("shut", at.get(PouchStage.PRESSED_SHUT, 0)),
        ("with absorbers", at.get(PouchStage.ABSORBERS_IN, 0)),
        ("filled", at.get(PouchStage.FILLED, 0)),
        ("to fill", line.to_fill),
        ("set aside", line.aside),
    )
    return ", ".join(f"{count} {word}" for word, count in exact if count)


def pouch_cell(session: SessionState, pouch: Pouch, in_hand: bool = False) -> PouchCell:
    """Draw one pouch as a cell, with its verdict if it has one."""
    line = session.plan.line(pouch.line) if session.plan is not None else None
    state = _CELLS[pouch.stage]
    if state is CellState.SEALED and pouch.labelled:
        state = CellState.LABELLED
    found = verdict(line, pouch) if line is not None else None
    food = line.food_name if line is not None else ""
    next_ = ", next" if in_hand else ""
    return PouchCell(
        number=pouch.number,
        state=state,
        label=f"Pouch {pouch.number}, {food}, {CELL_WORDS[state]}{next_}",
        in_hand=in_hand,
        marginal=found is not None and found.verdict is Enough.MARGINAL,
        add_one=found is not None and found.verdict is Enough.ADD_ONE,
        liner=line.liner if line is not None else False,
        pail=pouch.pail,
        bare=not pouch.placed,
    )
