from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from packdesk.record.book import Book
from packdesk.session import facts as f
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact
from packdesk.session.fold import voided
from packdesk.session.terms import LotVerdict, PouchStage, SealVerdict, Stage
from packdesk.ui.theme.theme import Theme
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

SUNDAY_BEFORE = datetime(2026, 10, 18, 16, 0, tzinfo=UTC)
"""Six in the evening, a week before the clocks go back an hour."""

LINER = "liner-508x762"


@dataclass
class Line:
    """One fact as the script knows it to have happened."""

    kind: type[Fact]
    at: datetime
    figures: dict[str, Any]
    struck: bool = False


@dataclass
class Weekend:
    """The hands at the window, the book on the disk, and beside them what truly happened."""

    theme: Theme
    folder: Path
    qtbot: QtBot
    clock: HandDrivenClock = field(default_factory=lambda: HandDrivenClock(SUNDAY_BEFORE))
    truth: list[Line] = field(default_factory=list)
    bench: Bench | None = None
    book: Book | None = None

    def open(self) -> Bench:
        """Open the window on the book."""
        self.book = Book.open(self.folder / "record.packdesk", STATION)
        papers = self.folder / "papers"
        papers.mkdir(exist_ok=True)
        self.bench = Bench(self.theme, self.book, self.clock, papers)
        return self.bench

    def close(self) -> None:
        """Close the window and the book."""
        if self.bench is not None:
            self.bench.close()
            self.book.close()
        self.bench = None

    def happened(self, kind: type[Fact], *, at: datetime | None = None, **figures: Any) -> Line:
        """Write down what has just happened, or happened at `at`."""
        line = Line(kind, at or self.clock.reading().utc, figures)
        self.truth.append(line)
        return line

    def sleep_until(self, utc: datetime, **local: int) -> None:
        """Let the computer sleep until then; it wakes with one beat."""
        now = self.clock.reading()
        self.bench.window.heartbeat.tick()
        passed_s = (utc - now.utc).total_seconds()
        self.clock.set(replace(now, utc=utc, steady_s=now.steady_s + passed_s, **local))
        self.bench.window.heartbeat.tick()

    def power_cut(self) -> None:
        """The computer dies and is switched on again two minutes later.

        What is on the disk at that moment is what the next start finds: nothing that window or
        book do as they close here comes to it.
        """
        now = self.clock.reading()
        disk = self.folder / "as the power failed"
        disk.mkdir()
        for file in self.folder.glob("record.packdesk*"):
            shutil.copy2(file, disk)
        self.bench.close()
        self.book.close()
        for file in self.folder.glob("record.packdesk*"):
            file.unlink()
        for file in disk.iterdir():
            shutil.move(file, self.folder)
        self.clock.set(
            replace(now, utc=now.utc + timedelta(minutes=2), steady_s=40.0, boot="boot-2")
        )
        self.open()

    def rang(self, *clocks: str) -> None:
        """Write down that alarms rang, in this order."""
        for clock in clocks:
            self.happened(f.AlarmRang, clock=clock)

    def took_back(self, *lines: Line, reason: str = "mis-tap") -> None:
        """Write down that these do not count."""
        for line in lines:
            line.struck = True
        self.happened(f.FactVoided, reason=reason, mistap=reason == "mis-tap")

    def told(self) -> list[Line]:
        """What the record says, as far as the script says something of it."""
        entries = self.bench.desk.entries
        gone = voided(entries)
        entries = in_order(entries)
        wanted = [line.figures for line in self.truth] + [{}] * len(entries)
        return [
            Line(
                type(entry.fact),
                entry.happened_at,
                {name: getattr(entry.fact, name, None) for name in figures},
                entry.id in gone,
            )
            for entry, figures in zip(entries, wanted, strict=False)
        ]


def in_order(entries: tuple[Entry, ...]) -> list[Entry]:
    """Entries as recorded, but alarms of one beat by name: which is worse hangs on forecasts."""
    found: list[Entry] = []
    for (rings, _), group in groupby(entries, _beat):
        together = list(group)
        found += sorted(together, key=lambda entry: entry.fact.clock) if rings else together
    return found


def _beat(entry: Entry) -> tuple[bool, datetime]:
    return isinstance(entry.fact, f.AlarmRang), entry.happened_at


def run(first: int, last: int) -> tuple[int, ...]:
    """Pouch numbers from `first` to `last`."""
    return tuple(range(first, last + 1))


@pytest.fixture
def weekend(theme: Theme, tmp_path: Path, qtbot: QtBot) -> Iterator[Weekend]:
    """An empty book in a folder of its own."""
    weekend = Weekend(theme, tmp_path, qtbot)
    yield weekend
    weekend.close()


def receive_and_plan(weekend: Weekend) -> None:
    """Three lots come in; 36 pouches of wheat, 24 of rice and two liners of beans are planned."""
    bench = weekend.open()
    bench.type("Packing weekend")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.SessionOpened, name="Packing weekend", units="metric")
    bench.pick("food", "hard_wheat")
    bench.fill_in("mass", "25,2 kg")
    bench.fill_in("code", "W-0926")
    bench.press_main()
    weekend.happened(f.LotReceived, lot="2610-1", food="hard_wheat", mass_g=25_200.0,
                     supplier_lot="W-0926", verdict=LotVerdict.ACCEPTED)  # fmt: skip
    bench.key("A")
    bench.pick("food", "white_rice")
    bench.fill_in("mass", "14.4")
    bench.fill_in("seen", "two live weevils, no webbing")
    bench.press_main()
    weekend.happened(f.LotReceived, lot="2610-2", mass_g=14_400.0, verdict=LotVerdict.ACCEPTED,
                     seen="two live weevils, no webbing")  # fmt: skip
    bench.key("A")
    bench.pick("food", "black_beans")
    bench.fill_in("mass", "10")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.LotReceived, lot="2610-3", food="black_beans", mass_g=10_000.0)
    bench.pick("pouch 2610-3", LINER)
    bench.fill_in("fill 2610-1", "700")
    bench.fill_in("fill 2610-2", "600")
    bench.fill_in("fill 2610-3", "5000")
    bench.press_main()
    weekend.happened(f.PlanAgreed, numbered=False)
    assert [(line.count, line.liner) for line in bench.session.plan.lines] == [
        (36, False), (24, False), (2, True),
    ]  # fmt: skip


def freeze(weekend: Weekend) -> None:
    """Four loads: the first noted a day late, the last one put in two days later."""
    bench = weekend.bench
    bench.key(Qt.Key.Key_Space)
    assert bench.page.stage is Stage.COLD_TREATMENT
    bench.fill_in("mass", "12,6")
    bench.fill_in("freezer", "−20")
    bench.fill_in("when", "about 21:30 yesterday")
    bench.press_main()
    weekend.happened(f.LoadFrozen, load="A", lot="2610-1", mass_g=12_600.0,
                     at=datetime(2026, 10, 17, 19, 30, tzinfo=UTC))  # fmt: skip
    assert bench.desk.entries[-1].about_min == 15.0
    bench.fill_in("mass", "12,6")
    bench.press_main()
    weekend.happened(f.LoadFrozen, load="B", lot="2610-1", mass_g=12_600.0)
    bench.clock.on(minutes=10)
    bench.fill_in("mass", "14,4")
    bench.press_main()  # at −20 °C two warm pails leave what is frozen below −15 °C: no question
    weekend.happened(f.LoadFrozen, load="C", lot="2610-2", mass_g=14_400.0, confirmed=False)

    # A probe's minus is forgotten, found in the story, and entered anew.
    bench.on(hours=26)
    assert bench.page.sentence.text.startswith("Put black beans of lot 2610-3")
    bench.key("R")
    bench.fill_in("temp", "14,5")
    bench.key(Qt.Key.Key_Return)
    bench.keep_as_it_is()  # asked about, and not heeded
    wrong = weekend.happened(f.CoreRead, temp_c=14.5, confirmed=True)
    bench.key("H")
    bench.page.list.setCurrentRow(0)
    bench.key("V")
    bench.type("it was minus")
    bench.key(Qt.Key.Key_Return)
    weekend.took_back(wrong, reason="it was minus")
    bench.key(Qt.Key.Key_Escape)
    bench.key("R")
    bench.fill_in("temp", "−14,5")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.CoreRead, temp_c=-14.5)

    bench.on(hours=44)
    bench.press_main()
    weekend.happened(f.LoadFrozen, load="D", lot="2610-3", mass_g=10_000.0)


def take_out(weekend: Weekend) -> None:
    """On Saturday three loads are cold enough; the fourth comes out early, for a reason."""
    bench = weekend.bench
    weekend.sleep_until(datetime(2026, 10, 24, 15, 0, tzinfo=UTC))
    weekend.rang("cold:A", "cold:B", "cold:C")
    assert bench.window.band.isVisible()
    bench.click(bench.window.band.stop)
    weekend.happened(f.AlarmSilenced, clocks=("cold:B", "cold:A", "cold:C"))
    assert bench.window.band.isVisible()
    for letter in "BAC":
        bench.fill_in("damp", "50")
        bench.key(Qt.Key.Key_Return)
        weekend.happened(f.LoadTakenOut, load=letter, reason="")
    assert not bench.window.band.isVisible()
    bench.key("O")
    bench.fill_in("damp", "50")
    bench.key(Qt.Key.Key_Return)
    assert "Say why it ends early" in bench.page.refusal.objection.what
    bench.fill_in("reason", "the freezer is wanted")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.LoadTakenOut, load="D", reason="the freezer is wanted")
    bench.key(Qt.Key.Key_Space)
    assert bench.page.stage is Stage.THAW_EQUILIBRATION


def night(weekend: Weekend) -> None:
    """Everybody sleeps, the computer too; the clocks go back an hour; three loads are warm."""
    bench = weekend.bench
    bench.key(Qt.Key.Key_Space)
    bench.key(Qt.Key.Key_Return)
    assert not any(load.uncovered for load in bench.session.loads.values())
    bench.key(Qt.Key.Key_Escape)
    weekend.sleep_until(datetime(2026, 10, 25, 8, 30, tzinfo=UTC), utc_offset_min=60)
    weekend.rang("thaw:A", "thaw:B", "thaw:D")
    assert bench.window.notices.sentences[-1] == (
        "This computer slept 17 h 30 min. No clock was lost. 3 clocks are due."
    )
    bench.window.heartbeat.tick()
    bench.click(bench.window.band.stop)
    weekend.happened(f.AlarmSilenced)
    opened = []
    for _ in range(3):
        bench.key(Qt.Key.Key_Space)
        opened.append(bench.desk.entries[-1].fact.load)
        weekend.happened(f.LoadUncovered, reason="")
    assert sorted(opened) == ["A", "B", "D"]
    assert bench.session.loads["C"].uncovered is None


def wheat(weekend: Weekend) -> None:
    """Three rounds of twelve: one is interrupted by a power cut, one runs late."""
    bench = weekend.bench
    bench.window.show_stage(Stage.FILLING)

    bench.key("A")
    slip = weekend.happened(f.PouchesFilled, line=1, pouches=run(1, 36))
    bench.key(Qt.Key.Key_Backspace)
    weekend.took_back(slip)
    bench.type("702kg")
    bench.key(Qt.Key.Key_Return)
    assert bench.input("mass").refusal.objection is not None
    assert not bench.session.pouches
    bench.fill_in("mass", "702")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.PouchesFilled, line=1, pouches=(1,), net_mass_g=702.0)
    bench.fill_in("count", "11")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.PouchesFilled, line=1, pouches=run(2, 12), net_mass_g=None)


def first_round(weekend: Weekend) -> None:
    """A packet of 25 closes twelve; one seam has a wrinkle, and that pouch comes back open."""
    bench = weekend.bench
    make_ready(weekend, *run(1, 12))
    bench.key("P")
    bench.fill_in("absorbers", "25")
    bench.press_main()
    weekend.happened(f.PacketOpened, packet="P1", rating_cc=200, count=25)
    weekend.happened(f.RoundStarted, round=1, source="P1", count=25)
    place(weekend, 1, run(1, 12), minutes=6)
    shut_up(weekend, "R1", 13)
    seal(weekend, run(1, 12), minutes=10)
    bench.key("S")
    bench.fill_in("pouches", "3")
    bench.fill_in("reason", "a wrinkle in the seam")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.PouchesSetAside, pouches=(3,), reason="a wrinkle in the seam", emptied=False)
    bench.key("B")
    bench.type("3")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.PouchesReturned, pouches=(3,))


def second_round(weekend: Weekend) -> None:
    """The jar closes eleven more and the one that came back; in the middle the power fails."""
    bench = weekend.bench
    bench.window.show_stage(Stage.FILLING)
    bench.fill_in("count", "12")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.PouchesFilled, line=1, pouches=run(13, 24))
    make_ready(weekend, 3, *run(13, 24))
    bench.key("P")
    bench.pick("source", "R1")
    bench.press_main()
    weekend.happened(f.RemainderTaken, remainder="R1")
    weekend.happened(f.RoundStarted, round=2, source="R1", count=13)
    place(weekend, 2, (3, *run(13, 17)), minutes=3)
    weekend.power_cut()
    bench = weekend.bench
    assert bench.page.stage is Stage.FILLING
    place(weekend, 2, run(18, 24), minutes=4)
    seal(weekend, (3, *run(13, 24)), minutes=10)


def third_round(weekend: Weekend) -> None:
    """Pouches counted twice are voided with what rests on them; then the packet runs late."""
    bench = weekend.bench
    bench.window.show_stage(Stage.FILLING)
    bench.fill_in("count", "10")
    bench.key(Qt.Key.Key_Return)
    counted = weekend.happened(f.PouchesFilled, line=1, pouches=run(25, 34))
    ready = make_ready(weekend, *run(25, 34))
    bench.key("H")
    bench.page.list.setCurrentRow(1)
    bench.key("V")
    bench.type("the same ten counted twice")
    bench.key(Qt.Key.Key_Return)
    assert "1 later entry rests on this one" in bench.page.refusal.objection.what
    assert len(bench.session.working_pouches()) == 34
    bench.key(Qt.Key.Key_Return)
    weekend.took_back(counted, ready, reason="the same ten counted twice")
    bench.key(Qt.Key.Key_Escape)
    bench.window.show_stage(Stage.FILLING)
    bench.fill_in("count", "12")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.PouchesFilled, line=1, pouches=run(25, 36))
    look_round(weekend)
    weekend.happened(f.ReadyChecked, pouches=run(25, 36))
    bench.key("T")
    assert "alarm" in bench.window.notices.sentences[-1]
    bench.fill_in("absorbers", "25")
    bench.press_main()
    weekend.happened(f.PacketOpened, packet="P2", rating_cc=200, count=25)
    weekend.happened(f.RoundStarted, round=3, source="P2", count=25)
    bench.on(minutes=15)
    weekend.rang("packet:3/soon")
    bench.on(minutes=6)
    weekend.rang("packet:3")
    strokes = bench.strokes
    for _ in range(30):
        bench.on(seconds=2)
    assert bench.strokes > strokes
    bench.click(bench.window.band.stop)
    weekend.happened(f.AlarmSilenced, clocks=("packet:3",))
    assert bench.window.band.isVisible()
    place(weekend, 3, run(25, 36), minutes=1)
    shut_up(weekend, "R2", 13)
    assert not bench.window.band.isVisible()
    bench.on(minutes=50)
    weekend.rang("pressed_shut/soon")
    seal(weekend, run(25, 36), minutes=1)


def rice(weekend: Weekend) -> None:
    """The last load is warm; its pouches are numbered, weighed and shut one by one."""
    bench = weekend.bench
    weekend.clock.on(hours=3)
    bench.window.heartbeat.tick()
    weekend.rang("thaw:C")
    bench.window.show_stage(Stage.THAW_EQUILIBRATION)
    bench.key(Qt.Key.Key_Space)
    weekend.happened(f.LoadUncovered, load="C", reason="")
    bench.window.show_stage(Stage.BEFORE)
    bench.key("C")
    bench.option("working", "numbered")
    bench.press_main()
    weekend.happened(f.PlanAgreed, numbered=True)
    bench.window.show_stage(Stage.FILLING)
    for number in run(37, 60):
        grams = 598.0 + number % 5
        bench.type(f"{grams:.0f}")
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.PouchesFilled, line=2, pouches=(number,), net_mass_g=grams,
                         told_apart=True)  # fmt: skip
    look_round(weekend)
    weekend.happened(f.ReadyChecked, pouches=run(37, 60))
    bench.fill_in("absorbers", "25")
    bench.press_main()
    weekend.happened(f.PacketOpened, packet="P3", rating_cc=200, count=25)
    weekend.happened(f.RoundStarted, round=4, source="P3", count=25)
    for number in run(37, 60):
        bench.on(seconds=20)
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.AbsorbersPlaced, round=4, pouches=(number,))
        weekend.happened(f.PouchesShut, pouches=(number,))
    shut_up(weekend, "R3", 1)
    seal(weekend, run(37, 60), minutes=5)


def liners(weekend: Weekend) -> None:
    """Two liners: lifted out, absorbers in, a gap left, air drawn off, the gap closed."""
    bench = weekend.bench
    bench.window.show_stage(Stage.FILLING)
    for number in (61, 62):
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.PouchesFilled, line=3, pouches=(number,), told_apart=True)
    look_round(weekend)
    weekend.happened(f.ReadyChecked, pouches=(61, 62))
    bench.fill_in("absorbers", "5")
    bench.press_main()
    weekend.happened(f.PacketOpened, packet="P4", rating_cc=1000, count=5)
    weekend.happened(f.RoundStarted, round=5, source="P4", count=5)
    for number in (61, 62):
        bench.on(seconds=20)
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.AbsorbersPlaced, round=5, pouches=(number,))
        bench.key(Qt.Key.Key_Space)
        assert bench.page.stage is Stage.SEALING
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.PouchesSealed, pouches=(number,), gap_left=True)
        bench.key("D")
        weekend.happened(f.AirDrawnOff, pouches=(number,))
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.PouchesSealed, pouches=(number,), gap_left=False)
        bench.key(Qt.Key.Key_Space)
        assert bench.page.stage is Stage.FILLING
    shut_up(weekend, "R4", 3)


def after(weekend: Weekend) -> None:
    """Labels, pails with their lids, and looks at the seams: a day, a week, half a year later."""
    bench = weekend.bench
    bench.window.show_stage(Stage.LABELLING)
    bench.key(Qt.Key.Key_Space)
    weekend.qtbot.waitUntil(lambda: bench.page.main.face.label == "All 62 came out right")
    weekend.happened(f.LabelsMade, pouches=run(1, 62), reprint=False)
    bench.key(Qt.Key.Key_Space)
    weekend.happened(f.LabelsPrinted, pouches=run(1, 62), reprint=False)
    weekend.happened(f.StockSheetUsed)
    bench.window.show_stage(Stage.AFTER)
    for pail, pouches in (("1", "1-18"), ("2", "19-36"), ("3", "37-60")):
        bench.key("W")
        bench.fill_in("pouches", pouches)
        bench.fill_in("pail", pail)
        bench.press_main()
        first, _, last = pouches.partition("-")
        weekend.happened(f.PouchesStowed, pail=pail, pouches=run(int(first), int(last)))
    for pail, liner in (("4", 61), ("5", 62)):
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.PouchesStowed, pail=pail, pouches=(liner,))
    for pail in "12345":
        bench.key(Qt.Key.Key_Space)
        weekend.happened(f.PailLidded, pail=pail)
    assert {pouch.stage for pouch in bench.session.pouches.values()} == {PouchStage.STOWED}


def seams(weekend: Weekend) -> None:
    """Looks after a day, a week and half a year; one pouch goes soft, one swells."""
    bench = weekend.bench
    bench.on(hours=25)
    weekend.rang("seal_check:1")
    check(weekend, "5", (5,), SealVerdict.TIGHT)
    bench.key(Qt.Key.Key_Space)
    looked_at = tuple(number for number in run(1, 62) if number != 5)
    weekend.happened(f.SealChecked, pouches=looked_at, verdict=SealVerdict.SNUG)
    bench.on(days=7)
    weekend.rang("seal_check:2")
    check(weekend, "5", (5,), SealVerdict.SOFT)
    check(weekend, "9", (9,), SealVerdict.SWOLLEN)
    assert bench.session.pouches[9].stage is PouchStage.SET_ASIDE
    looked_at = tuple(number for number in run(1, 62) if number not in (5, 9))
    bench.key(Qt.Key.Key_Space)
    weekend.happened(f.SealChecked, pouches=looked_at, verdict=SealVerdict.SNUG)
    swollen, leak, *_ = bench.page.evidence.text.split("\n")
    assert swollen == "Pouch 9 swollen: do not open it, discard it."
    assert leak.startswith("Air got into pouch 5: firm before, soft now.")
    bench.key("S")
    bench.fill_in("pouches", "5")
    bench.fill_in("reason", "leaks, eaten first")
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.PouchesSetAside, pouches=(5,), reason="leaks, eaten first", emptied=False)
    bench.on(days=182)
    weekend.rang("seal_check:3")
    bench.key(Qt.Key.Key_Space)
    weekend.happened(f.SealChecked, pouches=looked_at, verdict=SealVerdict.SNUG)
    bench.key("X")
    bench.fill_in("remark", "more jars")
    bench.press_main()
    weekend.happened(f.SessionClosed, remark="more jars")
    bench.key(Qt.Key.Key_Space)
    assert bench.papers.records == 1


def check(weekend: Weekend, typed: str, pouches: tuple[int, ...], verdict: SealVerdict) -> None:
    """One look that is not snug, as it is typed."""
    bench = weekend.bench
    bench.key("E")
    bench.fill_in("pouches", typed)
    bench.option("verdict", verdict)
    bench.press_main()
    weekend.happened(f.SealChecked, pouches=pouches, verdict=verdict)


def struck_through(bench: Bench) -> int:
    """How many lines of the story are struck through."""
    rows = bench.window.story.list
    return sum(rows.item(row).font().strikeOut() for row in range(rows.count()))


def make_ready(weekend: Weekend, *pouches: int) -> Line:
    """Everything is at hand for these."""
    weekend.bench.key("P")
    weekend.bench.key("P")
    return weekend.happened(f.ReadyChecked, pouches=pouches)


def look_round(weekend: Weekend) -> None:
    """The ready check, thing by thing: each is one press, the alarm one more to sound it."""
    bench = weekend.bench
    bench.key(Qt.Key.Key_Space)
    more = 0 if bench.session.alarm_heard else 2
    bench.key(Qt.Key.Key_Space, times=3 + more)


def place(weekend: Weekend, round_: int, pouches: tuple[int, ...], *, minutes: float) -> None:
    """So many minutes later absorbers are in these, all shut; typed as a count."""
    bench = weekend.bench
    bench.on(minutes=minutes)
    bench.type(str(len(pouches)))
    bench.key(Qt.Key.Key_Return)
    weekend.happened(f.AbsorbersPlaced, round=round_, pouches=pouches)
    weekend.happened(f.PouchesShut, pouches=pouches)


def shut_up(weekend: Weekend, jar: str, count: int) -> None:
    """The absorbers left are shut up."""
    weekend.bench.key(Qt.Key.Key_Space)
    weekend.happened(f.RemainderShut, remainder=jar, count=count)


def seal(weekend: Weekend, pouches: tuple[int, ...], *, minutes: float) -> None:
    """Some minutes later all that wait for the iron are sealed."""
    bench = weekend.bench
    bench.on(minutes=minutes)
    bench.window.show_stage(Stage.SEALING)
    bench.key(Qt.Key.Key_Space)
    weekend.happened(f.PouchesSealed, pouches=pouches, seams=2, gap_left=False)


def test_a_packing_weekend(weekend: Weekend) -> None:
    """Three lots, four loads, 60 pouches, two liners: the record tells fact by fact what was."""
    for part in (
        receive_and_plan, freeze, take_out, night, wheat, first_round, second_round, third_round,
        rice, liners, after, seams,
    ):  # fmt: skip
        part(weekend)
        assert weekend.told() == weekend.truth, part.__name__
    bench = weekend.bench
    bench.key("H")
    assert struck_through(bench) == sum(line.struck for line in weekend.truth) == 4
    assert bench.page.list.count() == len(weekend.truth)
    assert [load.uncovered is not None for load in bench.session.loads.values()] == [True] * 4
    assert len(bench.session.pouches) == 62
    weekend.close()
    assert weekend.open().desk.sessions()[0].closed
    weekend.bench.desk.resume(weekend.bench.desk.sessions()[0].session)
    assert weekend.told() == weekend.truth
