"""A window on a book in memory, a clock that a test moves, and sessions brought to a stage."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any
from uuid import UUID

import msgspec
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import Catalog, read_catalog
from packdesk.desk.desk import Desk, Kept
from packdesk.desk.ports import LabelsMade, PagePicture, PaperMade, RecordBook, Tools
from packdesk.instants import Reading, When
from packdesk.planning.loads import load_figures
from packdesk.planning.plan import LineRequest, PlannedLine, Site, plan_line
from packdesk.present.label_design import LabelDesign
from packdesk.present.load_view import kill_figures
from packdesk.session import commands as c
from packdesk.session.agreed_plan import agreed_line, recorded_figures
from packdesk.session.figures import AgreedLine, LoadFigures
from packdesk.session.state import SessionState
from packdesk.session.terms import LotVerdict, PacketCondition, SealVerdict
from packdesk.ui.pages.long_job import settle
from packdesk.ui.pages.page import Page
from packdesk.ui.pages.paper_shelf import PaperShelf
from packdesk.ui.start import resume_last
from packdesk.ui.theme.theme import Theme
from packdesk.ui.window import Window

STATION = UUID(int=7)
START = datetime(2026, 10, 12, 17, 0, tzinfo=UTC)
ZIP, PAIL = "zip-203x254", "pail-19l"


class HandDrivenClock:
    """Every clock of an invented machine; it moves only when told to."""

    def __init__(self, start: datetime = START, utc_offset_min: int = 120) -> None:
        self._now = Reading(start, utc_offset_min, 5000.0, "boot-1")

    def reading(self) -> Reading:
        """What the clocks say."""
        return self._now

    def set(self, reading: Reading) -> None:
        """Let it be `reading` from now on."""
        self._now = reading

    def on(self, **time: float) -> None:
        """Let time pass, such as `minutes=5`."""
        step = timedelta(**time)
        self._now = replace(
            self._now, utc=self._now.utc + step, steady_s=self._now.steady_s + step.total_seconds()
        )

    def offset_min(self, utc: datetime) -> int:
        """The local offset at an instant."""
        return self._now.utc_offset_min


class PaperNotes:
    """Papers that only note what they were asked for."""

    def __init__(self) -> None:
        self.labels_made: list[tuple[int, ...]] = []
        self.records = 0
        self.calendars: list[tuple[object, ...]] = []
        self.printed: list[tuple[str, str, str]] = []
        self.looks: list[LabelDesign] = []
        self.stocks: list[LabelStock] = []
        self.how: dict[str, object] = {}

    def labels(self, texts, stock, first_cell, out: Path, **how) -> LabelsMade:
        """Note the labels, and how they were asked for."""
        self.how = how
        self.labels_made.append(tuple(text.pouch for text in texts))
        used = first_cell + len(texts)
        out.write_bytes(b"%PDF-1.4 invented")
        return LabelsMade(len(texts), -(-used // stock.cells), used % stock.cells)

    def record(self, outline, page: str, out: Path, *, progress=None) -> PaperMade:
        """Note the record."""
        self.records += 1
        out.write_bytes(b"%PDF-1.4 invented")
        return PaperMade(1)

    def page_picture(self, pdf: Path, page: int, width_px: int) -> PagePicture:
        """One white page of two, half as high as it is wide."""
        height = width_px // 2
        return PagePicture(
            width_px, height, width_px * 4, b"\xff" * (width_px * height * 4), page, 2
        )

    def label_picture(self, text, stock, width_px: int, *, design) -> PagePicture:
        """Note the design, answer a white label."""
        self.looks.append(design)
        return self.page_picture(Path(), 0, width_px)

    def print_out(self, pdf: Path, page: str, printer: str = "") -> str:
        """Note the print."""
        self.printed.append((pdf.name, page, printer))
        return "Sent to the printer."

    def printers(self) -> tuple[str, ...]:
        """Two invented printers."""
        return ("kitchen", "cellar")

    def alignment(self, stock, out: Path, *, offset_mm=(0.0, 0.0)) -> None:
        """Note the alignment page."""
        self.aligned = (stock.key, offset_mm)
        out.write_bytes(b"%PDF-1.4 invented")

    def keep_stock(self, stock) -> None:
        """Note a measured stock."""
        self.stocks.append(stock)

    def kept_stocks(self):
        """Those noted."""
        return tuple(self.stocks)

    def calendar(self, entries, name: str, stamp, out: Path) -> None:
        """A file that says how many entries it would have."""
        self.calendars.append((tuple(entries), name, stamp))
        out.write_text(f"{len(entries)} entries", encoding="utf-8")

    def copy(self, paper: Path, out: Path) -> None:
        """Copy."""
        out.write_bytes(paper.read_bytes())


class NeverAsleep:
    """Keeps awake, and remembers whether it does."""

    def __init__(self) -> None:
        self.held = False

    def hold(self, *, screen_on: bool) -> str:
        """Hold."""
        self.held = True
        return ""

    def release(self) -> None:
        """Release."""
        self.held = False


@cache
def catalog() -> Catalog:
    """The shipped catalogue, read once."""
    return read_catalog()[0]


def tools(folder: Path, clock: HandDrivenClock, papers: object | None = None) -> Tools:
    """What a window is given, with everything invented but the catalogue."""
    return Tools(
        catalog=catalog(),
        papers=papers or PaperNotes(),
        paper_folder=folder,
        awake=NeverAsleep(),
        offset_min_at=clock.offset_min,
    )


def agreed(line: int, lot: str, food: str, mass_g: float, pouch: str = ZIP, **how) -> AgreedLine:
    """A plan line as the planning works it out."""
    request = LineRequest(
        line=line,
        food=catalog().foods[food],
        lot=lot,
        mass_g=mass_g,
        pouch=catalog().pouches[pouch],
        **how,
    )
    planned = plan_line(request, catalog(), Site())
    assert isinstance(planned, PlannedLine), planned
    return agreed_line(planned)


def figures(food: str, mass_g: float, freezer_c: float = -18.0) -> LoadFigures:
    """What the heat reckoning of a load rests on."""
    found = load_figures(
        catalog().foods[food],
        catalog().pails[PAIL],
        mass_g,
        start_temp_c=20.0,
        freezer_temp_c=freezer_c,
    )
    return msgspec.structs.replace(recorded_figures(found), life_stages=kill_figures(catalog()))


class Walk:
    """Brings a session to a stage by giving the desk its commands, one after another."""

    def __init__(self, desk: Desk, clock: HandDrivenClock) -> None:
        self.desk = desk
        self.clock = clock

    def do(self, command: c.Command, when: When | None = None) -> None:
        """Give a command that must be kept."""
        answer = self.desk.submit(command, when)
        assert isinstance(answer, Kept), answer
        QApplication.processEvents()

    def opened(self, units: str = "metric") -> Walk:
        """A session is open."""
        self.do(c.OpenSession("Autumn wheat and black beans", units, "K7M2"))
        return self

    def received(self) -> Walk:
        """Wheat and beans are received."""
        name = catalog().foods
        self.do(c.ReceiveLot("hard_wheat", name["hard_wheat"].name, 9000.0, "W-0926"))
        self.do(c.ReceiveLot("black_beans", name["black_beans"].name, 5000.0, "",
                             LotVerdict.ACCEPTED, "sack sound"))  # fmt: skip
        return self

    @property
    def lots(self) -> list[str]:
        """The lots of the book in the order received."""
        return list(self.desk.state.book.lots)

    def planned(self, *, numbered: bool = False) -> Walk:
        """A plan with two lines is agreed."""
        wheat, beans = self.lots[:2]
        lines = (
            agreed(1, wheat, "hard_wheat", 9000.0),
            agreed(2, beans, "black_beans", 5000.0),
        )
        self.do(c.AgreePlan(lines, numbered, 200.0, 21.0))
        return self

    def frozen(self) -> Walk:
        """One load of each is in the freezer, an hour apart."""
        for lot, food, mass in zip(
            self.lots, ("hard_wheat", "black_beans"), (9000.0, 5000.0), strict=False
        ):
            self.do(
                c.FreezeLoad(
                    lot, PAIL, catalog().pails[PAIL].name, mass, figures(food, mass, -20.0)
                )
            )
            self.clock.on(hours=1)
        return self

    def cold_enough(self) -> Walk:
        """Both loads have been held."""
        self.clock.on(hours=150)
        return self

    def taken_out(self) -> Walk:
        """Both loads are out, lids on."""
        for load in list(self.desk.state.session.loads):
            self.do(c.TakeLoadOut(load, 21.0, 0.5))
        return self

    def uncovered(self) -> Walk:
        """Both loads are open."""
        self.clock.on(hours=60)
        for load in list(self.desk.state.session.loads):
            self.do(c.UncoverLoad(load))
        return self

    def filled(self, count: int = 6) -> Walk:
        """So many wheat pouches stand open."""
        self.clock.on(minutes=10)
        self.do(c.FillPouches(1, count))
        return self

    def made_ready(self) -> Walk:
        """Everything is at hand for a round."""
        self.do(c.CheckReady())
        return self

    def all_left(self) -> Walk:
        """The pouches of the round that still stand open are shut."""
        waiting = [p for p in self.desk.state.session.working_pouches() if p.shut is None]
        return self.shut(len(waiting))

    def all_shut(self) -> Walk:
        """Every pouch that stood open is shut, the rest of the packet in a jar."""
        return self.shut(len(self.desk.state.session.pouches)).jar_shut()

    def one_aside(self) -> Walk:
        """Pouch 2 is set aside."""
        self.do(c.SetAside((2,), "torn"))
        return self

    def in_round(self, count: int = 10) -> Walk:
        """A packet is open."""
        self.do(c.CheckReady())
        line = self.desk.state.session.plan.lines[0]
        rating = line.absorbers_cc[0]
        self.do(c.OpenPacket(f"self-{rating}", rating, count, PacketCondition.TIGHT, 21.0))
        return self

    def shut(self, count: int) -> Walk:
        """So many pouches of the round are shut."""
        self.clock.on(minutes=2)
        self.do(c.PlaceAbsorbers(1, count))
        return self

    def jar_shut(self) -> Walk:
        """What is left of the round is in a jar."""
        for round_ in self.desk.state.session.rounds.values():
            if round_.left:
                self.do(c.ShutRemainder(round_.round))
        return self

    def sealed(self) -> Walk:
        """Every shut pouch is sealed."""
        self.clock.on(minutes=10)
        numbers = tuple(
            p.number for p in self.desk.state.session.working_pouches() if p.shut is not None
        )
        self.do(c.SealPouches(numbers))
        return self

    def labelled(self) -> Walk:
        """Every sealed pouch has its label."""
        numbers = tuple(p.number for p in self.desk.state.session.working_pouches() if p.gas_tight)
        self.do(c.NoteLabelsPrinted(numbers, "a4-3x7-64x38", 0, len(numbers)))
        return self

    def stowed(self) -> Walk:
        """Every sealed pouch is in pail 1, its lid on."""
        numbers = tuple(p.number for p in self.desk.state.session.working_pouches() if p.gas_tight)
        self.do(c.StowPouches("1", numbers))
        self.do(c.LidPail("1"))
        return self

    def checked(self) -> Walk:
        """Every seam was looked at once."""
        self.clock.on(hours=25)
        numbers = tuple(self.desk.state.session.pouches)
        self.do(c.CheckSeals(numbers, SealVerdict.SNUG))
        return self


# The window under test ----------------------------------------------------------------------------


class EachTapCounts:
    """A clock for taps on which a second passes between any two of them."""

    def __init__(self) -> None:
        self._seconds = 0.0

    def __call__(self) -> float:
        self._seconds += 1.0
        return self._seconds


class Bench:
    """A window, its desk and clock, and the hands of a person: keys and clicks."""

    def __init__(
        self,
        theme: Theme,
        book: RecordBook,
        clock: HandDrivenClock,
        folder: Path,
        papers: Any = None,
    ) -> None:
        self.clock = clock
        self.book = book
        self.papers = papers or PaperNotes()
        self.strokes = 0
        self.waits = True
        """Whether each key and click waits until what it set going beside the window is done."""
        self.desk = Desk(book, clock)
        self.tools = tools(folder, clock, self.papers)
        resume_last(self.desk)
        self.window = Window(
            self.desk, self.tools, theme, tap_clock=EachTapCounts(), stroke=self._stroke
        )
        PaperShelf.open_file = staticmethod(lambda _file: None)
        self.window.resize(1366, 768)
        self.window.show()
        self.window.activateWindow()
        assert QTest.qWaitForWindowActive(self.window), "the window never became active"

    @property
    def page(self) -> Page:
        """The page in the middle."""
        return self.window.page

    @property
    def session(self) -> SessionState:
        """The open session."""
        return self.desk.state.session

    @property
    def walk(self) -> Walk:
        """Brings the session to a stage behind the window's back."""
        return Walk(self.desk, self.clock)

    def settle(self) -> None:
        """Let everything happen that was set going, also beside the window."""
        self.window.keys.line.settle()
        if self.waits:
            settle()
        else:
            QApplication.processEvents()

    def settle_all(self) -> None:
        """Let everything happen that was set going, also where each key does not wait."""
        settle()

    def key(self, key: Qt.Key | str, *, times: int = 1) -> None:
        """Press a key where the focus is."""
        for _ in range(times):
            QTest.keyClick(self._focus(), key)
            self.settle()

    def type(self, text: str) -> None:
        """Type a text where the focus is, as a person or a scale does."""
        for letter in text:
            self.send(letter)
        self.settle()

    def send(self, *keys: Qt.Key | str) -> None:
        """Send keys where the focus is and wait for nothing that follows from them."""
        for letter in keys:
            if isinstance(letter, Qt.Key) or letter.isascii():
                QTest.keyClick(self._focus(), letter)
            else:
                plain = Qt.KeyboardModifier.NoModifier
                press = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_unknown, plain, letter)
                QApplication.sendEvent(self._focus(), press)

    def click(self, widget: QWidget) -> None:
        """Click the middle of a widget that can be seen."""
        assert widget.isVisible(), f"{widget.accessibleName()!r} cannot be seen"
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=widget.rect().center())
        self.settle()

    def keep_as_it_is(self) -> None:
        """Answer what the page asks about: it is so."""
        assert self.page.refusal.cure.isVisible()
        self.click(self.page.refusal.cure)

    def press_main(self) -> None:
        """Click the main control."""
        self.click(self.page.main)

    def press(self, word: str) -> None:
        """Click the second control with this word."""
        controls = (*self.page.seconds, self.page.third, *self.page.further.rows.buttons)
        seen = [each for each in controls if each.isVisible()]
        found = [each for each in seen if each.face.word == word]
        assert found, [each.face.word for each in seen]
        self.click(found[0])

    def fill_in(self, name: str, text: str) -> None:
        """Click a field of the form shown, empty it, and type into it."""
        box = self.input(name).box
        self.page.scroll.ensureWidgetVisible(box)
        QApplication.processEvents()
        self.click(box)
        box.selectAll()
        if box.text():
            self.key(Qt.Key.Key_Delete)
        self.type(text)

    def pick(self, name: str, key: str) -> None:
        """Pick an entry of a list with the arrow keys."""
        item = self.input(name)
        box = item.box
        box.setFocus()
        QApplication.processEvents()
        wanted = box.findData(key)
        assert wanted >= 0, [box.itemData(i) for i in range(box.count())]
        for _ in range(box.count() + 1):
            if box.currentIndex() == wanted:
                return
            self.key(Qt.Key.Key_Down if box.currentIndex() < wanted else Qt.Key.Key_Up)
        raise AssertionError(f"{key} cannot be reached in {name}")

    def option(self, name: str, key: str) -> None:
        """Click one of a row of choices."""
        button = next(b for b in self.input(name).buttons if b.option.key == key)
        self.page.scroll.ensureWidgetVisible(button)
        QApplication.processEvents()
        self.click(button)

    def input(self, name: str) -> Any:
        """An input of the form shown."""
        form = self.page.form_shown()
        assert form is not None, "no form is shown"
        return form.inputs[name]

    def on(self, **time: float) -> None:
        """Let time pass, with a beat of the window at the end."""
        self.clock.on(**time)
        self.window.heartbeat._last = None
        self.window.heartbeat.tick()

    def close(self) -> None:
        """Close the window for good."""
        settle()
        self.window.close()
        self.window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QApplication.processEvents()

    def _stroke(self) -> None:
        self.strokes += 1

    def _focus(self) -> QWidget:
        return QApplication.focusWidget() or self.window.focusWidget() or self.window
