"""A session as a few lines of text, so that a test reads like the work it is about.

Steps are parted by `;` or line ends. Every step is one command, but for those that let time go
by (`+96 h`). A step is said to have happened earlier by `20 min ago: fill 3`, or, not exactly,
by `about 20 min ago: fill 3`.

    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 8 x 1 kg; fill 8")
    told.do("ready; packet 200x10; +4 min; place 8")
    assert told.refused("stow 1 in pail 1") == "Pouch 1 is not sealed yet. Seal it first."
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID

from packdesk.desk.desk import Desk, Kept
from packdesk.instants import When
from packdesk.session import commands as c
from packdesk.session.book_state import BookState
from packdesk.session.case import Refusal
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact
from packdesk.session.figures import AgreedLine, LoadFigures
from packdesk.session.state import SessionState
from packdesk.session.terms import (
    ColdRule,
    Feel,
    Indicator,
    LotVerdict,
    PacketCondition,
    Probe,
    ReadyItem,
    SealVerdict,
    Vessel,
)
from tests.fakes.clock import DrivenClock
from tests.fakes.memory_book import MemoryBook

STATION = UUID("0193aaaa-0000-7000-8000-000000000001")

PAIL = LoadFigures(
    radius_mm=140.0,
    fill_height_mm=340.0,
    conductivity_w_m_k=0.13,
    heat_capacity_j_kg_k=1800.0,
    bulk_density_kg_m3=790.0,
    freezer_coefficient_w_m2_k=8.0,
    room_coefficient_w_m2_k=9.0,
    start_temp_c=21.0,
    freezer_temp_c=-18.0,
)
"""A filled 5-gallon pail of wheat, figures rounded."""

Order = Callable[["Script", re.Match[str]], c.Command]
_ORDERS: list[tuple[re.Pattern[str], Order]] = []


def _order(pattern: str) -> Callable[[Order], Order]:
    def register(order: Order) -> Order:
        _ORDERS.append((re.compile(pattern), order))
        return order

    return register


class Script:
    """A desk that follows the steps of a text."""

    def __init__(self, record: MemoryBook | None = None, clock: DrivenClock | None = None) -> None:
        self.record = record or MemoryBook(STATION)
        self.clock = clock or DrivenClock()
        self.desk = Desk(self.record, self.clock, who="sam")

    def do(self, text: str) -> Script:
        """Follow every step; none may be refused."""
        for step in _steps(text):
            answer = self.try_to(step)
            assert not isinstance(answer, Refusal), f"{step}: {answer}"
        return self

    def refused(self, text: str) -> str:
        """Follow the steps; the last one must be refused, and its sentence is answered."""
        *before, last = _steps(text)
        self.do("; ".join(before))
        answer = self.try_to(last)
        assert isinstance(answer, Refusal), f"{last} was not refused"
        return answer.sentence

    def try_to(self, step: str) -> Kept | Refusal | None:
        """Follow one step, whatever comes of it; None where only time goes by."""
        if passed := re.fullmatch(r"\+([\d.]+) (s|min|h|d)", step):
            self.clock.go(**{_UNITS[passed[2]]: float(passed[1])})
            return None
        when = None
        if ago := re.fullmatch(r"(about )?([\d.]+) (s|min|h|d) ago: (.+)", step):
            earlier = timedelta(**{_UNITS[ago[3]]: float(ago[2])})
            when = When(self.desk.now().utc - earlier, 15.0 if ago[1] else 0.0)
            step = ago[4]
        if step.endswith(", confirmed"):
            command: Any = self.order(step.removesuffix(", confirmed"))
            return self.desk.submit(dataclasses.replace(command, confirmed=True), when)
        return self.desk.submit(self.order(step), when)

    def order(self, step: str) -> c.Command:
        """The command that a step stands for."""
        for pattern, order in _ORDERS:
            if found := pattern.fullmatch(step):
                return order(self, found)
        raise AssertionError(f"no such step: {step}")

    @property
    def session(self) -> SessionState:
        """The open session."""
        assert self.desk.state.session is not None
        return self.desk.state.session

    @property
    def book(self) -> BookState:
        """What outlives the session."""
        return self.desk.state.book

    @property
    def entries(self) -> tuple[Entry, ...]:
        """What is on record."""
        return self.desk.entries

    @property
    def facts(self) -> list[Fact]:
        """The recorded facts."""
        return [entry.fact for entry in self.entries if isinstance(entry.fact, Fact)]

    def last(self, kind: type[Fact]) -> Entry:
        """The last entry whose fact is of a kind."""
        return next(entry for entry in reversed(self.entries) if isinstance(entry.fact, kind))

    def lot_of(self, food: str) -> str:
        """The lot of a food received last; a name that no lot has, if there is none."""
        lots = [lot.lot for lot in self.book.lots.values() if lot.food == food]
        return lots[-1] if lots else "none"

    def line_of(self, food: str | None) -> int:
        """The plan line of a food; the first one's, if none is named or planned."""
        lines = self.session.plan.lines if self.session.plan is not None else ()
        return next((line.line for line in lines if food in (None, line.food)), 1)


def tell(text: str = "", **script: DrivenClock | MemoryBook) -> Script:
    """Open a session and follow the steps of `text`."""
    told = Script(**script)  # type: ignore[arg-type]
    return told.do(f"session Autumn; {text}")


TREATED = "receive wheat 8 kg; bypass wheat: treated by the miller; agree wheat 8 x 1 kg"
"""Wheat that needs no cold, planned into eight pouches with one absorber of 200 cc each."""

SHUT = f"{TREATED}; fill 8; ready; packet 200x10; +4 min; place 8"
"""The same, absorbers in and pressed shut, two absorbers still lying open."""

SEALED = f"{SHUT}; jar; seal 1-8"
"""The same, the remainder in its jar, every pouch sealed with two seams."""


def agreed(line: int, food: str, lot: str, count: int, fill_mass_g: float) -> AgreedLine:
    """A plan line with invented figures: 115 cc of oxygen to take up, an absorber of 200 cc."""
    return AgreedLine(
        line=line,
        food=food,
        food_name=food.capitalize(),
        lot=lot,
        mass_g=count * fill_mass_g,
        pouch="quart",
        pouch_name="quart pouch",
        liner=False,
        zip=True,
        count=count,
        fill_mass_g=fill_mass_g,
        capacity_l=1.2,
        bulk_density_g_per_cc=0.85,
        solid_density_g_per_cc=1.4,
        residual_gas_cc=100.0,
        air_cc=560.0,
        oxygen_need_cc=115.0,
        recommended_cc=138.0,
        absorbers_cc=(200,),
        quality_years_low=20.0,
        quality_years_high=30.0,
        dusty=False,
    )


# --------------------------------------------------------------------------------------------------

_UNITS = {"s": "seconds", "min": "minutes", "h": "hours", "d": "days"}


def _steps(text: str) -> list[str]:
    return [step.strip() for step in re.split(r"[;\n]", text) if step.strip()]


def _numbers(text: str) -> tuple[int, ...]:
    """The pouches of `1-3 and 7`."""
    found: list[int] = []
    for part in re.split(r",| and ", text):
        first, _, last = part.strip().partition("-")
        found.extend(range(int(first), int(last or first) + 1))
    return tuple(found)


@_order(r"session (.+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.OpenSession(said[1], "metric", "K7M2")


@_order(r"look at (\w+) again: (accepted|quarantined|refused), ?(.*)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.LookAtLot(script.lot_of(said[1]), LotVerdict(said[2]), said[3])


@_order(r"receive (\w+) ([\d.]+) kg(?: (quarantined|refused))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    verdict = LotVerdict(said[3] or "accepted")
    return c.ReceiveLot(said[1], said[1].capitalize(), float(said[2]) * 1000.0, "S-1", verdict)


@_order(r"bypass (\w+)(?:: ?(.*))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.BypassCold(script.lot_of(said[1]), "treated" if said[2] is None else said[2])


@_order(r"agree (.+?)(, numbered)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    lines = [_line(script, number, text) for number, text in enumerate(said[1].split(" & "), 1)]
    return c.AgreePlan(tuple(lines), bool(said[2]), 300.0, 21.0)


def _line(script: Script, number: int, text: str) -> AgreedLine:
    """A plan line: `wheat 8 x 1 kg`, then any of the changes below, parted by commas."""
    head, *changes = text.split(", ")
    said = re.fullmatch(r"(\w+) (\d+) x ([\d.]+) kg", head)
    assert said is not None, head
    line = agreed(number, said[1], script.lot_of(said[1]), int(said[2]), float(said[3]) * 1000.0)
    for change in changes:
        line = _changed(line, change)
    return line


def _changed(line: AgreedLine, change: str) -> AgreedLine:
    from msgspec.structs import replace

    if change.startswith("with "):
        ratings = tuple(int(cc) for cc in change.removeprefix("with ").split("+"))
        return replace(line, absorbers_cc=ratings)
    if need := re.fullmatch(r"need (\d+) cc", change):
        return replace(line, oxygen_need_cc=float(need[1]))
    if last := re.fullmatch(r"last ([\d.]+) kg", change):
        last_g = float(last[1]) * 1000.0
        mass_g = line.fill_mass_g * (line.count - 1) + last_g
        return replace(line, last_fill_mass_g=last_g, mass_g=mass_g)
    if change.startswith("never"):
        why = change.removeprefix("never").removeprefix(" because ")
        return replace(line, absorbers_cc=(), never="Too oily to seal.", against_advice=why)
    return {
        "no absorber": replace(line, absorbers_cc=(), oxygen_need_cc=0.0, recommended_cc=0.0),
        "no zip": replace(line, zip=False),
        "liner": replace(line, zip=False, liner=True),
        "dusty": replace(line, dusty=True),
    }[change]


@_order(r"freeze (\w+)(?: ([\d.]+) kg)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    mass_g = float(said[2] or 8.0) * 1000.0
    return c.FreezeLoad(script.lot_of(said[1]), "pail-19l", "5-gallon pail", mass_g, PAIL)


@_order(r"cold rule (plain|dose)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.ChooseColdRule(ColdRule(said[1]))


@_order(r"(core|wall) (\w+) (-?[\d.]+) C")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.NoteCoreReading(said[2], float(said[3]), Probe(said[1]))


@_order(r"freezer (-?[\d.]+) C")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.NoteFreezerReading(float(said[1]))


@_order(r"room (-?[\d.]+) C(?: ([\d.]+) %)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.NoteRoomReading(float(said[1]), float(said[2]) / 100.0 if said[2] else None)


@_order(r"out (\w+) ([\d.]+) C(?: ([\d.]+) %)?(?:: (.+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    humidity = float(said[3]) / 100.0 if said[3] else None
    return c.TakeLoadOut(said[1], float(said[2]), humidity, said[4] or "")


@_order(r"open (\w+)(?:: (.+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.UncoverLoad(said[1], said[2] or "")


@_order(r"fill (\d+)(?: of (\w+))?(?: at (-?[\d.]+) g)?(?: from ([A-Z, ]+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.FillPouches(
        script.line_of(said[2]),
        int(said[1]),
        float(said[3]) if said[3] else None,
        loads=tuple(re.findall("[A-Z]+", said[4] or "")),
    )


@_order(r"fill (\d+)(?: of (\w+))? showing ([\d.]+) g(, it is right)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    line, count = script.line_of(said[2]), int(said[1])
    return c.FillPouches(line, count, shown_g=float(said[3]), confirmed=bool(said[4]))


@_order(r"tare ([\d.]+) g")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.WeighEmptyPouch("quart", float(said[1]))


@_order(r"lose ([\d.]+) g(?: of (\w+))?: ?(.*)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.NoteFoodLost(script.line_of(said[2]), float(said[1]), said[3])


@_order(r"revise to (\d+)(?: of (\w+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.RevisePlan(script.line_of(said[2]), int(said[1]))


@_order(r"ready(?:, (all checked))?(?:, (\d+) hands)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.CheckReady(tuple(ReadyItem) if said[1] else (), int(said[2] or 1))


@_order(r"packet (\d+)x(\d+)( slack)?( no oxygen| oxygen)?( hard| soft)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    condition = PacketCondition.SLACK if said[3] else PacketCondition.TIGHT
    indicator = Indicator(said[4].strip().replace(" ", "_") if said[4] else "not_seen")
    feel = Feel(said[5].strip() if said[5] else "not_felt")
    return c.OpenPacket(
        f"self-{said[1]}", int(said[1]), int(said[2]), condition, 21.0, indicator, feel
    )


@_order(r"take (R\d+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.TakeRemainder(said[1], 21.0)


@_order(r"place (\d+)(?: of (\w+))?(, open)?(?:, from round (\d+))?(?:, (\d+) each)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    round_ = int(said[4]) if said[4] else None
    each = int(said[5]) if said[5] else None
    line = script.line_of(said[2])
    return c.PlaceAbsorbers(line, int(said[1]), shut=not said[3], round=round_, each=each)


@_order(r"place in ([\d, and-]+?)(, open)?(?:, first ([\d.]+) min ago)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    numbers = _numbers(said[1])
    ago = timedelta(minutes=float(said[3])) if said[3] else None
    first_at = script.desk.now().utc - ago if ago is not None else None
    return c.PlaceAbsorbers(1, len(numbers), numbers, first_at, shut=not said[2])


@_order(r"jar(?: (\d+))?(?: of round (\d+))?(?: in a (\w+))?(?:, (.+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    lying = [round_.round for round_ in script.session.rounds.values() if round_.left]
    round_ = int(said[2]) if said[2] else (lying or [0])[0]
    vessel = Vessel(said[3] or "pint_jar")
    return c.ShutRemainder(round_, int(said[1]) if said[1] else None, vessel, said[4] or "")


@_order(r"reopen ([\d, and-]+?)(?:: (.+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.ReopenPouches(_numbers(said[1]), said[2] or "")


@_order(r"felt round (\d+)(?:, none in ([\d, and-]+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.FeelAbsorbers(int(said[1]), _numbers(said[2]) if said[2] else ())


@_order(r"swap (\d+) and (\d+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.SwapPouches(int(said[1]), int(said[2]))


@_order(r"shut ([\d, and-]+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.ShutPouches(_numbers(said[1]))


@_order(r"seal ([\d, and-]+?)(, one seam)?(, gap left)?(?: because (.+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    seams = 1 if said[2] or said[3] else 2
    return c.SealPouches(_numbers(said[1]), seams, bool(said[3]), said[4] or "")


@_order(r"draw off ([\d, and-]+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.DrawOffAir(_numbers(said[1]))


@_order(r"label ([\d, and-]+?)( again)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    numbers = _numbers(said[1])
    return c.NoteLabelsPrinted(numbers, "a4-3x7", 0, len(numbers), reprint=bool(said[2]))


@_order(r"number ([\d, and-]+)(?: of (\w+))?( again)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    numbers = _numbers(said[1])
    line = script.line_of(said[2])
    used = len(numbers)
    return c.NoteNumberLabels(line, numbers, "a4-3x7", 0, used, reprint=bool(said[3]))


@_order(r"make numbers ([\d, and-]+) of (\w+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    numbers, line = _numbers(said[1]), script.line_of(said[2])
    return c.NoteLabelsMade(numbers, "a4-3x7", 0, len(numbers), False, line, "invented.pdf")


@_order(r"make labels ([\d, and-]+?)( again)?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    numbers = _numbers(said[1])
    file = "invented-labels.pdf"
    return c.NoteLabelsMade(numbers, "a4-3x7", 0, len(numbers), bool(said[2]), 0, file)


@_order(r"stow ([\d, and-]+) in pail (\w+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.StowPouches(said[2], _numbers(said[1]))


@_order(r"lid pail (\w+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.LidPail(said[1])


@_order(r"unlid pail (\w+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.OpenPail(said[1])


@_order(r"check ([\d, and-]+) (tight|snug|soft|swollen)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.CheckSeals(_numbers(said[1]), SealVerdict(said[2]))


@_order(r"(set aside|empty) ([\d, and-]+): ?(.*)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.SetAside(_numbers(said[2]), said[3], emptied=said[1] == "empty")


@_order(r"return ([\d, and-]+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.ReturnPouches(_numbers(said[1]))


@_order(r"close( all the same)?(?:: (.+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.CloseSession(said[2] or "", confirmed=bool(said[1]))


@_order(r"count (\d+) (\w+)(?: of (\w+))?")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.TakeCount(script.line_of(said[3]), said[2], int(said[1]))


@_order(r"note: ?(.*)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.AddNote(said[1])


@_order(r"silence (.+)")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.SilenceAlarm(tuple(said[1].split(" and ")))


@_order(r"undo")
def _(script: Script, said: re.Match[str]) -> c.Command:
    return c.UndoLast()
