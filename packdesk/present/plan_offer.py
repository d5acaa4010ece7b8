"""What a plan would take, line by line while it is typed: figures, refusals, supplies, dates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING
from uuid import UUID

from packdesk.catalog.read import Catalog
from packdesk.instants import OffsetAt, Reading
from packdesk.present.freezer_plan import FreezerPlan, Waiting, freezer_plan
from packdesk.present.label_text import absorber_words
from packdesk.present.measures import Measures
from packdesk.present.plan_change import Begun, begun, kept_words
from packdesk.session.book_state import BookState, Lot
from packdesk.session.envelope import Entry
from packdesk.session.facts import LotReceived
from packdesk.session.figures import AgreedLine
from packdesk.session.fold import voided
from packdesk.session.state import SessionState
from packdesk.session.terms import LotVerdict

if TYPE_CHECKING:
    from packdesk.planning.planned import PlannedLine


TO_PLAN_IT = "To put it up all the same, without an absorber, type the reason; it stays on record."


@dataclass(frozen=True, slots=True)
class LineWish:
    """This lot into this pouch; `fill_mass_g` None: as much as fits, evenly.

    `against_advice`: why a food marked never is put up all the same.
    """

    lot: str
    pouch: str
    fill_mass_g: float | None = None
    against_advice: str = ""


@dataclass(frozen=True, slots=True)
class SiteWish:
    """Where and when it is packed; `pack_at` (UTC) may still be open."""

    elevation_m: float = 0.0
    packing_temp_c: float = 21.0
    pack_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class OfferedLine:
    """One line in words: what it takes, or what stands against it.

    `by_reason`: it is planned, or could be, only with a typed reason.
    """

    lot: str
    food_name: str
    takes: str = ""
    detail: str = ""
    warnings: tuple[str, ...] = ()
    what: str = ""
    figure: str = ""
    advice: str = ""
    caution: str = ""
    by_reason: bool = False

    @property
    def unfit(self) -> bool:
        """Whether something stands against it."""
        return bool(self.what)


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """One row of what to have at hand."""

    count: str
    name: str
    note: str


@dataclass(frozen=True, slots=True)
class PlanOffer:
    """The whole plan as it would be agreed, and the freezer's calendar for it."""

    lines: tuple[OfferedLine, ...]
    supplies: tuple[SupplyRow, ...]
    agreed: tuple[AgreedLine, ...]
    freezer: FreezerPlan = field(default_factory=FreezerPlan)


def lots_of(
    entries: Sequence[Entry], session: SessionState, session_id: UUID, book: BookState
) -> tuple[Lot, ...]:
    """The accepted lots that this session is about: received in it, or in its plan already."""
    gone = voided(entries)
    received = [
        entry.fact.lot
        for entry in entries
        if isinstance(entry.fact, LotReceived)
        and entry.id not in gone
        and entry.fact.session == session_id
    ]
    planned = [line.lot for line in session.plan.lines] if session.plan is not None else []
    found = [book.lots[lot] for lot in dict.fromkeys((*planned, *received)) if lot in book.lots]
    return tuple(lot for lot in found if lot.verdict is LotVerdict.ACCEPTED)


def plan_offer(
    wishes: Sequence[LineWish],
    site: SiteWish,
    book: BookState,
    session: SessionState,
    catalog: Catalog,
    now: Reading,
    offset_min_at: OffsetAt | None = None,
) -> PlanOffer:
    """Work out every line of a plan. Raises `OutOfRange` for a site that makes no sense."""
    from packdesk.planning.plan import LineRequest, Site, plan  # loads numpy
    from packdesk.session.agreed_plan import agreed_line
    from packdesk.units import System

    measures = Measures(session.units)
    numbers, stays = _numbers(wishes, session)
    requests = [
        LineRequest(
            line=numbers[wish.lot],
            food=catalog.foods[book.lots[wish.lot].food],
            lot=wish.lot,
            mass_g=_mass_g(stays.get(wish.lot), book.lots[wish.lot]),
            pouch=catalog.pouches[wish.pouch],
            fill_mass_g=wish.fill_mass_g,
            against_advice=wish.against_advice,
        )
        for wish in wishes
        if book.lots[wish.lot].food in catalog.foods and wish.pouch in catalog.pouches
    ]
    found = plan(
        requests,
        catalog,
        Site(site.elevation_m, site.packing_temp_c),
        units=System(session.units),
    )
    planned = {line.line: line for line in found.lines}
    unfit = {line.line: line for line in found.unfit}
    lines, agreed = [], list[AgreedLine]()
    for request in requests:
        stay = stays.get(request.lot)
        if stay is not None:
            agreed += stay.kept
        if stay is not None and not stay.rest_g:
            lines.append(_going_on(stay, session))
        elif request.line in planned:
            line = planned[request.line]
            agreed.append(agreed_line(line))
            before = (kept_words(session, stay),) if stay is not None else ()
            lines.append(_offered(line, measures, before))
        else:
            why = unfit[request.line]
            lines.append(
                OfferedLine(
                    request.lot,
                    why.food_name,
                    what=why.what,
                    figure=why.figure,
                    advice=f"{why.advice} {TO_PLAN_IT}" if why.by_reason else why.advice,
                    caution=why.caution,
                    by_reason=why.by_reason,
                )
            )
    return PlanOffer(
        lines=tuple(lines),
        supplies=tuple(
            SupplyRow(str(row.count) if row.count else "–", row.name, row.note)
            for row in found.supplies.rows
        ),
        agreed=tuple(agreed),
        freezer=_freezer(found.lines, site, catalog, now, session.units, offset_min_at),
    )


def _numbers(
    wishes: Sequence[LineWish], session: SessionState
) -> tuple[dict[str, int], dict[str, Begun]]:
    """The line number of what is planned for each lot: the one it has, or the next free one.

    And what stays of each lot that pouches were filled from.
    """
    known = {line.lot: line.line for line in session.plan.lines} if session.plan is not None else {}
    taken = max((line.line for line in session.plan.lines), default=0) if session.plan else 0
    numbers, stays = dict[str, int](), dict[str, Begun]()
    for wish in wishes:
        stay = begun(session, wish.lot, wish.pouch, wish.fill_mass_g, taken + 1)
        if stay is not None:
            stays[wish.lot] = stay
        numbers[wish.lot] = (stay.number if stay else 0) or known.get(wish.lot, taken + 1)
        taken = max(taken, numbers[wish.lot])
    return numbers, stays


def _mass_g(stay: Begun | None, lot: Lot) -> float:
    if stay is None:
        return lot.mass_g
    return stay.rest_g or stay.kept[-1].mass_g


def _going_on(stay: Begun, session: SessionState) -> OfferedLine:
    """The line that was filled by already and goes on as it was agreed."""
    line = stay.kept[-1]
    pouches = "1 pouch" if line.count == 1 else f"{line.count} pouches"
    return OfferedLine(
        lot=line.lot,
        food_name=line.food_name,
        takes=f"{pouches} of {Measures(session.units).mass(line.fill_mass_g)}",
        detail=f"{absorber_words(line)} each" if line.absorbers_cc else "no absorber",
        warnings=(kept_words(session, stay),),
        caution=line.caution,
    )


def _offered(line: PlannedLine, measures: Measures, before: tuple[str, ...] = ()) -> OfferedLine:
    ratings = sorted(set(line.absorbers_cc), reverse=True)
    each = " + ".join(f"{line.absorbers_cc.count(cc)} × {cc} cc" for cc in ratings)
    need = (
        f"{each} each, {line.margin_ratio:.1f} × the {line.oxygen_need_cc:.0f} cc needed"
        if each and line.margin_ratio is not None
        else "no absorber"
    )
    pouches = "1 pouch" if line.count == 1 else f"{line.count} pouches"
    return OfferedLine(
        lot=line.lot,
        food_name=line.food_name,
        takes=f"{pouches} of {measures.mass(line.fill_mass_g)}",
        detail=need,
        warnings=(*before, *line.warnings),
        caution=line.caution,
        by_reason=bool(line.never),
    )


def _freezer(
    lines: Sequence[PlannedLine],
    site: SiteWish,
    catalog: Catalog,
    now: Reading,
    units: str,
    offset_min_at: OffsetAt | None,
) -> FreezerPlan:
    """When the freezer must be loaded for a packing day; nothing while the day is open."""
    if site.pack_at is None:
        return FreezerPlan()
    masses: dict[str, Waiting] = {}
    for line in lines:
        before_g = masses[line.lot].mass_g if line.lot in masses else 0.0
        masses[line.lot] = Waiting(line.lot, line.food, before_g + line.mass_g)
    return freezer_plan(
        masses.values(),
        site.pack_at,
        catalog,
        now,
        room_temp_c=site.packing_temp_c,
        units=units,
        offset_min_at=offset_min_at,
    )
