"""What happened before any food is cold: the session, its lots, the plan."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from packdesk.session.fact import BookFact, Fact
from packdesk.session.figures import AgreedLine
from packdesk.session.terms import LotVerdict


class SessionOpened(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A packing project began. `code` stands on its labels; `units` is metric or us."""

    kind: ClassVar[str] = "session_opened"
    name: str
    code: str
    units: str


class LotReceived(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One purchase of one food was looked at: accepted, quarantined or refused."""

    kind: ClassVar[str] = "lot_received"
    lot: str
    food: str
    food_name: str
    mass_g: float
    supplier_lot: str
    verdict: LotVerdict
    seen: str = ""


class LotLookedAt(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A lot of the book was looked at again; the newest verdict holds. `seen` is why."""

    kind: ClassVar[str] = "lot_looked_at"
    lot: str
    food_name: str
    verdict: LotVerdict
    seen: str


class PlanAgreed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The plan lines were agreed. A later one replaces an earlier one."""

    kind: ClassVar[str] = "plan_agreed"
    lines: tuple[AgreedLine, ...]
    numbered: bool
    elevation_m: float
    packing_temp_c: float
    pack_at: datetime | None = None
