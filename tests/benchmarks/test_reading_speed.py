"""How long the pages take to answer a reading, beside the bare ensembles of the loads concerned."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from collections.abc import Callable, Iterator
from statistics import median
from time import thread_time

import msgspec
import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from packdesk.desk.desk import Kept
from packdesk.physics import lid_on
from packdesk.physics.cold_kill import stage_doses
from packdesk.session import commands as c
from packdesk.session.forecast import LATER_STEP_H, LOOK_AHEAD_H, SOON_H, STEP_H
from packdesk.session.load import Load
from packdesk.session.load_heat import LoadHeat
from packdesk.session.load_story import story
from packdesk.session.terms import Probe, Stage
from packdesk.ui.pages.long_job import settle
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import PAIL, STATION, Bench, HandDrivenClock, figures

MOST_TIMES = 2.0
ROUNDS = 3
"""Of reading and bare ensembles in turn: what disturbs one disturbs the others too."""

COOLING = {1: ("core", "wall", "freezer"), 4: ("freezer",)}
WARMING = {1: ("core", "room", "damp room"), 4: ("room",)}
"""By how many loads there are: of several, what concerns them all."""


@pytest.fixture
def bench(tmp_path, qapp: QApplication) -> Iterator[Bench]:
    """The window on a book in memory, with grain received and planned."""
    bench = Bench(Theme(load_faces()), MemoryBook(STATION), HandDrivenClock(), tmp_path)
    bench.walk.opened().received().planned()
    yield bench
    bench.close()


@pytest.mark.parametrize("loads", [1, 4])
def test_a_reading_is_answered_within_twice_the_bare_ensembles(
    bench: Bench, record_testsuite_property: Callable[[str, object], None], loads: int
) -> None:
    """Decided, kept and shown with its curve: at most twice what the members alone take."""
    _freeze(bench, loads)
    bench.window.show_stage(Stage.COLD_TREATMENT)
    QApplication.processEvents()
    ratios = {f"{kind}, cooling": _ratio(bench, kind) for kind in COOLING[loads]}
    bench.clock.on(hours=100)
    for load in list(bench.session.loads):
        bench.walk.do(c.TakeLoadOut(load, 21.0, 0.5))
    bench.window.show_stage(Stage.THAW_EQUILIBRATION)
    QApplication.processEvents()
    ratios |= {f"{kind}, warming": _ratio(bench, kind) for kind in WARMING[loads]}

    for kind, (ratio, answered_s) in ratios.items():
        record_testsuite_property(f"{kind}, {loads} loads: answered, ms", 1e3 * answered_s)
        record_testsuite_property(f"{kind}, {loads} loads: over bare ensembles", ratio)
    assert {kind: ratio for kind, (ratio, _) in ratios.items() if ratio > MOST_TIMES} == {}


def _freeze(bench: Bench, loads: int) -> None:
    """Pails that warm their freezer, an hour apart: no easy air to reckon in."""
    for _ in range(loads):
        warms = msgspec.structs.replace(
            figures("hard_wheat", 9000.0), spare_power_w=40.0, frozen_food_kg=10.0
        )
        bench.walk.do(c.FreezeLoad(bench.walk.lots[0], PAIL, "pail", 9000.0, warms, confirmed=True))
        bench.clock.on(hours=1)
    bench.clock.on(hours=12)


def _ratio(bench: Bench, kind: str) -> tuple[float, float]:
    """How many times the bare ensembles a reading of this kind takes, and how long (s)."""
    answered, bare = [], []
    for at in range(ROUNDS):
        bench.clock.on(minutes=20)
        command = _reading(bench, kind, at)
        before = len(bench.desk.entries)
        answered.append(_seconds(lambda command=command: _answer(bench, command)))
        settle()
        assert len(bench.desk.entries) > before
        bare.append(_seconds(lambda: _bare(bench, kind)))
    return median(one / other for one, other in zip(answered, bare, strict=True)), median(answered)


def _reading(bench: Bench, kind: str, at: int) -> c.Command:
    slight = 0.1 * (at % 3)
    if kind == "freezer":
        return c.NoteFreezerReading(-16.0 - slight, confirmed=True)
    if kind in ("room", "damp room"):
        damp = 0.5 + slight / 10.0 if kind == "damp room" else None
        return c.NoteRoomReading(21.0 + slight, damp, confirmed=True)
    told = story(bench.session, bench.session.loads["A"])
    load = LoadHeat(told)
    found = load.temperatures_c(np.array([told.hour(bench.clock.reading().utc)]))
    likely = found.core_c if kind == "core" else found.surface_c
    temp_c = round(float(np.median(likely)), 1)
    return c.NoteCoreReading("A", temp_c, Probe(kind), confirmed=True)


def _answer(bench: Bench, command: c.Command) -> None:
    """Given, kept, shown and painted."""
    assert isinstance(bench.desk.submit(command), Kept)
    bench.window.repaint()


def _bare(bench: Bench, kind: str) -> None:
    """Every load concerned, its members weighed and asked for what they say, and one curve."""
    loads = list(bench.session.loads.values())
    for load in loads[:1] if kind in ("core", "wall") else loads:
        if load.taken_out is None:
            _hold_of(bench, load)
        else:
            _lid_of(bench, load)
    shown = story(bench.session, loads[0])
    known = LoadHeat(shown)
    hours = np.arange(shown.hour(bench.clock.reading().utc) + 96.0)
    known.members.quantiles(known.temperatures_c(hours).core_c)


def _hold_of(bench: Bench, load: Load) -> None:
    """When the core is cold, has been held, and the toughest life stage has had its dose."""
    told, forecast = story(bench.session, load), load.forecast
    known = LoadHeat(told)
    soon_h = told.hour(bench.clock.reading().utc) + SOON_H
    until_h = soon_h - SOON_H + LOOK_AHEAD_H + forecast.hold_h
    hours = np.append(
        np.arange(0.0, soon_h, STEP_H), np.arange(soon_h, until_h + LATER_STEP_H, LATER_STEP_H)
    )
    temps = known.temperatures_c(hours)
    for held_h in (0.0, forecast.hold_h):
        known.members.first_time_h(hours, temps.core_c, at_or_below=forecast.treat_c, held_h=held_h)
    stage_doses(told.figures.life_stages, known.members, hours, temps)


def _lid_of(bench: Bench, load: Load) -> None:
    """When the lid may come off."""
    told, thaw, out = story(bench.session, load), load.thaw, load.taken_out
    assert thaw is not None
    assert out is not None
    known = LoadHeat(told)
    lid_on.lid_on_h(
        known.members,
        told.figures.start_temp_c,
        known.surroundings,
        told.hour(out.utc),
        lid_on.lid_limit(thaw.room_c, thaw.dew_point_c),
    )


def _seconds(work: Callable[[], object]) -> float:
    """What this thread works for it: what others do to the machine meanwhile is not counted."""
    start = thread_time()
    work()
    return thread_time() - start
