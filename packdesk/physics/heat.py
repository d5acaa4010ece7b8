"""How warm a load is: core, surface and mean over any history of surroundings."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.physics.heat_bands import Band, first_times_h
from packdesk.physics.heat_bodies import (
    Box,
    Cylinder,
    Filling,
    Shape,
    Slab,
    Surroundings,
)
from packdesk.physics.heat_ensemble import Ensemble, ensemble
from packdesk.physics.heat_history import Temperatures
from packdesk.physics.heat_readings import ReadAt, Reading
from packdesk.physics.heat_spreads import Spreads
from packdesk.physics.ranges import Floats

__all__ = [
    "Band",
    "Box",
    "Cylinder",
    "Ensemble",
    "Filling",
    "ReadAt",
    "Reading",
    "Shape",
    "Slab",
    "Spreads",
    "Surroundings",
    "Temperatures",
    "ensemble",
    "first_times_h",
    "temperatures_c",
]


def temperatures_c(
    shape: Shape,
    filling: Filling,
    start_temp_c: float,
    history: Sequence[Surroundings],
    hours: Floats,
) -> Temperatures:
    """Core, surface and mean temperature of one load at each of ``hours``.

    Symbols: ``shape`` a ``Cylinder`` (pail), ``Slab`` (bag) or ``Box``; ``filling`` its bulk
    properties; ``start_temp_c`` the even temperature it has at ``history[0].start_h``, −120 to
    1500 °C; ``history`` the steps of air temperature and surface coefficient in order of time;
    ``hours`` on the same scale as ``start_h``, none before the first step.

    Source: series in the eigenfunctions of slab and cylinder, multiplied for the body (Carslaw
    and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, sections 1.15, 3.11 and 7.7, from
    memory), carried on exactly over each step.

    Example: Çengel, Heat and Mass Transfer, 3rd ed., example 4-7, figures from memory: a short
    brass cylinder in air, centre 63 °C after 15 minutes by chart:

    >>> import numpy as np
    >>> brass = Filling(110.0, 380.0, 8530.0)
    >>> air = [Surroundings(0.0, 25.0, 60.0)]
    >>> found = temperatures_c(Cylinder(0.05, 0.12), brass, 120.0, air, np.array([0.25]))
    >>> abs(round(float(found.core_c[0])) - 63) <= 1
    True

    Limits: every side cooled alike, properties that do not change with temperature, no wall and
    no latent heat (dry food; see ``Filling``).
    """
    one = ensemble(shape, filling, members=1, spreads=Spreads(0.0, 0.0, 0.0, 0.0, 0.0))
    found = one.temperatures_c(start_temp_c, history, hours)
    return Temperatures(found.core_c[0], found.surface_c[0], found.mean_c[0])
