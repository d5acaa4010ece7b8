"""The freezer's calendar for a packing day in words: what goes in by when, what room that takes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import partial
from typing import TYPE_CHECKING

from packdesk.catalog.foods import LowOxygen
from packdesk.catalog.read import Catalog
from packdesk.instants import OffsetAt, Reading, local
from packdesk.physics.plain_rule import RULE_AT_C, RULE_HELD_H
from packdesk.present.known_freezers import KnownFreezer, known_freezers
from packdesk.present.load_view import short_food, unfrozen_g
from packdesk.present.measures import Measures
from packdesk.sentences import capital
from packdesk.session.book_state import BookState
from packdesk.session.state import SessionState
from packdesk.session.terms import ColdRule
from packdesk.units import NO_BREAK_SPACE, System

if TYPE_CHECKING:
    from packdesk.planning.back_plan import BackLoad, BackPlan, BackPlanned, PlanFreezer

BY_PLAIN_RULE = "Planned by the plain rule; a load's dose is reckoned once it is in."

FREEZER_HEADER = ("Load", "In by", "Out", "Lid off")


@dataclass(frozen=True, slots=True)
class Waiting:
    """So much of a lot that still has to go through the cold."""

    lot: str
    food: str
    mass_g: float


@dataclass(frozen=True, slots=True)
class FreezerRow:
    """Pails alike that go in together: what, and their latest times."""

    load: str
    in_by: str
    out: str
    lid_off: str

    @property
    def cells(self) -> tuple[str, ...]:
        """The row as it is read from left to right."""
        return (self.load, self.in_by, self.out, self.lid_off)


@dataclass(frozen=True, slots=True)
class FreezerPlan:
    """The calendar as it is shown: a sentence, rows, notes; `cure` where it cannot be done.

    `short` is sentence and cure in few words, for the head of a page. `plan` holds the same as
    instants; None where nothing could be worked out.
    """

    sentence: str = ""
    cure: str = ""
    short: str = ""
    rows: tuple[FreezerRow, ...] = ()
    notes: tuple[str, ...] = ()
    plan: BackPlan | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """All of it as sentences."""
        said = [self.sentence, self.cure] if self.cure else [self.sentence]
        said += [
            f"{row.load}: in by {row.in_by}, out {row.out}, lid off {row.lid_off}."
            for row in self.rows
        ]
        return tuple(line for line in (*said, *self.notes) if line)


def waiting_lots(session: SessionState, book: BookState) -> tuple[Waiting, ...]:
    """What of the agreed plan has not gone into the freezer yet, each lot once."""
    if session.plan is None:
        return ()
    found = []
    for lot in dict.fromkeys(line.lot for line in session.plan.lines):
        if lot in session.bypassed or lot not in book.lots:
            continue
        rest_g = unfrozen_g(session, book, lot)
        if rest_g > 1.0:
            found.append(Waiting(lot, book.lots[lot].food, rest_g))
    return tuple(found)


def waits_for_packing(session: SessionState, book: BookState) -> bool:
    """Whether something is still outside that has to be ready on the packing day agreed."""
    agreed = session.plan is not None and session.plan.pack_at is not None
    return agreed and bool(waiting_lots(session, book))


def session_freezer_plan(
    session: SessionState,
    book: BookState,
    catalog: Catalog,
    now: Reading,
    offset_min_at: OffsetAt | None = None,
) -> FreezerPlan:
    """The calendar of what is still outside, for the packing day of the agreed plan."""
    plan = session.plan
    if plan is None or plan.pack_at is None:
        return FreezerPlan()
    found = freezer_plan(
        waiting_lots(session, book),
        plan.pack_at,
        catalog,
        now,
        known=known_freezers(session),
        room_temp_c=plan.packing_temp_c,
        units=session.units,
        offset_min_at=offset_min_at,
    )
    if not found.sentence or session.cold_rule is ColdRule.PLAIN:
        return found
    return replace(found, sentence=f"{found.sentence} {BY_PLAIN_RULE}")


def freezer_plan(
    waiting: Iterable[Waiting],
    pack_at: datetime,
    catalog: Catalog,
    now: Reading,
    *,
    known: Sequence[KnownFreezer] = (),
    room_temp_c: float = 21.0,
    units: str = "metric",
    offset_min_at: OffsetAt | None = None,
) -> FreezerPlan:
    """When what is `waiting` must go into the freezer at the latest, to be packed at `pack_at`.

    The freezers are those `known`; while none is, a usual one.
    """
    from packdesk.planning.back_plan import back_plan  # loads numpy
    from packdesk.planning.calendar import NeverReady

    loads = _loads(waiting, catalog, room_temp_c, units)
    if not loads:
        return FreezerPlan()
    plan_for = partial(
        back_plan, loads=loads, hold_h=RULE_HELD_H, treat_c=RULE_AT_C, now=now.utc,
        freezers=_freezers(known), room_temp_c=room_temp_c, units=System(units),
    )  # fmt: skip
    try:
        found = plan_for(pack_at)
    except NeverReady as refused:
        return FreezerPlan(sentence=str(refused))
    say = _Said(now, offset_min_at)
    packing = f"pack on {say.day(pack_at)} at {say.time(pack_at)}"
    cure = ""
    if found.feasible(now.utc):
        sentence = f"To {packing}, begin the cold by {say.moment(found.begin_by)}."
        short = f"Begin the cold by {say.moment(found.begin_by)}."
    else:
        sentence = (
            f"Too late to {packing}: the cold should have begun by {say.moment(found.begin_by)}."
        )
        earliest = _full_hour(found.earliest_pack_at)
        cure = (
            f"If the first load goes in now, pack on {say.day(earliest)} at {say.time(earliest)} "
            "or later."
        )
        short = f"Too late for that day: pack on {say.moment(earliest)} or later."
        found = plan_for(earliest)  # days that are over are no plan
    return FreezerPlan(
        sentence,
        cure,
        short,
        _rows(found, say, name_freezer=len(known) > 1 or found.freezers != (1,)),
        _notes(found, catalog, known, Measures(units)),
        found,
    )


def _freezers(known: Sequence[KnownFreezer]) -> tuple[PlanFreezer, ...]:
    """The freezers of the plan, as far as they are known."""
    from packdesk.planning.back_plan import USUAL_FREEZER, PlanFreezer
    from packdesk.planning.calendar import Cabinet
    from packdesk.planning.loads import USUAL_SPARE_POWER_W

    found = (
        PlanFreezer(
            each.number,
            each.rest_temp_c,
            Cabinet(each.spare_power_w or USUAL_SPARE_POWER_W, each.frozen_food_kg),
        )
        for each in known
    )
    return tuple(found) or (USUAL_FREEZER,)


def _loads(
    waiting: Iterable[Waiting], catalog: Catalog, start_temp_c: float, units: str
) -> list[BackLoad]:
    """The usual pails of each lot, as the heat reckoning takes them."""
    from packdesk.planning.back_plan import BackLoad
    from packdesk.planning.loads import load_figures, pail_loads
    from packdesk.planning.plan import usual_pail

    pail = usual_pail(catalog)
    freezer = next(iter(catalog.freezers.values()))
    measures = Measures(units)
    found = []
    for each in waiting:
        food = catalog.foods.get(each.food)
        if food is None or food.low_oxygen is LowOxygen.NOT_NEEDED:
            continue
        for mass_g in pail_loads(each.mass_g, food, pail):
            figures = load_figures(
                food,
                pail,
                mass_g,
                start_temp_c=start_temp_c,
                freezer_temp_c=freezer.temperature_c,
            )
            name = short_food(food.name)
            title = f"{capital(name)}, {measures.mass(round(mass_g, -1))}"
            found.append(BackLoad(title, each.lot, food.name, mass_g, figures))
    return found


def _rows(found: BackPlan, say: _Said, *, name_freezer: bool) -> tuple[FreezerRow, ...]:
    """Pails alike of one loading in one row; which freezer, where it is not the only one."""
    alike: dict[tuple[int, int, str], list[BackPlanned]] = {}
    for each in found.loads:
        alike.setdefault((each.loading, each.freezer, each.load.name), []).append(each)
    rows = []
    for (_, freezer, name), same in alike.items():
        times = same[0].calendar
        count = f"{len(same)} × " if len(same) > 1 else ""
        into = f", freezer {freezer}" if name_freezer else ""
        rows.append(
            FreezerRow(
                f"{count}{name}{into}",
                say.moment(times.load_by),
                say.moment(times.hold_done),
                say.moment(times.lid_off),
            )
        )
    return tuple(rows)


def _notes(
    found: BackPlan, catalog: Catalog, known: Sequence[KnownFreezer], measures: Measures
) -> tuple[str, ...]:
    """The room it takes, and what it does to what is frozen already."""
    from packdesk.planning.loads import LID_AND_FLOOR_MM, stands_in
    from packdesk.planning.plan import usual_pail

    pail = usual_pail(catalog)
    freezer = next(iter(catalog.freezers.values()))
    at_once = max(_inside(found, each.calendar.load_by) for each in found.loads)
    pails = "1 pail" if at_once == 1 else f"{at_once} pails"
    height = f"{pail.inner_height_mm + LID_AND_FLOOR_MM:.0f}{NO_BREAK_SPACE}mm"
    room = f"Room in the freezer for {pails}, {height} high with the lid."
    heights = [each.height_mm for each in known if each.number in found.freezers]
    clear_mm = min((each for each in heights if each), default=freezer.inner_height_mm)
    if not stands_in(pail, clear_mm):
        room += (
            f" One does not stand upright in a clear height of {clear_mm:.0f}"
            f"{NO_BREAK_SPACE}mm: take lower pails, or a chest."
        )
    warmest = measures.temperature(found.warmest_frozen_c)
    limit = measures.temperature(found.frozen_limit_c)
    if found.overloaded:
        frozen = (
            f"Even one pail warms what is frozen already to about {warmest}, above {limit}: take "
            "smaller loads, or move the frozen food meanwhile."
        )
    elif found.loadings > 1:
        frozen = (
            f"{found.together} at a time, a day apart: what is frozen already then warms to about "
            f"{warmest}; more at once would pass {limit}."
        )
    else:
        frozen = f"What is frozen already warms to about {warmest} meanwhile."
    return (room, frozen)


def _inside(found: BackPlan, at: datetime) -> int:
    return sum(each.calendar.load_by <= at < each.calendar.hold_done for each in found.loads)


def _full_hour(at: datetime) -> datetime:
    """The next full hour."""
    full = at.replace(minute=0, second=0, microsecond=0)
    return full if full == at else full + timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class _Said:
    """Days and times of the place, by its offset on that very day."""

    now: Reading
    offset_min_at: OffsetAt | None

    def _there(self, at: datetime) -> datetime:
        return local(at, self.offset_min_at or self.now.offset_min_at)

    def day(self, at: datetime) -> str:
        there = self._there(at)
        return f"{there:%A} {there.day} {there:%B}"

    def time(self, at: datetime) -> str:
        return f"{self._there(at):%H:%M}"

    def moment(self, at: datetime) -> str:
        there = self._there(at)
        return f"{there:%a} {there.day} {there:%b}, {there:%H:%M}"
