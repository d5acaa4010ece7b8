"""The tally: a cell for each pouch of the plan, the last entry, what Undo would take back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from packdesk.instants import Reading, local, time_of_day
from packdesk.present.cards import CellState, PouchCell, TallyBoard, TallyLine
from packdesk.present.clock_rows import day_words
from packdesk.present.label_text import food_title
from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.present.words import fact_words
from packdesk.session.decide_voiding import last_act
from packdesk.session.envelope import Entry
from packdesk.session.facts import AbsorbersPlaced, PouchesReturned, PouchesShut
from packdesk.session.liners import liner_numbers
from packdesk.session.pouch import Pouch
from packdesk.session.state import Plan, SessionState
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


class Drawn:
    """The cells drawn so far; a pouch that has not changed is not drawn again."""

    def __init__(self) -> None:
        self._cells: dict[int, tuple[Pouch, Plan | None, PouchCell]] = {}

    def cell(self, session: SessionState, pouch: Pouch) -> PouchCell:
        """The cell of `pouch`; both are frozen, so the same pouch is the same cell."""
        kept = self._cells.get(pouch.number)
        if kept is not None and kept[0] is pouch and kept[1] is session.plan:
            return kept[2]
        cell = pouch_cell(session, pouch)
        self._cells[pouch.number] = (pouch, session.plan, cell)
        return cell


def tally_board(
    session: SessionState,
    entries: Sequence[Entry],
    session_id: UUID,
    measures: Measures,
    drawn: Drawn | None = None,
    now: Reading | None = None,
) -> TallyBoard:
    """Say the tally of `session`, with its last entry and when it was saved.

    An entry of another day than that of `now` says its day. `drawn` spares whoever asks again and
    again the drawing of what has not changed.
    """
    drawn = drawn or Drawn()
    by_line: dict[int, list[Pouch]] = {}
    for _, pouch in sorted(session.pouches.items()):
        if not pouch.emptied:
            by_line.setdefault(pouch.line, []).append(pouch)
    act = last_act(entries, session_id)
    last, undo = "", ""
    if act:
        # Where the plan made room for a pouch that came back, the pouch is what was asked for.
        meant = next((each for each in act if isinstance(each.fact, PouchesReturned)), act[0])
        words = fact_words(meant.fact, measures, liner_numbers(session))
        if isinstance(act[0].fact, AbsorbersPlaced):
            words += ", shut" if any(isinstance(each.fact, PouchesShut) for each in act) else ""
        at = _when(act[0], now)
        last, undo = f"{words} {at}", words
    saved = ""
    if entries:
        recorded = entries[-1].recorded
        saved = f"Saved {local(recorded.utc, recorded.utc_offset_min):%H:%M:%S}"
    return TallyBoard(
        lines=tuple(
            _line(line, [drawn.cell(session, p) for p in by_line.get(line.line.line, ())], measures)
            for line in tallies(session)
        ),
        last_entry=last,
        undo=undo,
        saved=saved,
    )


def _when(entry: Entry, now: Reading | None) -> str:
    if now is None:
        return time_of_day(entry.happened_at, entry.recorded.utc_offset_min)
    offset_min = now.offset_min_of(entry.happened_at, entry.recorded)
    at = time_of_day(entry.happened_at, offset_min)
    then, today = local(entry.happened_at, offset_min).date(), local(now.utc, offset_min).date()
    day = day_words(then, today)
    return f"{day[:3] if ' ' not in day else day} {at}".strip()


def _line(line: LineTally, begun: Sequence[PouchCell], measures: Measures) -> TallyLine:
    label = f"{line.line.food_name}, planned"
    planned = PouchCell(None, CellState.PLANNED, label, liner=line.line.liner)
    return TallyLine(
        line=line.line.line,
        food=food_title(short_food(line.line.food_name)),
        words=f"{line.planned} of {measures.mass(line.line.to_hold_g)}: {progress(line)}",
        cells=(*begun, *[planned] * line.to_fill),
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
        ("back and open", line.back),
        ("filled", at.get(PouchStage.FILLED, 0) - line.back),
        ("to fill", line.to_fill),
        ("set aside", line.aside),
    )
    return ", ".join(f"{count} {word}" for word, count in exact if count)


def pouch_cell(
    session: SessionState, pouch: Pouch, in_hand: bool = False, at: datetime | None = None
) -> PouchCell:
    """Draw one pouch as a cell, with its verdict if it has one."""
    line = session.plan.line(pouch.line) if session.plan is not None else None
    state = _CELLS[pouch.stage]
    if state is CellState.SEALED and pouch.labelled:
        state = CellState.LABELLED
    found = verdict(line, pouch, session.plan, at) if line is not None else None
    food = line.food_name if line is not None else ""
    next_ = ", next" if in_hand else ""
    liner = line is not None and line.liner
    name = "Liner" if liner else "Pouch"
    absorbers = sum(placed.each for placed in pouch.placed)
    return PouchCell(
        number=pouch.number,
        state=state,
        label=f"{name} {pouch.number}, {food}, {_state_words(pouch, state, absorbers)}{next_}",
        in_hand=in_hand,
        marginal=found is not None and found.verdict is Enough.MARGINAL,
        add_one=found is not None and found.verdict is Enough.ADD_ONE,
        liner=liner,
        pail=pouch.pail,
        absorbers=absorbers,
    )


def _state_words(pouch: Pouch, state: CellState, absorbers: int) -> str:
    """«pressed shut», and how many absorbers are in where it is not the usual one."""
    if pouch.back_and_open:
        return "back in work and open"
    if absorbers < 2:
        return CELL_WORDS[state]
    many = f"{absorbers} absorbers in"
    return many if state is CellState.ABSORBERS_IN else f"{CELL_WORDS[state]}, {many}"
