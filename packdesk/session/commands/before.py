"""Orders before any food is cold: a session, its lots, the plan."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from packdesk.session.commands.command import Command
from packdesk.session.figures import AgreedLine
from packdesk.session.terms import LotVerdict


@dataclass(frozen=True, slots=True)
class OpenSession(Command):
    """Begin a packing project; `units` is metric or us, `code` stands on its labels."""

    name: str
    units: str
    code: str


@dataclass(frozen=True, slots=True)
class ReceiveLot(Command):
    """Take a purchase of one food into the book, as looked at."""

    food: str
    food_name: str
    mass_g: float
    supplier_lot: str = ""
    verdict: LotVerdict = LotVerdict.ACCEPTED
    seen: str = ""


@dataclass(frozen=True, slots=True)
class LookAtLot(Command):
    """Look at a lot of the book again: what it is found to be now, and what was seen."""

    lot: str
    verdict: LotVerdict
    seen: str


@dataclass(frozen=True, slots=True)
class AgreePlan(Command):
    """Settle the plan lines with the figures they were shown with."""

    lines: tuple[AgreedLine, ...]
    numbered: bool
    elevation_m: float
    packing_temp_c: float
    pack_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class RevisePlan(Command):
    """Plan another number of pouches of a plan line, as many as what is left will fill."""

    line: int
    count: int
