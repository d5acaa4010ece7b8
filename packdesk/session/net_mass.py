"""What a pouch holds: as it was weighed, as its fellows weigh, or as it was planned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import sqrt
from statistics import fmean, stdev

from packdesk.session.figures import AgreedLine
from packdesk.session.once import once
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState

ENOUGH_WEIGHED = 3
"""So many weighed pouches stand for those that were not; fewer tell too little of the spread."""

AS_GOOD_AS_FULL = 0.05
"""A last pouch short of the others by no more than this share is one of them (own judgement)."""


class Basis(Enum):
    """Where the mass of a pouch is known from."""

    WEIGHED = "weighed"
    MEAN = "mean of its line"
    PLANNED = "planned"


@dataclass(frozen=True, slots=True)
class NetMass:
    """Mass of food in a pouch (g); `spread_g` is the standard deviation of its line, if a mean."""

    mass_g: float
    basis: Basis
    spread_g: float = 0.0


@dataclass(frozen=True, slots=True)
class LineMean:
    """Mean and sample standard deviation (g) of `weighed` pouches of one plan line."""

    mean_g: float
    spread_g: float
    weighed: int

    @property
    def uncertain_g(self) -> float:
        """Standard error of the mean (g)."""
        return self.spread_g / sqrt(self.weighed)


def net_mass_g(session: SessionState, line: AgreedLine, pouch: Pouch) -> float:
    """The mass of food in `pouch` (g), by the best that is known of it."""
    return net_mass(session, line, pouch).mass_g


def net_mass(session: SessionState, line: AgreedLine, pouch: Pouch) -> NetMass:
    """The mass of food in `pouch` and where it is known from.

    Of a plan that does not come out even the pouch filled last holds what was left.
    """
    if pouch.net_mass_g is not None:
        return NetMass(pouch.net_mass_g, Basis.WEIGHED)
    last = last_left_g(session, line)
    if last is not None and pouch.number == last[0]:
        return NetMass(last[1], Basis.PLANNED)
    found = line_mean(session, line.line)
    if found is None:
        return NetMass(line.fill_mass_g, Basis.PLANNED)
    return NetMass(found.mean_g, Basis.MEAN, found.spread_g)


@once
def last_left_g(session: SessionState, line: AgreedLine) -> tuple[int, float] | None:
    """The pouch filled last and what was left for it (g), where that is less than the others hold.

    As planned, until pouches were weighed or food was lost; then what the others did not take, if
    that can go into one pouch. None before the last is filled, and where it is one of the others.
    """
    last = last_number(session, line)
    planned_g = line.last_fill_mass_g or line.fill_mass_g
    if not learned(session, line):
        return None if last is None else (last, planned_g)
    filled = session.working_pouches(line.line)
    number = filled[-1].number if filled and len(filled) == line.count else None
    if number is None:
        return None
    mean = line_mean(session, line.line)
    each_g = mean.mean_g if mean is not None else line.fill_mass_g
    others_g = sum(
        each_g if pouch.net_mass_g is None else pouch.net_mass_g
        for pouch in held_pouches(session, line)
        if pouch.number != number
    )
    left_g = line.mass_g - session.lost_g.get(line.line, 0.0) - others_g
    if 0.0 < left_g < (1.0 - AS_GOOD_AS_FULL) * each_g:
        return number, left_g
    return None if last is None else (last, each_g if left_g > 0.0 else planned_g)


def learned(session: SessionState, line: AgreedLine) -> bool:
    """Whether there is more to go by than the plan: a mass, food lost, food set aside."""
    return session.lost_g.get(line.line, 0.0) > 0.0 or any(
        pouch.net_mass_g is not None or pouch.aside for pouch in held_pouches(session, line)
    )


def held_pouches(session: SessionState, line: AgreedLine) -> Sequence[Pouch]:
    """The pouches of a line that hold food, those set aside with theirs among them."""
    return [p for p in session.pouches.values() if p.line == line.line and not p.emptied]


def last_number(session: SessionState, line: AgreedLine) -> int | None:
    """The pouch that holds less than the others by plan, once it is filled."""
    last_g = line.last_fill_mass_g
    if last_g is None or last_g >= line.to_hold_g:
        return None
    filled = session.working_pouches(line.line)
    return filled[-1].number if len(filled) == line.count else None


def line_mean(session: SessionState, line: int) -> LineMean | None:
    """Mean and spread of the weighed pouches of a plan line; None while too few were weighed."""
    masses = like_masses(session, line)
    if len(masses) < ENOUGH_WEIGHED:
        return None
    return LineMean(fmean(masses), stdev(masses), len(masses))


def like_masses(session: SessionState, line: int) -> Sequence[float]:
    """Masses (g) of the weighed pouches of a line that are meant to be alike.

    Left out are emptied ones, those confirmed to be unlike the rest, and a last one that holds
    less by plan.
    """
    found = session.plan.line(line) if session.plan is not None else None
    last = last_number(session, found) if found is not None else None
    return [
        pouch.net_mass_g
        for pouch in session.pouches.values()
        if pouch.line == line
        and pouch.net_mass_g is not None
        and not pouch.emptied
        and not pouch.mass_confirmed
        and pouch.number != last
    ]
