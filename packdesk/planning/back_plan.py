"""When each load of a packing day must go into the freezer, with what the freezer can bear.

Importing this loads numpy.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from packdesk.physics.freezer import food_limit_c
from packdesk.physics.ranges import within
from packdesk.planning.calendar import (
    USUAL_CABINET,
    Cabinet,
    Calendar,
    NeverReady,
    Spell,
    arrival_of,
    calendar_of,
    spell,
)
from packdesk.planning.loads import PailLoad
from packdesk.units import System

BETWEEN_LOADINGS_H = 24.0
"""How long the freezer is left to come back to its temperature (common practice, no source)."""

_LOOKED_AT_H = 48.0


@dataclass(frozen=True, slots=True)
class PlanFreezer:
    """A freezer there is: its number, its air at rest (None: as the loads say), what it can do."""

    number: int = 1
    rest_temp_c: float | None = None
    cabinet: Cabinet = USUAL_CABINET


USUAL_FREEZER = PlanFreezer()


@dataclass(frozen=True, slots=True)
class BackLoad:
    """One container still to go in: what a person calls it, and what its heat rests on."""

    name: str
    lot: str
    food_name: str
    mass_g: float
    figures: PailLoad


@dataclass(frozen=True, slots=True)
class BackPlanned:
    """A load with its latest times; `loading` counts the loadings from 1, the first is earliest."""

    load: BackLoad
    calendar: Calendar
    loading: int
    freezer: int = 1


@dataclass(frozen=True, slots=True)
class BackPlan:
    """All loads of one packing day, those that go in first before the others.

    ``together`` is how many go in at one time, into all ``freezers`` there are (their numbers);
    ``warmest_frozen_c`` how warm what is frozen already then becomes, ``frozen_limit_c`` how warm
    it may; ``overloaded`` that even one
    load alone warms it too much. ``begin_by`` is the first loading; ``earliest_pack_at`` when it
    could be packed if that were now.
    """

    pack_at: datetime
    loads: tuple[BackPlanned, ...]
    together: int
    loadings: int
    warmest_frozen_c: float
    frozen_limit_c: float
    overloaded: bool
    begin_by: datetime
    earliest_pack_at: datetime
    freezers: tuple[int, ...] = (1,)

    def feasible(self, now: datetime) -> bool:
        """Whether the first loading is still to come."""
        return self.begin_by >= now


def back_plan(
    pack_at: datetime,
    loads: Sequence[BackLoad],
    hold_h: float,
    treat_c: float,
    now: datetime,
    *,
    freezers: Sequence[PlanFreezer] = (USUAL_FREEZER,),
    room_temp_c: float = 21.0,
    relative_humidity: float | None = None,
    units: System = System.METRIC,
) -> BackPlan:
    """When each of ``loads`` goes in at the latest so that all can be packed at ``pack_at``.

    They go into ``freezers``, those that no load gets cold in left out. As many go in together as
    leave what is frozen already within ``physics.freezer.food_limit_c``, the others a day earlier
    each time, the slowest first. Those of one loading keep the air of their freezer warm for each
    other. The other arguments are those of `spell`; raises ``NeverReady`` and ``ValueError``
    without loads or freezers.

    Limits: by a day later a loading is taken as cold, and so is what went in before the plan.
    """
    if not loads or not freezers:
        raise ValueError("A plan for the freezer takes at least one load and one freezer.")
    within("hold_h", hold_h, 0.0, 1000.0, "h")

    def takes(load: BackLoad, beside: Sequence[BackLoad], into: PlanFreezer) -> Spell:
        return spell(
            _in(load, into), hold_h, treat_c, beside=tuple(_in(each, into) for each in beside),
            cabinet=into.cabinet, room_temp_c=room_temp_c, relative_humidity=relative_humidity,
            units=units,
        )  # fmt: skip

    alone, usable = _alone(loads, freezers, lambda load, into: takes(load, (), into).total_h)
    bears = {into: _together([_in(load, into) for load in loads], into) for into in usable}
    limits_c = {into: food_limit_c(_in(loads[0], into).freezer_temp_c) for into in usable}
    spared = [into for into in usable if bears[into][1] <= limits_c[into]]
    usable = spared or usable[:1]
    together = sum(bears[into][0] for into in usable)
    warmest_c = max(bears[into][1] for into in usable)
    slowest_first = sorted(loads, key=lambda load: -alone[load])
    # The last loading is the full one: the nearest to packing day should be of the fastest.
    groups = [
        slowest_first[max(0, end - together) : end]
        for end in range(len(slowest_first), 0, -together)
    ][::-1]
    planned: list[BackPlanned] = []
    later: datetime | None = None
    for place in range(len(groups) - 1, -1, -1):
        group = _shared_out(groups[place], [(into, bears[into][0]) for into in usable])
        spells = [
            takes(load, [each for other, (each, beside) in enumerate(group)
                         if other != at and beside is into], into)
            for at, (load, into) in enumerate(group)
        ]  # fmt: skip
        load_by = pack_at - timedelta(hours=max(each.total_h for each in spells))
        if later is not None:
            load_by = min(load_by, later - timedelta(hours=BETWEEN_LOADINGS_H))
        later = load_by
        planned[:0] = [
            BackPlanned(
                load, _packed_at(calendar_of(found, load_by), pack_at), place + 1, into.number
            )
            for (load, into), found in zip(group, spells, strict=True)
        ]
    begin_by = planned[0].calendar.load_by
    return BackPlan(
        pack_at=pack_at,
        loads=tuple(planned),
        together=together,
        loadings=len(groups),
        warmest_frozen_c=warmest_c,
        frozen_limit_c=max(limits_c[into] for into in usable),
        overloaded=not spared,
        begin_by=begin_by,
        earliest_pack_at=now + (pack_at - begin_by),
        freezers=tuple(into.number for into in usable),
    )


def _in(load: BackLoad, into: PlanFreezer) -> PailLoad:
    """The load's heat in that freezer."""
    if into.rest_temp_c is None:
        return load.figures
    return replace(load.figures, freezer_temp_c=into.rest_temp_c)


def _alone(
    loads: Sequence[BackLoad],
    freezers: Sequence[PlanFreezer],
    total_h: Callable[[BackLoad, PlanFreezer], float],
) -> tuple[dict[BackLoad, float], list[PlanFreezer]]:
    """What each load takes alone, and the freezers that do for all, the quickest first."""
    found, refused = list[tuple[float, PlanFreezer]](), list[NeverReady]()
    alone: dict[BackLoad, float] = {}
    for into in freezers:
        try:
            takes = {load: total_h(load, into) for load in dict.fromkeys(loads)}
        except NeverReady as never:
            refused.append(never)
            continue
        found.append((max(takes.values()), into))
        alone = {load: max(each, alone.get(load, 0.0)) for load, each in takes.items()}
    if not found:
        raise refused[0]
    return alone, [into for _, into in sorted(found, key=lambda each: each[0])]


def _shared_out(
    group: Sequence[BackLoad], rooms: Sequence[tuple[PlanFreezer, int]]
) -> list[tuple[BackLoad, PlanFreezer]]:
    """Which of these goes where: the slowest into the quickest freezer, each as many as it bears.

    By turns, so that a loading which fills neither keeps both as cold as can be.
    """
    turns: list[PlanFreezer] = []
    while len(turns) < len(group):
        turns += [into for into, room in rooms if turns.count(into) < room]
    return list(zip(group, turns, strict=False))


def _packed_at(found: Calendar, pack_at: datetime) -> Calendar:
    """The same calendar with the packing when it is meant, some time after the lid comes off."""
    rests = found.first_check - found.pack_at
    return Calendar(
        found.load_by, found.cold_from, found.hold_done, found.lid_off, pack_at, pack_at + rests
    )


def _together(figures: Sequence[PailLoad], into: PlanFreezer) -> tuple[int, float]:
    """How many of these, the largest first, may go in at once; how warm frozen food then gets."""
    largest_first = sorted(figures, key=lambda each: -(each.radius_mm**2) * each.fill_height_mm)
    warmest = math.nan
    for count in range(len(largest_first), 0, -1):
        arrivals = [arrival_of(each) for each in largest_first[:count]]
        story = into.cabinet.story(largest_first[0].freezer_temp_c, arrivals, _LOOKED_AT_H)
        warmest = story.warmest_frozen_c
        if warmest <= food_limit_c(largest_first[0].freezer_temp_c):
            return count, warmest
    return 1, warmest
