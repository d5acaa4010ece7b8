"""Orders about loads in the freezer and in the room."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.physics.plain_rule import RULE_AT_C, RULE_HELD_H
from packdesk.session.commands.command import Command
from packdesk.session.figures import LoadFigures
from packdesk.session.terms import ColdRule, Probe


@dataclass(frozen=True, slots=True)
class FreezeLoad(Command):
    """Put a closed container of a lot into the freezer.

    `confirmed`, here and below: what was questioned is so all the same.
    """

    lot: str
    container: str
    container_name: str
    mass_g: float
    figures: LoadFigures
    treat_c: float = RULE_AT_C
    hold_h: float = RULE_HELD_H
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class BypassCold(Command):
    """Let a lot go without cold treatment, for a reason."""

    lot: str
    reason: str


@dataclass(frozen=True, slots=True)
class NoteCoreReading(Command):
    """Note what a probe in, or on the wall of, a load showed."""

    load: str
    temp_c: float
    probe: Probe = Probe.CORE
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class NoteFreezerReading(Command):
    """Note what a freezer's own thermometer showed."""

    temp_c: float
    freezer: int = 1
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class ChooseColdRule(Command):
    """Say which rule the cold is complete by: the plain hold, or the dose of the insects."""

    rule: ColdRule


@dataclass(frozen=True, slots=True)
class NoteRoomReading(Command):
    """Note room temperature and, if read, relative humidity (0 to 1)."""

    temp_c: float
    relative_humidity: float | None = None
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class TakeLoadOut(Command):
    """Take a load out of the freezer, lid on; a reason when its hold is not complete."""

    load: str
    room_c: float
    room_relative_humidity: float | None = None
    reason: str = ""
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class UncoverLoad(Command):
    """Take the lid off a warmed load; a reason when its food may still be too cold."""

    load: str
    reason: str = ""
