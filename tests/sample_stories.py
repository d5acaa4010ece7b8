"""The two stories of sample_sessions, told as commands; run this file to write them anew.

Everything in them is invented: the household, its lots, its readings. A test holds the files
against what the stories come to today, so that a sample never goes stale.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID, uuid5

import msgspec

from packdesk.app.driven_clock import DrivenClock
from packdesk.catalog.read import read_catalog
from packdesk.desk.desk import Desk, Kept
from packdesk.desk.ports import SessionHead
from packdesk.instants import Reading, When
from packdesk.planning.line import plan_line
from packdesk.planning.loads import load_figures
from packdesk.planning.planned import LineRequest, PlannedLine, Site
from packdesk.present.load_view import kill_figures
from packdesk.record.session_file import FORMAT, Header
from packdesk.session import commands as c
from packdesk.session.agreed_plan import agreed_line, recorded_figures
from packdesk.session.envelope import BOOK_STREAM, Draft, Entry
from packdesk.session.fact import Fact, fact_text
from packdesk.session.terms import ColdRule, PacketCondition, SealVerdict
from packdesk.units import System

SAMPLES = Path(__file__).resolve().parent.parent / "sample_sessions"
_START = datetime(2026, 1, 1, tzinfo=UTC)
_NAMES = UUID("6f1d7c52-0f5e-5a51-8f0b-1f6f0b3a9d11")


class _Notebook:
    """Keeps entries with identities that depend on nothing but their order."""

    station = uuid5(_NAMES, "station")

    def __init__(self, story: str) -> None:
        self.kept: list[Entry] = []
        self._story = story
        self._acts: dict[UUID, UUID] = {}

    def append(self, drafts: list[Draft]) -> tuple[Entry, ...]:
        """Keep `drafts` under made-up identities."""
        new = []
        for draft in drafts:
            number = len(self.kept) + len(new) + 1
            act = self._acts.setdefault(
                draft.act, uuid5(_NAMES, f"{self._story} act {len(self._acts) + 1}")
            )
            new.append(
                Entry(
                    id=uuid5(_NAMES, f"{self._story} entry {number}"),
                    act=act,
                    stream=draft.stream if draft.stream == BOOK_STREAM else self.session,
                    happened_at=draft.happened_at,
                    about_min=draft.about_min,
                    recorded=draft.recorded,
                    who=draft.who,
                    station=self.station,
                    station_seq=number,
                    fact=draft.fact,
                )
            )
        self.kept += new
        return tuple(new)

    @property
    def session(self) -> UUID:
        """The one session of the story."""
        return uuid5(_NAMES, f"{self._story} session")

    def entries(self, streams: object) -> tuple[Entry, ...]:
        """All that was kept."""
        return tuple(self.kept)

    def sessions(self) -> tuple[SessionHead, ...]:
        """A story lists none."""
        return ()


class _Teller:
    """Says the commands of a story at stated times."""

    def __init__(self, story: str, offset_min: int, who: str) -> None:
        self._offset = offset_min
        self._clock = DrivenClock(Reading(_START, offset_min, 0.0, "story"))
        self.notebook = _Notebook(story)
        self.desk = Desk(self.notebook, self._clock, who)
        self.catalog, faults = read_catalog()
        assert not faults

    def at(self, text: str) -> None:
        """Set the clock to a local date and time."""
        utc = datetime.fromisoformat(text).replace(tzinfo=UTC) - timedelta(minutes=self._offset)
        steady_s = (utc - _START).total_seconds()
        self._clock.set(Reading(utc, self._offset, steady_s, "story"))

    def say(
        self, command: c.Command, about: str = "", plus_minus_min: float = 0.0
    ) -> tuple[Fact, ...]:
        """Give a command; `about` is when it happened, if that was earlier."""
        when = None
        if about:
            utc = datetime.fromisoformat(about).replace(tzinfo=UTC)
            when = When(utc - timedelta(minutes=self._offset), plus_minus_min)
        answer = self.desk.submit(command, when)
        assert isinstance(answer, Kept), f"{command}: {answer}"
        self.desk.session_id = self.notebook.session if self.desk.session_id else None
        return tuple(entry.fact for entry in answer.entries)  # type: ignore[misc]

    def plan(
        self, requests: list[tuple[str, str, float, str]], site: Site, units: System
    ) -> tuple[PlannedLine, ...]:
        """Work out plan lines from (food, lot, mass in g, pouch)."""
        lines = []
        for number, (food, lot, mass_g, pouch) in enumerate(requests, start=1):
            request = LineRequest(
                number, self.catalog.foods[food], lot, mass_g, self.catalog.pouches[pouch]
            )
            line = plan_line(request, self.catalog, site, units=units)
            assert isinstance(line, PlannedLine), line
            lines.append(line)
        return tuple(lines)

    def freeze(
        self, lot: str, food: str, pail: str, mass_g: float, start_c: float, air_c: float
    ) -> c.FreezeLoad:
        """The command that puts a pail of a lot into the freezer."""
        shape = self.catalog.pails[pail]
        load = load_figures(
            self.catalog.foods[food], shape, mass_g, start_temp_c=start_c, freezer_temp_c=air_c
        )
        figures = msgspec.structs.replace(
            recorded_figures(load), life_stages=kill_figures(self.catalog)
        )
        return c.FreezeLoad(lot, pail, shape.name, mass_g, figures)

    def receive(self, food: str, mass_g: float, supplier_lot: str, seen: str = "") -> c.ReceiveLot:
        """The command that takes a lot into the book."""
        return c.ReceiveLot(food, self.catalog.foods[food].name, mass_g, supplier_lot, seen=seen)


def autumn_wheat() -> _Teller:
    """A metric household packs 15.5 kg of wheat and 12 kg of black beans in October."""
    t = _Teller("autumn wheat", 120, "Mara")
    t.at("2026-10-02 18:05")
    t.say(c.OpenSession("Autumn wheat and black beans", "metric", "K7M2"))
    t.at("2026-10-02 18:12")
    t.say(t.receive("hard_wheat", 15500.0, "HW-0926-4", "clean, dry, sack whole"))
    t.at("2026-10-02 18:15")
    t.say(t.receive("black_beans", 12000.0, "BB-118"))
    site = Site(elevation_m=420.0, packing_temp_c=21.0)
    lines = t.plan(
        [("hard_wheat", "2610-1", 15500.0, "zip-203x254"),
         ("black_beans", "2610-2", 12000.0, "zip-203x254")],
        site, System.METRIC,
    )  # fmt: skip
    t.at("2026-10-02 18:31")
    agreed = tuple(agreed_line(line) for line in lines)
    t.say(c.AgreePlan(agreed, False, site.elevation_m, site.packing_temp_c))

    t.at("2026-10-12 19:05")
    t.say(t.freeze("2610-1", "hard_wheat", "pail-19l", 15500.0, 20.5, -18.0))
    t.at("2026-10-12 19:20")
    t.say(
        t.freeze("2610-2", "black_beans", "pail-19l", 12000.0, 20.5, -18.0),
        about="2026-10-12 19:10", plus_minus_min=15.0,
    )  # fmt: skip
    t.at("2026-10-13 20:02")
    t.say(c.NoteCoreReading("A", -8.5))
    t.at("2026-10-14 07:40")
    t.say(c.NoteFreezerReading(-19.0))
    t.at("2026-10-17 16:30")
    t.say(c.TakeLoadOut("A", 20.5, 0.48))
    t.at("2026-10-17 16:34")
    t.say(c.TakeLoadOut("B", 20.5, 0.48))

    t.at("2026-10-18 21:00")
    t.say(c.NoteRoomReading(20.5, 0.50))
    t.at("2026-10-19 09:00")
    t.say(c.UncoverLoad("A"))
    t.at("2026-10-19 09:04")
    t.say(c.UncoverLoad("B"))

    wheat, beans = agreed
    t.at("2026-10-19 09:20")
    t.say(c.FillPouches(1, 1, wheat.fill_mass_g + 4.0))
    t.at("2026-10-19 09:21")
    t.say(c.FillPouches(1, 1))
    t.at("2026-10-19 09:21:20")
    t.say(c.FillPouches(1, 1))
    t.at("2026-10-19 09:21:28")
    t.say(c.UndoLast())
    t.at("2026-10-19 09:40")
    t.say(c.FillPouches(1, wheat.count - 2))
    t.at("2026-10-19 09:58")
    t.say(c.FillPouches(2, beans.count))
    t.at("2026-10-19 10:02")
    t.say(c.CheckReady())
    t.at("2026-10-19 10:04")
    t.say(c.OpenPacket("self-100", 100, 50, PacketCondition.TIGHT, 20.5))
    t.at("2026-10-19 10:08")
    t.say(c.PlaceAbsorbers(1, 10))
    t.at("2026-10-19 10:11")
    t.say(c.PlaceAbsorbers(1, wheat.count - 10))
    t.at("2026-10-19 10:16")
    t.say(c.PlaceAbsorbers(2, beans.count))
    t.at("2026-10-19 10:18")
    t.say(c.ShutRemainder(1))

    total = wheat.count + beans.count
    everything = tuple(range(1, total + 1))
    t.desk.who = "Ines"
    t.at("2026-10-19 10:50")
    t.say(c.SealPouches(everything[:12]))
    t.at("2026-10-19 11:12")
    t.say(c.SealPouches(everything[12:]))
    t.at("2026-10-19 11:14")
    t.say(c.SetAside((14,), "flour dust in the seam"))
    t.at("2026-10-19 11:20")
    t.say(c.ReturnPouches((14,)))
    t.at("2026-10-19 11:21")
    t.say(c.TakeRemainder("R1", 20.5))
    t.at("2026-10-19 11:22")
    t.say(c.PlaceAbsorbers(1, 1))
    t.at("2026-10-19 11:23")
    t.say(c.ShutRemainder(2))
    t.at("2026-10-19 11:26")
    t.say(c.SealPouches((14,)))
    t.at("2026-10-19 11:40")
    t.say(c.NoteLabelsPrinted(everything, "a4-3x7-64x38", 8, (8 + total) % 21))
    t.at("2026-10-19 12:00")
    t.say(c.StowPouches("1", everything[:16]))
    t.at("2026-10-19 12:04")
    t.say(c.StowPouches("2", everything[16:]))
    t.at("2026-10-20 12:30")
    t.say(c.CheckSeals(everything[:-1], SealVerdict.SNUG))
    t.at("2026-10-20 12:31")
    t.say(c.CheckSeals(everything[-1:], SealVerdict.SOFT))
    t.at("2026-10-20 12:36")
    t.say(c.LidPail("1"))
    t.at("2026-10-20 12:37")
    t.say(c.LidPail("2"))
    t.at("2026-10-27 18:00")
    t.say(c.CheckSeals(everything, SealVerdict.SNUG))
    t.at("2026-10-27 18:05")
    t.say(c.AddNote("Pails 1 and 2 stand in the cellar, off the floor."))
    t.at("2026-10-27 18:06")
    t.say(c.CloseSession("Both pails stored."))
    return t


def winter_rice() -> _Teller:
    """A household with pounds and degrees Fahrenheit packs rice, oats and salt, numbered."""
    t = _Teller("winter rice", -360, "Jon")
    pound = 453.59237
    t.at("2026-11-06 17:30")
    t.say(c.OpenSession("Winter rice, oats and salt", "us", "R4TN"))
    t.at("2026-11-06 17:34")
    t.say(t.receive("white_rice", 12 * pound, "R-2231"))
    t.at("2026-11-06 17:36")
    t.say(t.receive("rolled_oats", 5 * pound, "", "bag a little dusty outside"))
    t.at("2026-11-06 17:38")
    t.say(t.receive("salt", 4 * pound, ""))
    site = Site(elevation_m=1609.0, packing_temp_c=20.0)
    lines = t.plan(
        [("white_rice", "2611-1", 12 * pound, "flat-203x254"),
         ("rolled_oats", "2611-2", 5 * pound, "zip-254x356"),
         ("salt", "2611-3", 4 * pound, "zip-203x254")],
        site, System.US,
    )  # fmt: skip
    agreed = tuple(agreed_line(line) for line in lines)
    t.at("2026-11-06 17:52")
    t.say(c.AgreePlan(agreed, True, site.elevation_m, site.packing_temp_c))
    t.at("2026-11-06 17:54")
    t.say(c.BypassCold("2611-3", "salt: no insect lives in it"))
    t.at("2026-11-07 08:10")
    t.say(
        t.freeze("2611-1", "white_rice", "pail-13l", 12 * pound, 20.0, -17.8),
        about="2026-11-06 21:30", plus_minus_min=15.0,
    )  # fmt: skip
    t.at("2026-11-07 08:15")
    t.say(t.freeze("2611-2", "rolled_oats", "pail-13l", 5 * pound, 20.0, -17.8))
    t.at("2026-11-11 19:00")
    t.say(c.ChooseColdRule(ColdRule.DOSE))
    t.say(c.TakeLoadOut("A", 20.0))
    t.at("2026-11-11 19:05")
    t.say(c.TakeLoadOut("B", 20.0))
    t.at("2026-11-13 17:50")
    t.say(c.NoteRoomReading(31.5))
    t.at("2026-11-13 18:00")
    t.say(c.VoidFact(t.notebook.kept[-1].id, "the thermometer lay on the radiator"))
    t.say(c.NoteRoomReading(20.0))
    rice, oats, salt = agreed
    t.at("2026-11-13 18:20")
    numbers = tuple(range(1, rice.count + 1))
    gone = rice.count % 10
    t.say(c.NoteNumberLabels(1, numbers, "letter-2x5-102x51", 0, gone))
    t.at("2026-11-14 08:50")
    t.say(c.UncoverLoad("A"))
    t.at("2026-11-14 08:52")
    t.say(c.UncoverLoad("B"))

    t.at("2026-11-14 08:56")
    t.say(c.WeighEmptyPouch(rice.pouch, 12.0))
    minute = datetime.fromisoformat("2026-11-14 09:00")
    for number in range(rice.count):
        t.at((minute + timedelta(minutes=number)).isoformat(" "))
        last = number == rice.count - 1
        full = rice.last_fill_mass_g if last and rice.last_fill_mass_g else rice.fill_mass_g
        t.say(c.FillPouches(1, 1, round(full + (number % 3 - 1) * 2.0, 1)))
    t.at("2026-11-14 09:22")
    t.say(c.NoteFoodLost(1, 40.0, "spilled on the floor"))
    t.at("2026-11-14 09:24")
    t.say(c.CheckReady())
    t.at("2026-11-14 09:25")
    t.say(c.OpenPacket("self-100", 100, 20, PacketCondition.TIGHT, 20.0))
    for number in range(rice.count):
        t.at(
            (datetime.fromisoformat("2026-11-14 09:26") + timedelta(seconds=55 * number)).isoformat(
                " "
            )
        )
        t.say(c.PlaceAbsorbers(1, 1))
    t.at("2026-11-14 09:36")
    t.say(c.ShutRemainder(1))
    first_oats = rice.count + 1
    t.at("2026-11-14 10:10")
    t.say(c.FillPouches(2, oats.count))
    t.at("2026-11-14 10:12")
    t.say(c.CheckReady())
    t.at("2026-11-14 10:13")
    rating = oats.absorbers_cc[0]
    t.say(c.OpenPacket(f"self-{rating}", rating, 10, PacketCondition.SLACK, 20.0))
    t.at("2026-11-14 10:17")
    t.say(c.PlaceAbsorbers(2, oats.count))
    t.at("2026-11-14 10:18")
    t.say(c.ShutRemainder(2))
    t.at("2026-11-14 10:30")
    t.say(c.FillPouches(3, salt.count, salt.fill_mass_g))
    total = rice.count + oats.count + salt.count
    first_salt = first_oats + oats.count
    t.at("2026-11-14 10:34")
    t.say(c.ShutPouches(tuple(range(first_salt, total + 1))))
    t.at("2026-11-14 10:50")
    t.say(c.SealPouches(tuple(range(first_oats, total + 1))))
    t.at("2026-11-14 11:10")
    t.say(
        c.NoteLabelsPrinted(
            tuple(range(1, total + 1)), "letter-2x5-102x51", gone, (gone + total) % 10
        )
    )
    t.at("2026-11-14 11:20")
    t.say(c.TakeCount(2, "sealed", oats.count))
    t.at("2026-11-14 11:30")
    t.say(c.StowPouches("pantry 1", tuple(range(1, total + 1))))
    t.at("2026-11-15 12:00")
    t.say(c.CheckSeals(tuple(range(1, total + 1)), SealVerdict.SNUG))
    t.at("2026-11-15 12:05")
    t.say(c.LidPail("pantry 1"))
    return t


STORIES: dict[str, Callable[[], _Teller]] = {
    "autumn-wheat.jsonl": autumn_wheat,
    "winter-rice.jsonl": winter_rice,
}


def text_of(story: _Teller) -> str:
    """The story as a session file: every fact with its envelope, without a book's chain."""
    header = Header(
        packdesk_session=FORMAT,
        session=story.notebook.session,
        about="An invented sample: no such household, lots or readings.",
    )
    lines = [msgspec.json.encode(header).decode()]
    for entry in story.notebook.kept:
        assert isinstance(entry.fact, Fact)
        offset = timedelta(minutes=entry.recorded.utc_offset_min)
        line = {
            "kind": entry.fact.kind,
            "v": entry.fact.v,
            "at": _local(entry.happened_at, offset),
            "about_min": entry.about_min,
            "recorded": _local(entry.recorded.utc, offset),
            "who": entry.who,
            "id": str(entry.id),
            "act": str(entry.act),
            "data": msgspec.Raw(fact_text(entry.fact).encode()),
        }
        if not entry.about_min:
            del line["about_min"]
        if not entry.who:
            del line["who"]
        lines.append(msgspec.json.encode(line).decode())
    return "\n".join(lines) + "\n"


def _local(utc: datetime, offset: timedelta) -> str:
    hours, minutes = divmod(abs(int(offset.total_seconds())) // 60, 60)
    sign = "-" if offset < timedelta() else "+"
    return f"{(utc + offset).replace(tzinfo=None).isoformat()}{sign}{hours:02d}:{minutes:02d}"


def write_samples(folder: Path = SAMPLES) -> None:
    """Write every sample anew."""
    for name, story in STORIES.items():
        (folder / name).write_text(text_of(story()), encoding="utf-8")
        sys.stdout.write(f"{folder / name}\n")


if __name__ == "__main__":
    write_samples()
