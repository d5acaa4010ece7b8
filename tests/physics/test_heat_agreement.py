"""The closed form against two numerical solutions that know nothing of eigenfunctions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import sparse
from scipy.integrate import solve_ivp
from scipy.sparse.linalg import splu

from packdesk.physics.heat import (
    Box,
    Cylinder,
    Filling,
    Slab,
    Surroundings,
    temperatures_c,
)

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Grid:
    """Cells from the middle of a direction to its surface, the finer the closer to the surface."""

    half_m: float
    radial: bool
    cells: int
    film_factor: float = 1.0

    @property
    def faces(self) -> Floats:
        return self.half_m * np.sin(np.linspace(0.0, np.pi / 2.0, self.cells + 1))

    @property
    def middles(self) -> Floats:
        return (self.faces[1:] + self.faces[:-1]) / 2.0

    @property
    def volumes(self) -> Floats:
        return np.diff(self.faces**2) / 2.0 if self.radial else np.diff(self.faces)

    def conduction(self, filling: Filling, film: float) -> tuple[sparse.csr_matrix, Floats]:
        """dT/dt = A T + g T_air along this direction alone, in 1/s."""
        film = film * self.film_factor
        k = filling.conductivity_w_m_k
        capacity = filling.heat_capacity_j_kg_k * filling.bulk_density_kg_m3
        areas = self.faces if self.radial else np.ones(self.cells + 1)
        inner = k * areas[1:-1] / np.diff(self.middles)
        last = self.half_m - self.middles[-1]
        outer = areas[-1] / (1.0 / film + last / k)
        diagonal = np.zeros(self.cells)
        diagonal[:-1] -= inner
        diagonal[1:] -= inner
        diagonal[-1] -= outer
        matrix = sparse.diags([inner, diagonal, inner], [-1, 0, 1])
        scale = 1.0 / (self.volumes * capacity)
        air = np.zeros(self.cells)
        air[-1] = outer
        return (sparse.diags(scale) @ matrix).tocsr(), scale * air

    def in_the_middle(self, field: Floats) -> Floats:
        """An even parabola through the two cells next to the middle, along the first axis."""
        near, far = self.middles[0] ** 2, self.middles[1] ** 2
        return (field[0] * far - field[1] * near) / (far - near)

    def at_the_surface(self, field: Floats, filling: Filling, film: float, air_c: float) -> Floats:
        """Where the heat through the last half cell equals the heat through the film."""
        film = film * self.film_factor
        through = filling.conductivity_w_m_k / (self.half_m - self.middles[-1])
        return (through * field[-1] + film * air_c) / (through + film)


def grids_of(shape: Cylinder | Slab | Box, cells: Sequence[int]) -> list[Grid]:
    """One grid for each direction of a shape."""
    if isinstance(shape, Cylinder):
        radius, height = cells
        return [
            Grid(shape.radius_m, True, radius),
            Grid(shape.height_m / 2.0, False, height, shape.ends_factor),
        ]
    if isinstance(shape, Slab):
        return [Grid(shape.thickness_m / 2.0, False, cells[0])]
    sides = (shape.length_m, shape.width_m, shape.height_m)
    factors = (1.0, 1.0, shape.ends_factor)
    return [
        Grid(side / 2.0, False, n, factor)
        for side, n, factor in zip(sides, cells, factors, strict=True)
    ]


def assembled(
    grids: Sequence[Grid], filling: Filling, film: float
) -> tuple[sparse.csc_matrix, Floats]:
    """The heat balance of every cell of the body, all directions together."""
    sizes = [grid.cells for grid in grids]
    matrix = sparse.csr_matrix((int(np.prod(sizes)),) * 2)
    air = np.zeros(sizes)
    for at, grid in enumerate(grids):
        along, gain = grid.conduction(filling, film)
        whole = sparse.identity(1)
        for other, size in enumerate(sizes):
            whole = sparse.kron(whole, along if other == at else sparse.identity(size))
        matrix = matrix + whole
        air += gain.reshape([-1 if other == at else 1 for other in range(len(sizes))])
    return matrix.tocsc(), air.ravel()


def read_off(
    field: Floats, shape: Cylinder | Slab | Box, grids: Sequence[Grid], filling: Filling,
    film: float, air_c: float,
) -> tuple[float, float, float]:  # fmt: skip
    """Core, surface and mean of a field of cells; the surface in the middle of the largest face."""
    outward = 0
    if isinstance(shape, Box):
        outward = int(np.argmin([grid.half_m for grid in grids]))
    core = surface = mean = field.reshape([grid.cells for grid in grids])
    for at, grid in enumerate(grids):
        core = grid.in_the_middle(core)
        if at == outward:
            surface = grid.at_the_surface(surface, filling, film, air_c)
        else:
            surface = grid.in_the_middle(surface)
        mean = np.tensordot(grid.volumes, mean, axes=(0, 0)) / grid.volumes.sum()
    return float(core), float(surface), float(mean)


def finite_volumes(
    shape: Cylinder | Slab | Box, filling: Filling, start_c: float,
    history: Sequence[Surroundings], until_h: int, cells: Sequence[int], step_s: float,
) -> Floats:  # fmt: skip
    """Core, surface and mean at every hour by finite volumes and Crank and Nicolson's rule.

    Every step of the surroundings begins with four quarter steps of Euler's backward rule, which
    damp the jump at the surface.
    """
    grids = grids_of(shape, cells)
    field = np.full(int(np.prod(cells)), start_c)
    found = [(start_c, start_c, start_c)]
    ends = [step.start_h for step in history[1:]] + [float(until_h)]
    for step, end in zip(history, ends, strict=True):
        film, air_c = step.coefficient_w_m2_k, step.temp_c
        matrix, gain = assembled(grids, filling, film)
        one = sparse.identity(len(field), format="csc")
        quarter = splu((one - step_s / 4.0 * matrix).tocsc())
        half = splu((one - step_s / 2.0 * matrix).tocsc())
        forward = (one + step_s / 2.0 * matrix).tocsr()
        for at in range(1, round((end - step.start_h) * 3600.0 / step_s) + 1):
            if at == 1:
                for _ in range(4):
                    field = quarter.solve(field + step_s / 4.0 * gain * air_c)
            else:
                field = half.solve(forward @ field + step_s * gain * air_c)
            if round(at * step_s) % 3600 == 0:
                found.append(read_off(field, shape, grids, filling, film, air_c))
    return np.array(found).T


def by_solve_ivp(
    shape: Cylinder | Slab | Box, filling: Filling, start_c: float,
    history: Sequence[Surroundings], until_h: int, cells: Sequence[int],
) -> Floats:  # fmt: skip
    """Core, surface and mean at every hour by SciPy's stiff solver, its own steps and error."""
    grids = grids_of(shape, cells)
    field = np.full(int(np.prod(cells)), start_c)
    found = [(start_c, start_c, start_c)]
    ends = [step.start_h for step in history[1:]] + [float(until_h)]
    for step, end in zip(history, ends, strict=True):
        film, air_c = step.coefficient_w_m2_k, step.temp_c
        matrix, gain = assembled(grids, filling, film)
        hours = np.arange(step.start_h, end) + 1.0
        solved = solve_ivp(
            lambda _, field, matrix=matrix, pull=gain * air_c: matrix @ field + pull,
            (step.start_h * 3600.0, end * 3600.0), field, method="BDF", jac=matrix,
            t_eval=hours * 3600.0, rtol=1e-5, atol=1e-4,
        )  # fmt: skip
        found += [read_off(each, shape, grids, filling, film, air_c) for each in solved.y.T]
        field = solved.y[:, -1]
    return np.array(found).T


RICE = Filling(0.11, 1700.0, 800.0)
WHEAT = Filling(0.13, 1800.0, 790.0)
OATS = Filling(0.08, 1800.0, 380.0)

# An overloaded freezer that recovers, then a room, then a cooler and draughtier room.
OVERLOADED = (
    Surroundings(0.0, -6.0, 5.0),
    Surroundings(5.0, -13.0, 6.5),
    Surroundings(16.0, -18.0, 8.0),
    Surroundings(50.0, 21.0, 9.0),
    Surroundings(65.0, 16.0, 12.0),
)
STEADY = (Surroundings(0.0, -20.0, 8.0), Surroundings(36.0, 24.0, 4.0))
# A fan that is shut off, and a closed bag of loose insulation round the load: very large, very
# small coefficients.
EXTREME = (Surroundings(0.0, -18.0, 400.0), Surroundings(20.0, 20.0, 0.3))

SHAPES = [
    pytest.param(Cylinder(0.14, 0.34), RICE, OVERLOADED, 90, (22, 26), id="pail, overloaded"),
    pytest.param(Cylinder(0.11, 0.22), WHEAT, STEADY, 72, (20, 20), id="pail, steady"),
    pytest.param(Cylinder(0.14, 0.41), OATS, EXTREME, 48, (22, 28), id="pail, extreme"),
    pytest.param(Cylinder(0.14, 0.34, 0.4), WHEAT, OVERLOADED, 80, (22, 24), id="pail, lid"),
    pytest.param(Slab(0.09), RICE, OVERLOADED, 90, (40,), id="bag, overloaded"),
    pytest.param(Slab(0.16), OATS, EXTREME, 60, (40,), id="bag, extreme"),
    pytest.param(Box(0.4, 0.3, 0.2), WHEAT, STEADY, 72, (8, 8, 8), id="box, steady"),
    pytest.param(Box(0.25, 0.3, 0.35, 0.5), RICE, OVERLOADED, 70, (8, 8, 8), id="box, overloaded"),
]


@pytest.mark.parametrize(("shape", "filling", "history", "until_h", "cells"), SHAPES)
def test_every_hour_of_freeze_and_thaw_agrees_with_finite_volumes(
    shape: Cylinder | Slab | Box,
    filling: Filling,
    history: Sequence[Surroundings],
    until_h: int,
    cells: Sequence[int],
) -> None:
    """Core, surface and mean lie within 0.02 K of refined finite volumes at every hour."""
    step_s = 600.0 if isinstance(shape, Box) else 240.0
    coarse = finite_volumes(shape, filling, 21.0, history, until_h, cells, step_s)
    twice = [2 * each for each in cells]
    fine = finite_volumes(shape, filling, 21.0, history, until_h, twice, step_s / 2.0)
    converged = (4.0 * fine - coarse) / 3.0

    found = temperatures_c(shape, filling, 21.0, history, np.arange(until_h + 1.0))

    ours = np.array([found.core_c, found.surface_c, found.mean_c])
    assert ours == pytest.approx(converged, abs=0.02)
    # The numerical error falls as the square of the cell, so that refining it leads to ours.
    assert np.abs(fine - ours).max() < 0.35 * np.abs(coarse - ours).max()


@pytest.mark.parametrize(
    ("shape", "filling", "history", "until_h"),
    [pytest.param(*each.values[:4], id=each.id) for each in SHAPES],
)
def test_every_hour_of_freeze_and_thaw_agrees_with_solve_ivp(
    shape: Cylinder | Slab | Box,
    filling: Filling,
    history: Sequence[Surroundings],
    until_h: int,
) -> None:
    """Core, surface and mean lie within 0.02 K of SciPy's stiff solver at every hour."""
    # Three grids, from which the errors in the square and the fourth power of the cell are taken.
    cells = np.array([6, 8, 10] if isinstance(shape, Box) else [7, 10, 13])
    directions = len(shape.directions)
    solved = [
        by_solve_ivp(shape, filling, 21.0, history, until_h, [each] * directions)
        for each in cells.tolist()
    ]
    shares = np.linalg.inv(np.stack([cells**0.0, cells**-2.0, cells**-4.0], axis=1))[0]
    converged = np.tensordot(shares, solved, axes=1)

    found = temperatures_c(shape, filling, 21.0, history, np.arange(until_h + 1.0))

    ours = np.array([found.core_c, found.surface_c, found.mean_c])
    assert ours == pytest.approx(converged, abs=0.02)


def test_no_cell_of_a_freezing_load_is_slower_than_its_core() -> None:
    """Through a whole freeze the warmest cell of the numerical solution is the middle one."""
    shape, film = Cylinder(0.14, 0.34, 0.4), 8.0
    grids = grids_of(shape, (14, 16))
    matrix, gain = assembled(grids, WHEAT, film)
    solved = solve_ivp(
        lambda _, field: matrix @ field - gain * 18.0,
        (0.0, 60 * 3600.0), np.full(14 * 16, 21.0), method="BDF", jac=matrix,
        t_eval=np.arange(4.0, 61.0) * 3600.0, rtol=1e-5, atol=1e-4,
    )  # fmt: skip

    assert set(np.argmax(solved.y, axis=0)) == {0}
    found = temperatures_c(
        shape, WHEAT, 21.0, [Surroundings(0.0, -18.0, film)], np.arange(4.0, 61.0)
    )
    assert np.all(found.core_c > solved.y.max(axis=0) - 0.05)
