"""Runs a told session through the real window, act by act, on a clock that is set for each."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol
from uuid import UUID

from PySide6.QtWidgets import QApplication

from packdesk.desk.desk import Desk, Kept
from packdesk.desk.ports import Tools
from packdesk.instants import Reading, When
from packdesk.session import commands as c
from packdesk.session.terms import Stage
from packdesk.ui.pages.long_job import settle
from packdesk.ui.theme.choice import PaletteChoice
from packdesk.ui.theme.dress import Dress
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.theme import Theme
from packdesk.ui.window import Window

_STAGES: dict[type[c.Command], Stage] = {
    c.OpenSession: Stage.BEFORE,
    c.ReceiveLot: Stage.BEFORE,
    c.AgreePlan: Stage.BEFORE,
    c.FreezeLoad: Stage.COLD_TREATMENT,
    c.BypassCold: Stage.COLD_TREATMENT,
    c.NoteCoreReading: Stage.COLD_TREATMENT,
    c.NoteFreezerReading: Stage.COLD_TREATMENT,
    c.TakeLoadOut: Stage.COLD_TREATMENT,
    c.NoteRoomReading: Stage.THAW_EQUILIBRATION,
    c.UncoverLoad: Stage.THAW_EQUILIBRATION,
    c.FillPouches: Stage.FILLING,
    c.CheckReady: Stage.FILLING,
    c.OpenPacket: Stage.FILLING,
    c.TakeRemainder: Stage.FILLING,
    c.PlaceAbsorbers: Stage.FILLING,
    c.ShutPouches: Stage.FILLING,
    c.ShutRemainder: Stage.FILLING,
    c.ReopenPouches: Stage.FILLING,
    c.SwapPouches: Stage.FILLING,
    c.SealPouches: Stage.SEALING,
    c.DrawOffAir: Stage.SEALING,
    c.SetAside: Stage.SEALING,
    c.ReturnPouches: Stage.SEALING,
    c.NoteLabelsMade: Stage.LABELLING,
    c.NoteLabelsPrinted: Stage.LABELLING,
    c.NoteNumberLabels: Stage.LABELLING,
    c.StowPouches: Stage.AFTER,
    c.LidPail: Stage.AFTER,
    c.OpenPail: Stage.AFTER,
    c.CheckSeals: Stage.AFTER,
    c.CloseSession: Stage.AFTER,
}
"""The page on which each order is given; what is not here is given wherever one is."""


class SetClock(Protocol):
    """A clock that says what it was told last."""

    def set(self, reading: Reading) -> None:
        """Let it be `reading` from now on."""


@dataclass(frozen=True, slots=True)
class Step:
    """One act of a told session: the order, when it happened, what the clocks said.

    `ids` are the identities its entries had where it was told: a later voiding names them; `who`
    gave it.
    """

    command: c.Command
    when: When | None
    reading: Reading
    ids: tuple[UUID, ...] = ()
    who: str = ""


@dataclass(frozen=True, slots=True)
class NotFollowed:
    """An order the desk refused, by its place among the steps (from 1), and its sentence."""

    step: int
    command: str
    sentence: str


@dataclass(frozen=True, slots=True)
class RehearsalReport:
    """What a rehearsal came to: acts kept, orders refused, a picture for each stage."""

    kept: int
    refused: tuple[NotFollowed, ...]
    pictures: dict[Stage, Path]


def rehearse(
    steps: Sequence[Step],
    desk: Desk,
    tools: Tools,
    clock: SetClock,
    out: Path,
    *,
    size: tuple[int, int] = (1366, 768),
    palette: str = "light",
) -> RehearsalReport:
    """Give every order through the window and take one picture a stage into the folder `out`.

    `clock` is the one `desk` reads. Nothing rings aloud; what falls due between two acts is put
    on record as it would have been.
    """
    app = QApplication.instance() or QApplication(sys.argv[:1])
    theme = Theme(load_faces())
    dress = Dress(app, theme, PaletteChoice(palette))
    window = Window(desk, tools, theme, dress=dress, stroke=_nothing_rings)
    window.resize(*size)
    window.show()
    try:
        return _Rehearsal(window, clock, out).run(steps)
    finally:
        settle()
        window.close()
        window.deleteLater()
        dress.deleteLater()


def stages_of(steps: Sequence[Step]) -> tuple[Stage, ...]:
    """The stage each step belongs to; an order of no stage is given where the one before was."""
    found: list[Stage] = []
    here = Stage.BEFORE
    for step in steps:
        here = _STAGES.get(type(step.command), here)
        found.append(here)
    return tuple(found)


def _nothing_rings() -> None:
    """The alarm of a rehearsal."""


class _Rehearsal:
    """A rehearsal in progress: which identities the entries of the told session have here."""

    def __init__(self, window: Window, clock: SetClock, out: Path) -> None:
        self._window = window
        self._clock = clock
        self._out = out
        self._here: dict[UUID, UUID] = {}
        self._kept = 0
        self._refused: list[NotFollowed] = []
        self._pictures: dict[Stage, Path] = {}

    def run(self, steps: Sequence[Step]) -> RehearsalReport:
        stages = stages_of(steps)
        last = {stage: place for place, stage in enumerate(stages)}
        order = list(dict.fromkeys(stages))
        for place, (step, stage) in enumerate(zip(steps, stages, strict=True)):
            self._meet(step, stage)
            if last[stage] == place:
                # Before its last act, after which a page has no more work to show.
                number = order.index(stage) + 1
                self._take_picture(stage, self._out / f"{number}-{stage.value}.png")
            self._follow(place, step, stage)
        return RehearsalReport(self._kept, tuple(self._refused), self._pictures)

    def _meet(self, step: Step, stage: Stage) -> None:
        """Bring the clock and the page to where the order of `step` is given."""
        window = self._window
        self._clock.set(step.reading)
        window.desk.who = step.who
        window.desk.ring_due()
        if isinstance(step.command, c.OpenSession):
            window.show_start()
        else:
            window.show_stage(stage)

    def _follow(self, place: int, step: Step, stage: Stage) -> None:
        window = self._window
        page = window.page
        answer = window.submit(self._translated(step.command), step.when)
        if not isinstance(answer, Kept):
            name = type(step.command).__name__
            objection = page.refusal.objection
            told = answer.sentence if answer is not None else ""
            if objection is not None and answer is None:
                told = f"{objection.what}: {objection.figure}"
            self._refused.append(NotFollowed(place + 1, name, told))
        else:
            self._kept += 1
            entries = (entry.id for entry in answer.entries)
            self._here.update(zip(step.ids, entries, strict=False))
        window.show_stage(stage)
        QApplication.processEvents()

    def _translated(self, command: c.Command) -> c.Command:
        """A voiding names entries as they are called here."""
        if not isinstance(command, c.VoidFact):
            return command
        here = self._here
        return replace(
            command,
            target=here.get(command.target, command.target),
            along=tuple(here.get(each, each) for each in command.along),
        )

    def _take_picture(self, stage: Stage, file: Path) -> None:
        self._window.refresh()
        settle()
        if self._window.grab().save(str(file)):
            self._pictures[stage] = file
