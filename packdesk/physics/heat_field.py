"""The whole temperature field of a body in eigenfunctions, carried through steps exactly.

While the surroundings stay as they are, the field's excess over them is a sum of products of
eigenfunctions, one factor a direction, and each product fades by itself. A step in air
temperature adds a uniform field; a step in surface coefficient rewrites the field in the new
eigenfunctions. Both are exact, so that no time stepping is needed.

What each of the latest steps in air temperature added is kept as one product of single rows;
what is older goes into a table of those products that have not faded yet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packdesk.physics.heat_profiles import Kind, Profile, profile
from packdesk.physics.ranges import Floats

_SECONDS_IN_HOUR = 3600.0
_FADED = 20.0
"""A part that has fallen by e to this power (2e-9) no longer shows."""
_MOST_MODES = 64
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

        Sixty-four carry a pail from two minutes after a step on; sooner than that its surface is
        told less finely (a few tenths of a kelvin), its core and mean are not.
        """
        if since_h <= 0.0:
            return _MOST_MODES
        roots = np.sqrt(_FADED / (float(self.rate_per_h.min()) * since_h)) / np.pi
        return int(np.clip(np.ceil(roots) + 1, _FEWEST_MODES, _MOST_MODES))


Place = tuple[Floats, ...]
"""For each direction, the value there of every eigenfunction, shape (members, modes)."""

Rows = tuple[Floats, ...]
"""For each direction, how much of every eigenfunction there is, shape (members, modes)."""


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
        self._recent = [self._uniform(start_temp_c - air_temp_c)]
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
        members = len(self._axes[0].half_length_m)
        out = np.full((len(places), members, len(since_h)), float(self._air_temp_c))
        begin = 0
        while begin < len(since_h):
            until = since_h[begin] * 2.0
            end = max(int(np.searchsorted(since_h, until, side="right")), begin + 1)
            lasting = self._lasting(since_h[begin:end])
            for at, place in enumerate(places):
                out[at, :, begin:end] += self._excess_k(place, lasting)
            begin = end
        return out

    def step(self, after_h: float, air_temp_c: float, coefficient_w_m2_k: float) -> None:
        """Go on to the next step of the surroundings, ``after_h`` after this one began."""
        left = [each[:, :, 0] for each in self._lasting(np.array([after_h]))]
        self._recent = [_faded_rows(rows, left) for rows in self._recent]
        if self._table is not None:
            self._table = _faded_table(self._table, left)
        while len(self._recent) > (_ROWS_KEPT if len(left) > 1 else 0):
            self._table = _joined(self._table, self._recent.pop(0))
        if coefficient_w_m2_k != self._coefficient:
            self._rewrite(coefficient_w_m2_k)
        if air_temp_c != self._air_temp_c:
            self._recent.append(self._uniform(self._air_temp_c - air_temp_c))
            self._air_temp_c = air_temp_c

    def _rewrite(self, coefficient_w_m2_k: float) -> None:
        """Say the same field in the eigenfunctions of another surface coefficient."""
        before, self._profiles = self._profiles, self._profiles_for(coefficient_w_m2_k)
        self._coefficient = coefficient_w_m2_k
        matrices = [new.from_other(old) for old, new in zip(before, self._profiles, strict=True)]
        self._recent = [
            tuple(
                (row[:, None, :] @ matrix[:, : row.shape[1]])[:, 0, :]
                for row, matrix in zip(rows, matrices, strict=True)
            )
            for rows in self._recent
        ]
        for at, matrix in enumerate(matrices):
            if self._table is not None:
                self._table = _rewritten(self._table, at, matrix)

    def _profiles_for(self, coefficient_w_m2_k: float) -> tuple[Profile, ...]:
        return tuple(
            axis.profile(coefficient_w_m2_k, modes)
            for axis, modes in zip(self._axes, self._modes, strict=True)
        )

    def _uniform(self, excess_k: float) -> Rows:
        first, *others = (each.of_uniform() for each in self._profiles)
        return (first * excess_k, *others)

    def _lasting(self, since_h: Floats) -> list[Floats]:
        """What is left of each eigenfunction, shape (members, modes that show, times)."""
        left = []
        for axis, each in zip(self._axes, self._profiles, strict=True):
            shown = min(axis.modes_after(float(since_h[0])), each.roots.shape[1])
            fading = each.roots[:, :shown] ** 2 * axis.rate_per_h[:, None]
            left.append(np.exp(fading[:, :, None] * -since_h))
        return left

    def _excess_k(self, place: Place, lasting: list[Floats]) -> Floats:
        """How far a place is above the air, shape (members, times)."""
        times = lasting[0].shape[2]
        here = [at[:, : left.shape[1]] for at, left in zip(place, lasting, strict=True)]
        total = np.zeros((len(here[0]), times))
        for rows in self._recent:
            product = np.ones_like(total)
            for row, at, each in zip(rows, here, lasting, strict=True):
                shown = min(row.shape[1], each.shape[1])
                weighted = (row[:, :shown] * at[:, :shown])[:, None, :]
                product *= (weighted @ each[:, :shown])[:, 0, :]
            total += product
        if self._table is not None:
            total += _contracted(self._table, here, lasting)
        return total


def _faded_rows(rows: Rows, left: Sequence[Floats]) -> Rows:
    pairs = [
        (row, each, min(row.shape[1], each.shape[1])) for row, each in zip(rows, left, strict=True)
    ]
    return tuple(row[:, :shown] * each[:, :shown] for row, each, shown in pairs)


def _faded_table(table: Floats, left: Sequence[Floats]) -> Floats:
    kept = table[_corner([each.shape[1] for each in left])].copy()
    for at, each in enumerate(left):
        shape = [len(each)] + [1] * len(left)
        shape[at + 1] = kept.shape[at + 1]
        kept *= each[:, : kept.shape[at + 1]].reshape(shape)
    return kept


def _joined(table: Floats | None, rows: Rows) -> Floats:
    """One table for a table and a product of rows."""
    added = rows[0]
    for row in rows[1:]:
        added = added[..., None] * row.reshape(len(row), *[1] * (added.ndim - 1), -1)
    if table is None:
        return added
    sizes = np.maximum(table.shape, added.shape)
    both = np.zeros(sizes)
    both[_corner(table.shape[1:])] += table
    both[_corner(added.shape[1:])] += added
    return both


def _corner(sizes: Sequence[int]) -> tuple[slice, ...]:
    return (slice(None), *(slice(size) for size in sizes))


def _contracted(table: Floats, here: list[Floats], lasting: list[Floats]) -> Floats:
    """Sum a table of products at one place, from the last direction to the first."""
    shown = [min(size, each.shape[1]) for size, each in zip(table.shape[1:], lasting, strict=True)]
    part = table[_corner(shown)]
    members, times = len(table), lasting[0].shape[2]
    last = here[-1][:, : shown[-1], None] * lasting[-1][:, : shown[-1]]
    part = part.reshape(members, -1, shown[-1]) @ last
    for at in reversed(range(len(here) - 1)):
        factor = here[at][:, : shown[at], None] * lasting[at][:, : shown[at]]
        rows = part.reshape(members, -1, shown[at], times)
        part = np.einsum("mrit,mit->mrt", rows, factor)
    return np.asarray(part.reshape(members, times))


def _rewritten(table: Floats, at: int, matrix: Floats) -> Floats:
    """The table with its direction ``at`` written in other eigenfunctions."""
    moved = np.moveaxis(table, at + 1, -1)
    rows = moved.reshape(len(table), -1, moved.shape[-1]) @ matrix[:, : moved.shape[-1], :]
    return np.moveaxis(rows.reshape(*moved.shape[:-1], matrix.shape[2]), -1, at + 1)
