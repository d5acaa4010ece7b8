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

ROUNDED_TO_G = 0.05
"""The masses of a plan line are rounded to 0.1 g: each may be so much beside the mark."""


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

    The pouch filled last holds what was left for it, where that was less.
    """
    if pouch.net_mass_g is not None:
        return NetMass(pouch.net_mass_g, Basis.WEIGHED)
    each_g = _each_g(session, line)
    if pouch.left_g is not None and pouch.left_g < each_g:
        return NetMass(pouch.left_g, Basis.PLANNED)
    found = line_mean(session, line.line)
    if found is None:
        return NetMass(line.fill_mass_g, Basis.PLANNED)
    return NetMass(found.mean_g, Basis.MEAN, found.spread_g)


def _each_g(session: SessionState, line: AgreedLine) -> float:
    mean = line_mean(session, line.line)
    return mean.mean_g if mean is not None else line.fill_mass_g


def held_g(pouch: Pouch, each_g: float) -> float:
    """What a pouch holds (g), where one of the line that was not weighed is taken for `each_g`."""
    if pouch.net_mass_g is not None:
        return pouch.net_mass_g
    return each_g if pouch.left_g is None else min(each_g, pouch.left_g)


@dataclass(frozen=True, slots=True)
class FillSums:
    """What a full pouch of a line is taken to hold (g), and what is left of the line (g).

    `left_g` is below zero where more was weighed, or lost, than the line had; `rounded_g` is what
    rounded figures of the plan may come to.
    """

    each_g: float
    left_g: float
    rounded_g: float


def fill_sums(session: SessionState, line: AgreedLine) -> FillSums:
    """Add up a plan line in one pass: asked at every pouch that is filled, so made to be quick."""
    weighed_g = like_g = 0.0
    like = unweighed = 0
    short: list[float] = []
    number = line.line
    for pouch in session.pouches.values():
        if pouch.line != number:
            continue
        mass_g = pouch.net_mass_g
        if mass_g is not None:
            if pouch.left_g is None and not pouch.mass_confirmed:
                like_g += mass_g
                like += 1
            if not pouch.emptied:
                weighed_g += mass_g
        elif not pouch.emptied:
            if pouch.left_g is None:
                unweighed += 1
            else:
                short.append(pouch.left_g)
    each_g = like_g / like if like >= ENOUGH_WEIGHED else line.fill_mass_g
    held = weighed_g + unweighed * each_g + sum(min(each_g, left_g) for left_g in short)
    left_g = line.mass_g - session.lost_g.get(number, 0.0) - held
    return FillSums(each_g, left_g, ROUNDED_TO_G * (line.count + 1))


def learned(session: SessionState, line: AgreedLine) -> bool:
    """Whether there is more to go by than the plan: a mass, food lost, food set aside."""
    return session.lost_g.get(line.line, 0.0) > 0.0 or any(
        pouch.net_mass_g is not None or pouch.aside for pouch in held_pouches(session, line)
    )


def held_pouches(session: SessionState, line: AgreedLine) -> Sequence[Pouch]:
    """The pouches of a line that hold food, those set aside with theirs among them."""
    return [p for p in session.pouches.values() if p.line == line.line and not p.emptied]


@once
def line_mean(session: SessionState, line: int) -> LineMean | None:
    """Mean and spread of the weighed pouches of a plan line; None while too few were weighed."""
    masses = like_masses(session, line)
    if len(masses) < ENOUGH_WEIGHED:
        return None
    return LineMean(fmean(masses), stdev(masses), len(masses))


def like_masses(session: SessionState, line: int) -> Sequence[float]:
    """Masses (g) of the weighed pouches of a line that are meant to be alike.

    Left out are those confirmed to be unlike the rest, and a last one for which less was left. One
    that was emptied since still tells how full the others are.
    """
    return [
        pouch.net_mass_g
        for pouch in session.pouches.values()
        if pouch.line == line
        and pouch.net_mass_g is not None
        and pouch.left_g is None
        and not pouch.mass_confirmed
    ]
