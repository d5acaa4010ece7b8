"""How long a press takes until it is on the disk and on the screen, beside what it cannot avoid."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from statistics import median
from time import perf_counter

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QPaintEvent, QRegion
from PySide6.QtWidgets import QApplication, QWidget

from packdesk.desk.desk import Desk
from packdesk.record import schema
from packdesk.record.book import Book
from packdesk.record.rows import Row
from packdesk.record.take import INSERT
from packdesk.session import commands as c
from packdesk.session.envelope import Draft, Entry
from packdesk.session.fold import fold
from packdesk.session.terms import PacketCondition, SealVerdict, Stage
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, Walk, agreed, catalog

FACTS = 5000
POUCH_G = 700.0
PACKET = 100
PAILFUL = 20
FACTS_A_POUCH = 7
"""Filled, absorber in, shut, sealed, labelled, stowed, looked at: each entered by itself."""
ROUNDS = 25
"""Of press, bare commit and bare repaint in turn: what disturbs one disturbs the others too."""

MOST_TIMES = 2.0
"""A press takes no more than the commit and the repaint together, once for the work between."""


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory, qapp: QApplication) -> Iterator[Bench]:
    """The window on a real book, with a numbered session of 5,000 facts."""
    folder = tmp_path_factory.mktemp("bench")
    with closing(Book.open(folder / "record.packdesk", STATION)) as book:
        clock = HandDrivenClock()
        desk = Desk(MemoryBook(STATION), clock)
        _long_session(Walk(desk, clock))
        book.append([_draft(entry) for entry in desk.entries])
        bench = Bench(Theme(load_faces()), book, clock, folder)
        yield bench
        bench.close()


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    """A book's file without PackDesk: the same tables, the same care about the disk."""
    path = tmp_path_factory.mktemp("bare") / "bare.packdesk"
    with closing(schema.connect(path)) as connection:
        yield connection


@pytest.mark.parametrize("work", ["filled", "shut"])
def test_a_press_takes_at_most_twice_the_commit_and_the_repaint_together(
    bench: Bench, bare: sqlite3.Connection, work: str
) -> None:
    """Key, durable fact, repainted count: twice what disk and paint alone take, at 5,000 facts."""
    _at_the_counter(bench, round_open=work == "shut")
    assert len(bench.desk.entries) >= FACTS
    painted = Painted()
    before = len(bench.desk.entries)
    _press(bench)
    regions = painted.stop()
    assert len(bench.desk.entries) > before, "the press counted"
    assert bench.window.tally in {widget for widget, _ in regions}, "the count was repainted"
    row = _last_row(bench.book)

    presses, commits, repaints = [], [], []
    for number in range(ROUNDS):
        commits.append(_seconds(lambda number=number: _commit(bare, row, number)))
        repaints.append(_seconds(lambda: _repaint(regions)))
        presses.append(_seconds(lambda: _press(bench)))

    bare_s = median(commits) + median(repaints)
    told = f"press {_ms(presses)}, commit {_ms(commits)}, repaint {_ms(repaints)}"
    print(f"a pouch {work} at {before} facts: {told}")
    assert len(bench.desk.entries) > before + ROUNDS
    assert median(presses) <= MOST_TIMES * bare_s, told


def test_a_press_paints_only_what_it_changes(bench: Bench) -> None:
    """Of a long tally no cell is painted but those that changed; the path and clocks stay."""
    _at_the_counter(bench, round_open=False)
    painted = Painted()

    _press(bench)

    widgets = {widget for widget, _ in painted.stop()}
    assert not widgets & {bench.window.path, *bench.window.path.rows, bench.window.clocks}
    tally_cells = {view for run in bench.window.tally.runs for view in run.views}
    assert len(tally_cells) > 40
    assert len(widgets & tally_cells) <= 3


def test_taking_back_folds_no_whole_session(bench: Bench) -> None:
    """Undo and its repaint take less than half of folding the 5,000 facts anew."""
    _at_the_counter(bench, round_open=False)
    undos, folds = [], []
    for _ in range(3):
        _press(bench)
        undos.append(_seconds(lambda: bench.window.undo() and QApplication.processEvents()))
        folds.append(_seconds(lambda: fold(bench.desk.entries)))

    told = f"undo {_ms(undos)}, fold {_ms(folds)}"
    print(told)
    assert median(undos) <= 0.5 * median(folds), told


class Painted(QObject):
    """Notes which part of which widget is painted from now on."""

    def __init__(self) -> None:
        super().__init__()
        self._parts: list[tuple[QWidget, QRegion]] = []
        QApplication.instance().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Note a paint and let it be."""
        if isinstance(event, QPaintEvent) and isinstance(watched, QWidget):
            self._parts.append((watched, QRegion(event.region())))
        return False

    def stop(self) -> list[tuple[QWidget, QRegion]]:
        """What was painted since."""
        QApplication.instance().removeEventFilter(self)
        return self._parts


def _draft(entry: Entry) -> Draft:
    return Draft(
        entry.id,
        entry.act,
        entry.stream,
        entry.happened_at,
        entry.about_min,
        entry.recorded,
        entry.who,
        entry.fact,
    )


def _long_session(walk: Walk) -> None:
    """Pouches numbered and entered one by one, as the longest sessions are."""
    count = FACTS // FACTS_A_POUCH + 1
    foods = ("hard_wheat", "white_rice")
    walk.opened()
    for food in foods:
        name = catalog().foods[food].name
        walk.do(c.ReceiveLot(food, name, POUCH_G * (count + 300), "invented"))
    lines = tuple(
        agreed(place + 1, lot, food, POUCH_G * (count + 300))
        for place, (lot, food) in enumerate(zip(walk.lots, foods, strict=True))
    )
    walk.do(c.AgreePlan(lines, True, 200.0, 21.0))
    for lot in walk.lots:
        walk.do(c.BypassCold(lot, "treated before"))
    for _ in range(count):
        walk.clock.on(seconds=15)
        walk.do(c.FillPouches(1, 1))
    for first in range(1, count + 1, PACKET):
        pouches = range(first, min(first + PACKET, count + 1))
        _open_packet(walk)
        for _ in pouches:
            walk.clock.on(seconds=5)
            walk.do(c.PlaceAbsorbers(1, 1))
        walk.jar_shut()
        for number in pouches:
            walk.clock.on(seconds=5)
            walk.do(c.SealPouches((number,)))
            walk.do(c.NoteLabelsPrinted((number,), "a4-3x7-64x38", 0, 1))
            walk.do(c.StowPouches(str(1 + number // PAILFUL), (number,)))
            walk.do(c.CheckSeals((number,), SealVerdict.SNUG))


def _open_packet(walk: Walk) -> None:
    rating = walk.desk.state.session.plan.lines[0].absorbers_cc[0]
    walk.do(c.CheckReady())
    walk.do(c.OpenPacket(f"self-{rating}", rating, PACKET, PacketCondition.TIGHT, 21.0))


def _at_the_counter(bench: Bench, *, round_open: bool) -> None:
    """The filling page after a first press, with a packet open or with none."""
    walk = bench.walk.jar_shut()
    bench.window.show_stage(Stage.FILLING)
    if round_open:
        walk.do(c.FillPouches(1, ROUNDS + 10))
        _open_packet(walk)
    _press(bench)


def _press(bench: Bench) -> None:
    """One more pouch, by one key."""
    bench.key(Qt.Key.Key_Space)


def _commit(bare: sqlite3.Connection, row: Row, number: int) -> None:
    bare.execute("BEGIN IMMEDIATE")
    bare.execute(INSERT, row._replace(event_id=os.urandom(16), station_seq=_next(bare)))
    bare.execute("COMMIT")


def _next(bare: sqlite3.Connection) -> int:
    return int(bare.execute("SELECT coalesce(max(station_seq), 0) + 1 FROM events").fetchone()[0])


def _repaint(regions: list[tuple[QWidget, QRegion]]) -> None:
    for widget, region in regions:
        widget.update(region)
    QApplication.processEvents()


def _last_row(book: Book) -> Row:
    *_, link = book.links()
    return link.row


def _seconds(work: Callable[[], object]) -> float:
    start = perf_counter()
    work()
    return perf_counter() - start


def _ms(seconds: list[float]) -> str:
    return f"{median(seconds) * 1000.0:.1f} ms"
