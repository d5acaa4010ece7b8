"""Which life stages the dose of a cold treatment is reckoned for: the toughest, and no others.

Importing this loads numpy.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from packdesk.catalog.pests import LifeStage
from packdesk.physics.cold_kill import WARMEST_COUNTED_C, kill_time_h

_TEMPS_C = np.linspace(-40.0, WARMEST_COUNTED_C, 113)
"""Every quarter of a kelvin of what a household freezer can do, and colder."""


def toughest(stages: Iterable[LifeStage]) -> tuple[LifeStage, ...]:
    """The life stages whose measured kill takes longest at some temperature that counts.

    The others are dead wherever these are. Insects move from food to food in a pantry, so that
    the stages of every insect of dry food count, whatever the food.
    """
    dosed = [stage for stage in stages if stage.dosed]
    if not dosed:
        return ()
    hours = np.array([kill_time_h(stage, _TEMPS_C) for stage in dosed])
    slow = np.isfinite(hours) & (hours >= hours.max(axis=0, where=np.isfinite(hours), initial=0.0))
    found: list[int] = []
    left = slow.any(axis=0)
    while left.any():
        most = int(np.argmax((slow & left).sum(axis=1)))
        found.append(most)
        left &= ~slow[most]
    return tuple(dosed[place] for place in found)
