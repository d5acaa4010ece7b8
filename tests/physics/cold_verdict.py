"""The cold dose and the plain rule of one load side by side, as the tests look at them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packdesk.physics.cold_kill import (
    KillTimes,
    StageDose,
    longest_hold_h,
    stage_doses,
)
from packdesk.physics.heat import Band, Ensemble, Temperatures
from packdesk.physics.plain_rule import RULE_AT_C, RULE_HELD_H
from packdesk.physics.ranges import Floats


@dataclass(frozen=True, slots=True)
class ColdVerdict:
    """The doses, least first; the hours the core was held; when the plain rule is done."""

    doses: tuple[StageDose, ...]
    without_figures: tuple[KillTimes, ...]
    rule_held_h: tuple[float, float, float]
    rule_done_h: Band

    @property
    def worst(self) -> StageDose | None:
        """The life stage that has had least of its dose."""
        return self.doses[0] if self.doses else None


def cold_verdict(
    rows: Sequence[KillTimes], members: Ensemble, hours: Floats, temperatures: Temperatures
) -> ColdVerdict:
    """What the cold has done by the last of `hours`, by dose and by the plain rule."""
    doses, without = stage_doses(rows, members, hours, temperatures)
    held = longest_hold_h(hours, temperatures.core_c)
    low, likely, high = (float(each) for each in members.quantiles(held[:, -1]))
    done = members.first_time_h(
        hours, temperatures.core_c, at_or_below=RULE_AT_C, held_h=RULE_HELD_H
    )
    return ColdVerdict(doses, without, (low, likely, high), done)
