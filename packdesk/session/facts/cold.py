"""What happened to loads in the freezer and in the room: frozen, read, taken out, uncovered."""

from __future__ import annotations

from typing import ClassVar

from packdesk.session.fact import Fact
from packdesk.session.figures import (
    ColdForecast,
    FreezerOutlook,
    LoadFigures,
    LoadOutlook,
    ThawForecast,
)
from packdesk.session.terms import ColdRule, Probe


class LoadFrozen(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One closed container of one lot went into the freezer.

    `outlooks` are those of the loads in there already, which it keeps waiting. `confirmed`: it
    was questioned, for its height, its heat or what was said of freezer and food, and went in all
    the same.
    """

    kind: ClassVar[str] = "load_frozen"
    load: str
    lot: str
    food_name: str
    container: str
    container_name: str
    mass_g: float
    figures: LoadFigures
    forecast: ColdForecast
    outlooks: tuple[LoadOutlook, ...] = ()
    freezer: FreezerOutlook | None = None
    confirmed: bool = False


class LotBypassedCold(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A lot needs no cold treatment, for a stated reason."""

    kind: ClassVar[str] = "lot_bypassed_cold"
    lot: str
    reason: str


class ColdRuleChosen(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A person chose which rule says when the cold of this session's loads is complete."""

    kind: ClassVar[str] = "cold_rule_chosen"
    rule: ColdRule


class CoreRead(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A probe at the core, or at the outside wall, of a load was read.

    `confirmed`, here and in the two that follow: it was far from what is reckoned, and stands.
    """

    kind: ClassVar[str] = "core_read"
    load: str
    temp_c: float
    probe: Probe
    outlook: LoadOutlook
    confirmed: bool = False


class FreezerRead(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The freezer's own thermometer was read; every load in it has a new outlook."""

    kind: ClassVar[str] = "freezer_read"
    temp_c: float
    outlooks: tuple[LoadOutlook, ...]
    freezer: int = 1
    freezer_outlook: FreezerOutlook | None = None
    confirmed: bool = False


class LoadTakenOut(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A load left the freezer, still closed. `held_h` counts the lag in the closed pail.

    `reason` is given when the cold ended before it was complete by `rule`: held for `needed_h`,
    or a whole `dose` (1) for `dose_stage`, the toughest life stage; None: not reckoned.
    `confirmed`: the room it came into was questioned, and is so.
    """

    kind: ClassVar[str] = "load_taken_out"
    load: str
    held_h: float
    needed_h: float
    reason: str
    forecast: ThawForecast
    rule: ColdRule = ColdRule.PLAIN
    dose: float | None = None
    dose_stage: str = ""
    outlooks: tuple[LoadOutlook, ...] = ()
    freezer: FreezerOutlook | None = None
    confirmed: bool = False


class RoomRead(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Room temperature and, where known, humidity were read; warming loads have a new outlook."""

    kind: ClassVar[str] = "room_read"
    temp_c: float
    relative_humidity: float | None
    outlooks: tuple[LoadOutlook, ...]
    confirmed: bool = False


class LoadUncovered(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The lid came off a load. `reason` is given when its food was still below the limit.

    `core_c` is its coldest food (°C), which in a load taken out early is not the middle.
    """

    kind: ClassVar[str] = "load_uncovered"
    load: str
    core_c: float
    open_above_c: float
    reason: str
