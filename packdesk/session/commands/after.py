"""Orders once pouches are sealed: stow, check, set aside, close the session."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.commands.command import Command
from packdesk.session.terms import SealVerdict


@dataclass(frozen=True, slots=True)
class StowPouches(Command):
    """Pouches went into a pail."""

    pail: str
    pouches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class LidPail(Command):
    """The lid went on a pail."""

    pail: str


@dataclass(frozen=True, slots=True)
class OpenPail(Command):
    """The lid came off a pail again."""

    pail: str


@dataclass(frozen=True, slots=True)
class CheckSeals(Command):
    """Pouches were pressed and looked at."""

    pouches: tuple[int, ...]
    verdict: SealVerdict


@dataclass(frozen=True, slots=True)
class SetAside(Command):
    """Pouches leave the work for a reason; `emptied`: their food went back."""

    pouches: tuple[int, ...]
    reason: str
    emptied: bool = False


@dataclass(frozen=True, slots=True)
class ReturnPouches(Command):
    """Pouches set aside come back, open, to be shut or sealed anew."""

    pouches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CloseSession(Command):
    """Finish the session. `confirmed`: what is still under way is left to itself."""

    remark: str = ""
    confirmed: bool = False
