"""A whole packing day of 120 pouches by keys alone: few presses, and a record that is the truth.

Counted is every press of a person's finger on a key from the first pouch filled to the last one
sealed: counting, the ready checks, packets opened, counts typed, jars, the ways between counter
and iron, a slip and its Undo. Of a scale that types its Enter counts as a press, its figures do
not.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.desk.ports import SessionHead
from packdesk.present.cards import Control
from packdesk.record.book import Book
from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.envelope import BOOK_STREAM, Entry
from packdesk.session.fold import voided
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, agreed, catalog

FOODS = ("hard_wheat", "white_rice")
POUCHES, PACKETS, PACKET = 120, 4, 50
A_FOOD = POUCHES // len(FOODS)
GROUP, HALF = POUCHES // PACKETS, POUCHES // PACKETS // 2
POUCH_G = 700.0
MOST_PRESSES_A_POUCH = 1.5

FILL_S, SHUT_S, SEAL_S = 14, 12, 20
"""Seconds a pouch at the scale, at the absorbers, at the iron."""

Happened = tuple[datetime, str, tuple[object, ...]]
"""When something happened, what kind of entry that makes, and what it has to say."""


@dataclass
class Hands:
    """A person at the counter: presses keys, and keeps a diary of what really happened."""

    bench: Bench
    presses: int = 0
    diary: list[Happened] = field(default_factory=list)

    def press(self, *keys: Qt.Key | str) -> None:
        """Press keys with a finger, one after another."""
        for key in keys:
            self.bench.key(key)
            self.presses += 1

    def space(self) -> None:
        """Press the space bar."""
        self.press(Qt.Key.Key_Space)

    def work(self, seconds: float) -> None:
        """Work with both hands for a while."""
        self.bench.on(seconds=seconds)

    def note(self, kind: type, *what: object) -> None:
        """Write down what happened just now."""
        self.diary.append((self.now, kind.kind, what))

    @property
    def now(self) -> datetime:
        """What the clock on the wall says."""
        return self.bench.clock.reading().utc

    # The work -----------------------------------------------------------------------------------

    def fill(self, line: int, numbers: range) -> None:
        """Fill pouches one by one; every tenth stands on a scale that types, one slip is undone."""
        for number in numbers:
            self.work(FILL_S)
            if number % 10 == 0:
                weighed = POUCH_G + number % 7 - 3
                self.bench.type(f"{weighed:.0f}")
                self.press(Qt.Key.Key_Return)
                self.note(f.PouchesFilled, line, (number,), weighed)
                continue
            self.space()
            if number == 17:
                self.press(Qt.Key.Key_Backspace)
                self.work(3)
                self.space()
            self.note(f.PouchesFilled, line, (number,), None)

    def make_ready(self, numbers: range, *, first: bool) -> None:
        """Look around: thing by thing before the first packet, at one glance later on."""
        self._ask_for("ready_check", "P")
        if first:
            while not self.bench.session.ready_for:
                self.work(20)
                self.space()
        else:
            self.work(20)
            self.press("P")
        self.note(f.ReadyChecked, tuple(numbers))

    def open_packet(self, line: int, round_: int) -> None:
        """Cut a packet open; of the first the size is typed, the next are taken to be as large."""
        if self._main.form != "packet":
            self.press("P")
        self.work(10)
        if self.bench.input("absorbers").text == str(PACKET):
            self.space()
        else:
            self.press(*str(PACKET), Qt.Key.Key_Return)
        rating = self.bench.session.plan.line(line).absorbers_cc[0]
        self.note(f.PacketOpened, f"P{round_}", rating, PACKET)
        self.note(f.RoundStarted, round_, f"P{round_}", PACKET)

    def shut(self, round_: int, numbers: range) -> None:
        """Drop absorbers in and press shut, in two groups of which the first is typed."""
        began = self.now
        for group in (numbers[:HALF], numbers[HALF:]):
            self.work(SHUT_S * len(group))
            if group == numbers[:HALF]:
                self.press(*str(HALF), Qt.Key.Key_Return)
            else:
                self.space()
            self.note(f.AbsorbersPlaced, round_, tuple(group), 1, began, self.now)
            self.note(f.PouchesShut, tuple(group))
            began = self.now

    def shut_up(self, round_: int) -> None:
        """What is left goes into a jar."""
        self.work(15)
        self.space()
        self.note(f.RemainderShut, round_, f"R{round_}", PACKET - GROUP)

    def seal(self, numbers: range) -> None:
        """Go to the iron, seal the group, and come back."""
        if self._main.goto is Stage.SEALING:
            self.space()
        else:
            self.press("G")
        assert self.bench.page.stage is Stage.SEALING, self.bench.page.card
        self.work(SEAL_S * len(numbers))
        self.space()
        self.note(f.PouchesSealed, tuple(numbers), 2, False)

    @property
    def _main(self) -> Control:
        """What the main control does now, as a person reads it off the screen."""
        return self.bench.page.card.main

    def _ask_for(self, form: str, key: str) -> None:
        """Press the main control where it leads there, else the key of the one beside it."""
        self.press(Qt.Key.Key_Space if self._main.form == form else key)


@pytest.fixture
def hands(theme: Theme, tmp_path: Path) -> Iterator[Hands]:
    """At the counter with 42 kg of each food open, nothing filled."""
    clock = HandDrivenClock()
    with closing(Book.open(tmp_path / "record.packdesk", STATION)) as book:
        bench = Bench(theme, book, clock, tmp_path)
        walk = bench.walk.opened()
        for food in FOODS:
            name = catalog().foods[food].name
            walk.do(c.ReceiveLot(food, name, POUCH_G * A_FOOD, "invented"))
        lines = tuple(
            agreed(place, lot, food, POUCH_G * A_FOOD)
            for place, (lot, food) in enumerate(zip(walk.lots, FOODS, strict=True), start=1)
        )
        walk.do(c.AgreePlan(lines, False, 200.0, 21.0))
        for lot in walk.lots:
            walk.do(c.BypassCold(lot, "treated before"))
        assert [(line.count, line.fill_mass_g) for line in lines] == [(A_FOOD, POUCH_G)] * 2
        bench.window.show_now()
        yield Hands(bench)
        bench.close()


def test_a_day_of_120_pouches_by_keys_alone(hands: Hands, tmp_path: Path) -> None:
    """Two foods and four packets take 1.5 presses a pouch, and the record tells what happened."""
    began = len(hands.bench.desk.entries)
    for round_ in range(1, PACKETS + 1):
        line = 1 + (round_ - 1) * GROUP // A_FOOD
        numbers = range(1 + (round_ - 1) * GROUP, 1 + round_ * GROUP)
        hands.fill(line, numbers)
        hands.make_ready(numbers, first=round_ == 1)
        hands.open_packet(line, round_)
        hands.shut(round_, numbers)
        hands.shut_up(round_)
        hands.seal(numbers)
        if round_ < PACKETS:
            hands.space()
            assert hands.bench.page.stage is Stage.FILLING

    print(f"{hands.presses} presses for {POUCHES} pouches: {hands.presses / POUCHES:.2f} a pouch")
    assert hands.presses <= MOST_PRESSES_A_POUCH * POUCHES
    assert all(pouch.gas_tight for pouch in hands.bench.session.pouches.values())
    hands.bench.book.close()
    with closing(Book.open(tmp_path / "record.packdesk", STATION)) as again:
        assert record_of(again, began) == hands.diary


def record_of(book: Book, since: int) -> list[Happened]:
    """What the record, read anew from the disk, says a person did; what was undone left out."""
    head: SessionHead = book.sessions()[0]
    entries = book.entries({BOOK_STREAM, head.session})
    gone = voided(entries)
    return [told(entry) for entry in entries[since:] if entry.id not in gone and _by_hand(entry)]


def _by_hand(entry: Entry) -> bool:
    return not isinstance(entry.fact, (f.AlarmRang, f.FactVoided))


def told(entry: Entry) -> Happened:
    """One entry in the words of the diary."""
    match entry.fact:
        case f.PouchesFilled() as fact:
            what: tuple[object, ...] = (fact.line, fact.pouches, fact.net_mass_g)
        case f.ReadyChecked() as fact:
            what = (fact.pouches,)
        case f.PacketOpened() as fact:
            what = (fact.packet, fact.rating_cc, fact.count)
        case f.RoundStarted() as fact:
            what = (fact.round, fact.source, fact.count)
        case f.AbsorbersPlaced() as fact:
            what = (fact.round, fact.pouches, fact.each, fact.first_at, fact.last_at)
        case f.PouchesShut() as fact:
            what = (fact.pouches,)
        case f.RemainderShut() as fact:
            what = (fact.round, fact.remainder, fact.count)
        case f.PouchesSealed() as fact:
            what = (fact.pouches, fact.seams, fact.gap_left)
        case other:
            raise AssertionError(f"nobody did this: {other}")
    return entry.happened_at, entry.fact.kind, what
