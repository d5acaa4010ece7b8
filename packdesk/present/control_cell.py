"""The pouch on a control: as it will be once the control was pressed."""

from __future__ import annotations

from packdesk.present.cards import Control, PouchCell
from packdesk.session.commands import Command, PlaceAbsorbers
from packdesk.session.decide_packing import open_pouches
from packdesk.session.lacking import lacking
from packdesk.session.liners import liner_numbers
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState


def control_cell(session: SessionState | None, control: Control) -> PouchCell | None:
    """The pouch that `control` draws, with as many absorbers as will be in the first it is for."""
    if control.cell is None:
        return None
    absorbers, command, liner = 1, control.command, False
    if session is not None:
        liner = _of_liners(session, command)
        if isinstance(command, PlaceAbsorbers):
            absorbers = _once_placed(session, command)
        else:
            numbers = getattr(command, "pouches", ())
            pouches = [session.pouches[number] for number in numbers if number in session.pouches]
            absorbers = max(map(_absorbers, pouches), default=1)
    return PouchCell(None, control.cell, control.label, absorbers=absorbers, liner=liner)


def _of_liners(session: SessionState, command: Command | None) -> bool:
    numbers = getattr(command, "pouches", ())
    if numbers:
        return set(numbers) <= liner_numbers(session)
    planned = session.plan.lines if session.plan is not None else ()
    return any(line.liner for line in planned if line.line == getattr(command, "line", None))


def _absorbers(pouch: Pouch) -> int:
    return sum(placed.each for placed in pouch.placed)


def _once_placed(session: SessionState, command: PlaceAbsorbers) -> int:
    """How many are in the first pouch that `command` serves, with those that go in by it."""
    line = session.plan.line(command.line) if session.plan is not None else None
    round_ = session.rounds.get(command.round) if command.round is not None else None
    if line is None or round_ is None:
        return 1
    if command.pouches:
        first = session.pouches[command.pouches[0]]
        lacks = lacking(line, first)[round_.rating_cc]
        return _absorbers(first) + (command.each or lacks)
    for pouch in open_pouches(session, command.line):
        if lacks := lacking(line, pouch)[round_.rating_cc]:
            return _absorbers(pouch) + (command.each or lacks)
    return command.each or 1
