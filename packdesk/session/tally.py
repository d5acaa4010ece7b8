"""How many pouches of each plan line have come how far; counted from the pouches every time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packdesk.session.figures import AgreedLine
from packdesk.session.once import once
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.terms import PouchStage


@dataclass(frozen=True, slots=True)
class LineTally:
    """Pouches of one plan line that have come at least as far as each word says.

    `aside` are set aside and counted in no other, `held_aside` of them still hold their food;
    `planned` is the plan's number. `back` came back into work and stand open, with no absorber in.
    `at_stage` counts every pouch once, at the stage it has come to.
    """

    line: AgreedLine
    planned: int
    filled: int
    with_absorbers: int
    shut: int
    sealed: int
    labelled: int
    stowed: int
    checked: int
    aside: int
    at_stage: Mapping[PouchStage, int]
    held_aside: int = 0
    back: int = 0

    @property
    def to_fill(self) -> int:
        """Pouches still to be filled, never below zero; one aside with its food is filled."""
        return max(0, self.planned - self.filled - self.held_aside)


@once
def tallies(session: SessionState) -> tuple[LineTally, ...]:
    """Count each plan line of `session`, in the order of the plan."""
    if session.plan is None:
        return ()
    by_line: dict[int, list[Pouch]] = {line.line: [] for line in session.plan.lines}
    for pouch in session.pouches.values():
        by_line.setdefault(pouch.line, []).append(pouch)
    return tuple(_tally(line, by_line[line.line]) for line in session.plan.lines)


def tally(session: SessionState, line: int) -> LineTally | None:
    """Count one plan line; None if the plan has no such line."""
    return next((each for each in tallies(session) if each.line.line == line), None)


def _tally(line: AgreedLine, of_line: Sequence[Pouch]) -> LineTally:
    pouches = [pouch for pouch in of_line if not pouch.aside]
    at_stage = Counter([pouch.stage for pouch in of_line])
    return LineTally(
        line=line,
        planned=line.count,
        filled=len(pouches),
        with_absorbers=len([p for p in pouches if p.placed]),
        shut=len([p for p in pouches if p.closed]),
        sealed=len([p for p in pouches if p.gas_tight]),
        labelled=len([p for p in pouches if p.labelled]),
        stowed=len([p for p in pouches if p.pail]),
        checked=len([p for p in pouches if p.checks]),
        aside=len(of_line) - len(pouches),
        at_stage=at_stage,
        held_aside=len([p for p in of_line if p.aside and not p.emptied]),
        back=len([p for p in pouches if p.sealed is None and p.back_and_open]),
    )


_COUNTED = {
    PouchStage.FILLED: "filled",
    PouchStage.ABSORBERS_IN: "with_absorbers",
    PouchStage.PRESSED_SHUT: "shut",
    PouchStage.SEALED: "sealed",
    PouchStage.STOWED: "stowed",
    PouchStage.SEAL_CHECKED: "checked",
    PouchStage.SET_ASIDE: "aside",
}


def line_stages(session: SessionState, number: int) -> tuple[tuple[int, PouchStage], ...]:
    """How far each pouch of a plan line has come, those set aside among them."""
    pouches = session.pouches.values()
    return tuple((pouch.number, pouch.stage) for pouch in pouches if pouch.line == number)


def counted_as(line: LineTally, stage: PouchStage) -> int:
    """How many pouches of a line have come at least as far as `stage`, by the tally."""
    counted: int = getattr(line, _COUNTED[stage])
    return counted
