"""The whole temperature field of a body in eigenfunctions, carried through steps exactly.

While the surroundings stay as they are, the field's excess over them is a sum of products of
eigenfunctions, one factor a direction, and each product fades by itself. A step in air
temperature adds a uniform field; a step in surface coefficient rewrites the field in the new
eigenfunctions. Both are exact, so that no time stepping is needed.

What each of the latest steps in air temperature added is kept as one product of rows, one row a
direction; what is older goes into a table of those products that have not faded yet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packdesk.physics.heat_profiles import Kind, Profile, profile
from packdesk.physics.ranges import Floats

_SECONDS_IN_HOUR = 3600.0
_FADED = 20.0
"""A part that has fallen by e to this power (2e-9) no longer shows."""
_SAME = 1e-6
"""Coefficients closer than this are one: the roots of two such differ by too few digits."""
MOST_MODES = 64
_FEWEST_MODES = 3
_ROWS_KEPT = 6
"""A table costs about as much as this many products of rows."""


@dataclass(frozen=True, slots=True)
class Axis:
    """One direction of every member: lengths in m, diffusivity in m²/s, shapes (members,)."""

    kind: Kind
    half_length_m: Floats
    diffusivity_m2_s: Floats
    conductivity_w_m_k: Floats
    coefficient_factor: Floats

    def profile(self, coefficient_w_m2_k: float, modes: int) -> Profile:
        """The eigenfunctions of this direction under one surface coefficient."""
        film = coefficient_w_m2_k * self.coefficient_factor
        return profile(self.kind, film * self.half_length_m / self.conductivity_w_m_k, modes)

    @property
    def rate_per_h(self) -> Floats:
        """What a squared root is multiplied by to give the fading of its part in one hour."""
        return self.diffusivity_m2_s / self.half_length_m**2 * _SECONDS_IN_HOUR

    def modes_after(self, since_h: float) -> int:
        """How many eigenfunctions still show so long after a step, at most 64.

        Sixty-four carry a pail from half a minute after a step on, to 0.005 K in a freezer or a
        room; ten seconds after it core and surface are told 0.05 K off, one second after it 0.2 K
        and 0.6 K. The mean is right at once.
        """
        if since_h <= 0.0:
            return MOST_MODES
        roots = np.sqrt(_FADED / (float(self.rate_per_h.min()) * since_h)) / np.pi
        return int(np.clip(np.ceil(roots) + 1, _FEWEST_MODES, MOST_MODES))


Place = tuple[Floats, ...]
"""For each direction, the value there of every eigenfunction, shape (members, modes)."""


class Field:
    """The temperature of every member during one step of the surroundings, and then the next.

    ``shortest_h`` is the least time after the beginning of any step at which the field will be
    read or stepped on; it settles how many eigenfunctions are carried.
    """

    def __init__(
        self,
        axes: Sequence[Axis],
        start_temp_c: float,
        air_temp_c: float,
        coefficient_w_m2_k: float,
        shortest_h: float,
    ) -> None:
        self._axes = tuple(axes)
        self._modes = tuple(axis.modes_after(shortest_h) for axis in axes)
        self._coefficient = coefficient_w_m2_k
        self._air_temp_c = air_temp_c
        self._profiles = self._profiles_for(coefficient_w_m2_k)
        self._rows = self._uniform(start_temp_c - air_temp_c)
        self._table: Floats | None = None

    @property
    def profiles(self) -> tuple[Profile, ...]:
        """The eigenfunctions of each direction in the present step."""
        return self._profiles

    def temperatures_c(self, places: Sequence[Place], since_h: Floats) -> Floats:
        """The temperature at each of ``places``, shape (places, members, times).

        ``since_h`` counts from the beginning of the present step and rises; the higher
        eigenfunctions are left out once they have faded.
        """
        stacked = [np.stack(each, axis=1) for each in zip(*places, strict=True)]
        members = len(stacked[0])
        out = np.empty((len(places), members, len(since_h)))
        begin = 0
        while begin < len(since_h):
            until = since_h[begin] * 2.0
            end = max(int(np.searchsorted(since_h, until, side="right")), begin + 1)
            lasting = self._lasting(since_h[begin:end])
            here = [at[:, :, : left.shape[1]] for at, left in zip(stacked, lasting, strict=True)]
            excess = _of_rows(self._rows, here, lasting)
            if self._table is not None:
                excess += _of_table(self._table, here, lasting)
            out[:, :, begin:end] = excess.transpose(1, 0, 2) + self._air_temp_c
            begin = end
        return out

    def step(self, after_h: float, air_temp_c: float, coefficient_w_m2_k: float) -> None:
        """Go on to the next step of the surroundings, ``after_h`` after this one began."""
        left = [each[:, :, 0] for each in self._lasting(np.array([after_h]))]
        self._rows = [_faded_rows(*both) for both in zip(self._rows, left, strict=True)]
        if self._table is not None:
            self._table = _faded_table(self._table, left)
        if self._rows[0].shape[1] > (_ROWS_KEPT if len(left) > 1 else 0):
            self._table = _joined(self._table, self._rows)
            self._rows = [row[:, :0] for row in self._rows]
        if not math.isclose(coefficient_w_m2_k, self._coefficient, rel_tol=_SAME):
            self._rewrite(coefficient_w_m2_k)
        if air_temp_c != self._air_temp_c:
            added = self._uniform(self._air_temp_c - air_temp_c)
            self._rows = [_stacked(*both) for both in zip(self._rows, added, strict=True)]
            self._air_temp_c = air_temp_c

    def _rewrite(self, coefficient_w_m2_k: float) -> None:
        """Say the same field in the eigenfunctions of another surface coefficient."""
        before, self._profiles = self._profiles, self._profiles_for(coefficient_w_m2_k)
        self._coefficient = coefficient_w_m2_k
        matrices = [new.from_other(old) for old, new in zip(before, self._profiles, strict=True)]
        self._rows = [
            row @ matrix[:, : row.shape[2]]
            for row, matrix in zip(self._rows, matrices, strict=True)
        ]
        for at, matrix in enumerate(matrices):
            if self._table is not None:
                self._table = _rewritten(self._table, at, matrix)

    def _profiles_for(self, coefficient_w_m2_k: float) -> tuple[Profile, ...]:
        return tuple(
            axis.profile(coefficient_w_m2_k, modes)
            for axis, modes in zip(self._axes, self._modes, strict=True)
        )

    def _uniform(self, excess_k: float) -> list[Floats]:
        first, *others = (each.of_uniform()[:, None, :] for each in self._profiles)
        return [first * excess_k, *others]

    def _lasting(self, since_h: Floats) -> list[Floats]:
        """What is left of each eigenfunction, shape (members, modes that show, times)."""
        left = []
        for axis, each in zip(self._axes, self._profiles, strict=True):
            shown = min(axis.modes_after(float(since_h[0])), each.roots.shape[1])
            fading = each.roots[:, :shown] ** 2 * axis.rate_per_h[:, None]
            left.append(np.exp(fading[:, :, None] * -since_h))
        return left


def _of_rows(rows: list[Floats], here: list[Floats], lasting: list[Floats]) -> Floats:
    """What the products of rows come to at each place, shape (members, places, times)."""
    members, places = here[0].shape[:2]
    product = np.ones(())
    for row, at, left in zip(rows, here, lasting, strict=True):
        shown = min(row.shape[2], left.shape[1])
        weighted = row[:, None, :, :shown] * at[:, :, None, :shown]
        factor = weighted.reshape(members, places * row.shape[1], shown) @ left[:, :shown]
        product = product * factor.reshape(members, places, row.shape[1], left.shape[2])
    return np.asarray(product.sum(axis=2))


def _of_table(table: Floats, here: list[Floats], lasting: list[Floats]) -> Floats:
    """What the table comes to at each place, summed from the last direction to the first."""
    members, places = here[0].shape[:2]
    shown = [min(size, each.shape[1]) for size, each in zip(table.shape[1:], lasting, strict=True)]
    factors = [
        at[:, :, :size].transpose(0, 2, 1)[..., None] * left[:, :size, None]
        for at, left, size in zip(here, lasting, shown, strict=True)
    ]
    last = factors[-1].reshape(members, shown[-1], -1)
    part = table[_corner(shown)].reshape(members, -1, shown[-1]) @ last
    for factor in reversed(factors[:-1]):
        part = np.einsum("mrnpt,mnpt->mrpt", part.reshape(members, -1, *factor.shape[1:]), factor)
    return np.asarray(part.reshape(members, places, -1))


def _faded_rows(rows: Floats, left: Floats) -> Floats:
    shown = min(rows.shape[2], left.shape[1])
    return np.asarray(rows[:, :, :shown] * left[:, None, :shown])


def _faded_table(table: Floats, left: Sequence[Floats]) -> Floats:
    kept = table[_corner([each.shape[1] for each in left])].copy()
    for at, each in enumerate(left):
        shape = [len(each)] + [1] * len(left)
        shape[at + 1] = kept.shape[at + 1]
        kept *= each[:, : kept.shape[at + 1]].reshape(shape)
    return kept


def _joined(table: Floats | None, rows: Sequence[Floats]) -> Floats:
    """One table for a table and the products of rows."""
    letters = "ijk"[: len(rows)]
    factors = ",".join(f"ms{letter}" for letter in letters)
    added: Floats = np.einsum(f"{factors}->m{letters}", *rows, optimize=True)
    if table is None:
        return added
    both = np.zeros(np.maximum(table.shape, added.shape))
    both[_corner(table.shape[1:])] += table
    both[_corner(added.shape[1:])] += added
    return both


def _stacked(rows: Floats, added: Floats) -> Floats:
    """One more row below the rows, which may have lost their faded ends."""
    members, count, shown = rows.shape
    both = np.zeros((members, count + 1, added.shape[2]))
    both[:, :count, :shown] = rows
    both[:, count:] = added
    return both


def _rewritten(table: Floats, at: int, matrix: Floats) -> Floats:
    """The table with its direction ``at`` written in other eigenfunctions."""
    moved = np.moveaxis(table, at + 1, -1)
    rows = moved.reshape(len(table), -1, moved.shape[-1]) @ matrix[:, : moved.shape[-1], :]
    return np.moveaxis(rows.reshape(*moved.shape[:-1], matrix.shape[2]), -1, at + 1)


def _corner(sizes: Sequence[int]) -> tuple[slice, ...]:
    return (slice(None), *(slice(size) for size in sizes))
