"""How heat soaks into one direction of a body: exact eigenfunctions across a slab or a cylinder.

A pail, a bag and a box are products of such directions. Lengths are counted from the middle
(0) to the surface (1); temperatures are excesses over the surroundings.

Every eigenfunction is scaled to 1 at the surface. With that scale the coefficients that carry a
field from one surface coefficient to another need no integrals: two eigenfunctions u, v of the
roots m, n for Biot numbers B and C satisfy (m² − n²) ∫ u v dV = B − C, which is Green's second
identity with both surface conditions put in. A uniform field is the case m = 0, B = 0.

Source: H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., Oxford 1959, sections
3.11 (slab) and 7.7 (cylinder), from memory; the identity follows from the equations themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from functools import cache, cached_property, lru_cache

import numpy as np

from packdesk.physics.ranges import Floats

_NEWTON_STEPS = 5
"""One more than the slowest root (Biot numbers from 1e-9 to 1e9) was seen to need."""


class Kind(IntEnum):
    """A direction of a body, valued by the power that volume grows with along it."""

    SLAB = 1
    CYLINDER = 2


@dataclass(frozen=True)
class Profile:
    """The eigenfunctions of one direction under one surface coefficient, for every member.

    ``biot`` has shape (members, 1) and is h·L/k with L the half thickness or the radius;
    ``roots`` has shape (members, modes) and rises along each row.
    """

    kind: Kind
    biot: Floats
    roots: Floats

    @cached_property
    def norms(self) -> Floats:
        """The integral of each eigenfunction squared over the direction's volume."""
        flat = (2 - self.kind) * self.biot
        return (self.roots**2 + self.biot**2 + flat) / (2.0 * self.roots**2)

    @cached_property
    def at_centre(self) -> Floats:
        """Each eigenfunction in the middle."""
        if self.kind is Kind.SLAB:
            signs = 1.0 - 2.0 * (np.arange(self.roots.shape[1]) % 2)
            return np.asarray(signs * np.hypot(1.0, self.biot / self.roots))
        from scipy.special import j0, j1

        # At the surface J0 = m J1 / B: of the two forms, take the one that is not near zero.
        by_slope = self.roots * j1(self.roots) / np.maximum(self.biot, 1.0)
        surface = np.where(self.biot > 1.0, by_slope, j0(self.roots))
        return np.asarray(1.0 / surface)

    @property
    def at_surface(self) -> Floats:
        """Each eigenfunction at the surface: 1 by choice of scale."""
        return np.ones_like(self.roots)

    @property
    def on_average(self) -> Floats:
        """Each eigenfunction averaged over the direction's volume."""
        return self.kind * self.biot / self.roots**2

    def at(self, place: float) -> Floats:
        """Each eigenfunction at ``place``, from 0 in the middle to 1 at the surface."""
        if self.kind is Kind.SLAB:
            return np.asarray(np.cos(self.roots * place) * self.at_centre)
        from scipy.special import j0

        return np.asarray(j0(self.roots * place) * self.at_centre)

    def of_uniform(self) -> Floats:
        """How much of each eigenfunction makes up a field that is 1 everywhere."""
        return self.biot / self.roots**2 / self.norms

    def from_other(self, other: Profile) -> Floats:
        """How much of each of these eigenfunctions makes up each one of ``other``.

        Shape (members, modes of other, modes of this); good for different Biot numbers only.
        """
        apart = other.roots[:, :, None] ** 2 - self.roots[:, None, :] ** 2
        return np.asarray((other.biot - self.biot)[:, :, None] / apart / self.norms[:, None, :])


def profile(kind: Kind, biot: Floats, modes: int) -> Profile:
    """The first ``modes`` eigenfunctions of a direction for each Biot number of ``biot``."""
    column = biot.reshape(-1, 1)
    return Profile(kind, column, _roots(kind, column.tobytes(), modes))


@lru_cache(maxsize=16)
def _roots(kind: Kind, biot: bytes, modes: int) -> Floats:
    """The roots for a column of Biot numbers: the same loads are asked about again and again."""
    column = np.frombuffer(biot).reshape(-1, 1)
    roots = _slab_roots(column, modes) if kind is Kind.SLAB else _cylinder_roots(column, modes)
    roots.flags.writeable = False
    return roots


def _slab_roots(biot: Floats, modes: int) -> Floats:
    """Solve m tan m = B, one root to each half turn.

    Written as d = atan(B / (i·pi + d)) for the part d of the root beyond i·pi, the difference of
    both sides rises and is concave in d, so that Newton's method cannot leave the bracket.
    """
    turns = np.pi * np.arange(modes)
    beyond = np.sqrt(biot / (1.0 + biot * (4.0 / np.pi**2)))
    beyond = np.where(turns > 0.0, np.arctan2(biot, turns + 0.5), beyond)
    for _ in range(_NEWTON_STEPS):
        roots = turns + beyond
        error = beyond - np.arctan2(biot, roots)
        beyond = np.maximum(beyond - error / (1.0 + biot / (biot**2 + roots**2)), 1e-300)
    return np.asarray(turns + beyond)


def _cylinder_roots(biot: Floats, modes: int) -> Floats:
    """Solve m J1(m) = B J0(m), one root between each zero of J1 and the next of J0.

    The phase atan(J1 / J0) rises almost in a straight line across that interval, and where it
    meets atan(B / m) is the root: the slab's equation again, with the same good manners.
    """
    from scipy.special import j0, j1

    low, high = _bessel_zeros(modes)
    first = np.sqrt(2.0 * biot / (1.0 + 2.0 * biot / high[0] ** 2))
    roots = np.where(low > 0.0, low + np.arctan2(biot, low + 0.5), first)
    for _ in range(_NEWTON_STEPS):
        value, slope = np.abs(j0(roots)), np.abs(j1(roots))
        error = np.arctan2(slope, value) - np.arctan2(biot, roots)
        rise = 1.0 - value * slope / (roots * (value**2 + slope**2))
        roots = roots - error / (rise + biot / (biot**2 + roots**2))
        roots = np.clip(roots, np.maximum(low, 1e-300), high)
    return np.asarray(roots)


@cache
def _bessel_zeros(modes: int) -> tuple[Floats, Floats]:
    """The zeros of J1, the one at nought included, and of J0."""
    from scipy.special import jn_zeros

    return np.concatenate([[0.0], jn_zeros(1, modes)])[:modes], jn_zeros(0, modes)
