"""What happened once pouches were sealed: stowed, checked, set aside, the session closed."""

from __future__ import annotations

from typing import ClassVar
from uuid import UUID

from packdesk.session.fact import BookFact, Fact
from packdesk.session.terms import SealVerdict


class PouchesStowed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches were put into a pail."""

    kind: ClassVar[str] = "pouches_stowed"
    pail: str
    pouches: tuple[int, ...]


class PailLidded(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The lid went on a pail; `net_mass_g` is what its pouches hold together."""

    kind: ClassVar[str] = "pail_lidded"
    pail: str
    net_mass_g: float


class PailOpened(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The lid came off a pail again, for a pouch to be put back or looked at."""

    kind: ClassVar[str] = "pail_opened"
    pail: str


class SealChecked(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Seams were checked: how the pouches felt. A swollen one is thereby set aside for good."""

    kind: ClassVar[str] = "seal_checked"
    session: UUID
    pouches: tuple[int, ...]
    verdict: SealVerdict


class PouchesSetAside(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches left the line of work for a reason; `emptied`: their food went back to the lot."""

    kind: ClassVar[str] = "pouches_set_aside"
    pouches: tuple[int, ...]
    emptied: bool
    reason: str


class PouchesReturned(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Pouches set aside came back to the work: open again, to be shut or sealed anew."""

    kind: ClassVar[str] = "pouches_returned"
    pouches: tuple[int, ...]


class SessionClosed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The session is finished."""

    kind: ClassVar[str] = "session_closed"
    remark: str = ""
