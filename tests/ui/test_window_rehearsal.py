from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from packdesk.desk.desk import Desk
from packdesk.instants import When
from packdesk.session import commands as c
from packdesk.session.replay import command_of
from packdesk.session.terms import Stage
from packdesk.ui.rehearsal import RehearsalReport, Step, rehearse, stages_of
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, HandDrivenClock, Walk, tools


@pytest.fixture(scope="module")
def told() -> tuple[list[Step], Desk]:
    """A whole session as a file would tell it, and the desk it was lived at."""
    clock = HandDrivenClock()
    desk = Desk(MemoryBook(STATION), clock)
    walk = Walk(desk, clock)
    walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    walk.filled(6).in_round().shut(2).all_left().jar_shut().sealed().labelled().stowed()
    walk.do(c.AddNote("a hot day"))
    walk.do(c.VoidFact(desk.entries[-1].id, "it was not"))
    walk.checked()
    acts: dict[object, list] = {}
    for entry in desk.entries:
        acts.setdefault(entry.act, []).append(entry)
    steps = []
    for entries in acts.values():
        command = command_of([entry.fact for entry in entries])
        if command is not None:
            first = entries[0]
            when = When(first.happened_at, first.about_min)
            ids = tuple(entry.id for entry in entries)
            steps.append(Step(command, when, first.recorded, ids))
    return steps, desk


def again(steps: list[Step], out: Path) -> tuple[RehearsalReport, Desk]:
    """Rehearse steps on an empty book."""
    clock = HandDrivenClock()
    desk = Desk(MemoryBook(STATION), clock)
    report = rehearse(steps, desk, tools(out, clock), clock, out)
    return report, desk


@pytest.fixture(scope="module")
def rehearsed(
    told: tuple[list[Step], Desk], qapp: QApplication, tmp_path_factory: pytest.TempPathFactory
) -> tuple[RehearsalReport, Desk]:
    """The whole session rehearsed once."""
    return again(told[0], tmp_path_factory.mktemp("rehearsed"))


def test_a_told_session_comes_to_the_same_record(
    told: tuple[list[Step], Desk], rehearsed: tuple[RehearsalReport, Desk]
) -> None:
    """Rehearsing a whole session follows every order and ends where it ended."""
    (steps, lived), (report, desk) = told, rehearsed
    assert report.refused == ()
    assert report.kept == len(steps)
    once, now = lived.state.session, desk.state.session
    assert now.pouches == once.pouches
    assert {n: load.held_h for n, load in now.loads.items()} == {
        n: load.held_h for n, load in once.loads.items()
    }
    assert now.notes == once.notes == ()


def test_there_is_one_picture_a_stage(rehearsed: tuple[RehearsalReport, Desk]) -> None:
    """Each stage of the session leaves one picture of the window, of the size asked for."""
    report, _ = rehearsed
    assert set(report.pictures) == set(Stage)
    for file in report.pictures.values():
        picture = QImage(str(file))
        assert (picture.width(), picture.height()) == (1366, 768)


@pytest.mark.usefixtures("qapp")
def test_a_refused_order_is_reported_and_the_rest_goes_on(
    told: tuple[list[Step], Desk], tmp_path: Path
) -> None:
    """An order that no longer fits is named with its sentence; what follows is still tried."""
    steps, _ = told
    filled = next(n for n, step in enumerate(steps) if isinstance(step.command, c.FillPouches))
    wrong = replace(steps[2], command=c.FillPouches(1, 1))
    report, desk = again([*steps[:2], wrong, *steps[2 : filled + 1]], tmp_path)
    assert [(each.step, each.command) for each in report.refused] == [(3, "FillPouches")]
    assert "plan" in report.refused[0].sentence
    assert len(desk.state.session.pouches) == 6


@pytest.mark.usefixtures("qapp")
def test_what_falls_due_between_two_acts_is_put_on_record(
    told: tuple[list[Step], Desk], tmp_path: Path
) -> None:
    """A packet left too long rings in the rehearsal as it would have rung."""
    steps, _ = told
    opened = next(n for n, step in enumerate(steps) if isinstance(step.command, c.OpenPacket))
    late = [
        replace(
            step,
            when=When(step.when.at + timedelta(hours=2)),
            reading=replace(
                step.reading,
                utc=step.reading.utc + timedelta(hours=2),
                steady_s=step.reading.steady_s + 7200.0,
            ),
        )
        for step in steps[opened + 1 : opened + 2]
    ]
    _, desk = again([*steps[: opened + 1], *late], tmp_path)
    assert "packet:1" in desk.state.session.alarms
    QApplication.processEvents()


def test_orders_of_no_stage_belong_where_the_last_one_was(told: tuple[list[Step], Desk]) -> None:
    """A note is taken on the page on which it was written."""
    steps, _ = told
    note = next(n for n, step in enumerate(steps) if isinstance(step.command, c.AddNote))
    assert stages_of(steps)[note] is stages_of(steps)[note - 1]
