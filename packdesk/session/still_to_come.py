"""How many more pouches the food that is left of a plan line will fill."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from packdesk.session.figures import AgreedLine
from packdesk.session.load_left import left_g, load_in_hand, opened_loads
from packdesk.session.net_mass import (
    AS_GOOD_AS_FULL,
    ROUNDED_TO_G,
    held_g,
    held_pouches,
    learned,
    line_mean,
)
from packdesk.session.once import once
from packdesk.session.state import SessionState

FULL_ENOUGH = 1.0 / 3.0
"""What share of the others the last pouch should hold at least, as in planning; said again here,
as planning loads numpy."""

LAST_IN_SIGHT = 3
"""With so many pouches to fill by the plan the count is told as reckoned, sure or not: whoever
fills sees what is left (own judgement)."""


@dataclass(frozen=True, slots=True)
class StillToCome:
    """What is left of a plan line (g), and how many pouches it makes.

    `filled` of `planned` hold food, those set aside with theirs too; `more` will come, the last
    of them with `last_mass_g`; `rest_g` is then left over, too little for another. `low` and
    `high` bound the `total` by the uncertainty of the mean. `learned`: there is more to go by than
    the plan, as pouches were weighed, food was lost, or a pouch was set aside with its food.
    """

    planned: int
    left_g: float
    each_g: float
    filled: int
    more: int
    low: int
    high: int
    last_mass_g: float
    rest_g: float
    learned: bool

    @property
    def total(self) -> int:
        """All pouches of the line in the end."""
        return self.filled + self.more

    @property
    def fills(self) -> int:
        """How many pouches there is any food for, the last one maybe with very little."""
        return ceil((self.left_g - ROUNDED_TO_G * (self.planned + 1)) / self.each_g)

    @property
    def to_fill(self) -> int:
        """Pouches still to be filled by the plan."""
        return max(0, self.planned - self.filled)

    @property
    def differs(self) -> bool:
        """Whether other pouches will come than planned: for sure, or with the last in sight."""
        sure = not self.low <= self.planned <= self.high
        in_sight = self.to_fill <= LAST_IN_SIGHT
        return self.learned and self.total != self.planned and self.total > 0 and (sure or in_sight)

    @property
    def left_over(self) -> bool:
        """Whether food is there for more pouches than the plan still has."""
        return self.differs and self.more > self.to_fill


@once
def still_to_come(session: SessionState, line: AgreedLine) -> StillToCome:
    """Reckon the pouches to come from the line's mass, less what is in pouches and what was lost.

    An emptied pouch gave its food back; one set aside still holds it.
    """
    mean = line_mean(session, line.line)
    held = held_pouches(session, line)
    lost_g = session.lost_g.get(line.line, 0.0)
    each_g = mean.mean_g if mean is not None else line.fill_mass_g
    left_g = line.mass_g - lost_g - sum(held_g(pouch, each_g) for pouch in held)
    filled = len(held)
    more, last_g, rest_g = _pouches(left_g, each_g)
    # What is left shrinks with each pouch that holds a little more, those to come and those
    # that were not weighed alike.
    off_g = 2.0 * mean.uncertain_g if mean is not None else 0.0
    unweighed = sum(pouch.net_mass_g is None for pouch in held)
    low, _, _ = _pouches(left_g - unweighed * off_g, each_g + off_g)
    high, _, _ = _pouches(left_g + unweighed * off_g, max(each_g - off_g, each_g / 2.0))
    return StillToCome(
        planned=line.count,
        left_g=max(0.0, left_g),
        each_g=each_g,
        filled=filled,
        more=more,
        low=filled + low,
        high=filled + high,
        last_mass_g=last_g,
        rest_g=rest_g,
        learned=learned(session, line),
    )


def next_mass_g(session: SessionState, line: AgreedLine) -> float:
    """What goes into the next pouch (g): as planned, or what is left where that fills only one."""
    coming = still_to_come(session, line)
    if not coming.learned:
        last_g = line.last_fill_mass_g if coming.to_fill == 1 else None
        return last_g or line.to_hold_g
    short = coming.more == 1 and coming.last_mass_g < coming.each_g
    return coming.last_mass_g if short else line.to_hold_g


@once
def by_load(session: SessionState, line: AgreedLine) -> tuple[tuple[str, int], ...]:
    """How many of the pouches to come each load of the lot makes, in the order they are filled.

    A pouch that straddles is the load's in which it is filled up. The load in hand comes first,
    then the others that are open, then those still shut; a load that ends no pouch is left out.
    Empty where the lot lies in one load, or what is in its loads is not known.
    """
    loads = [load for load in session.loads.values() if load.lot == line.lot]
    if len(loads) < 2:
        return ()
    left = left_g(session, line.lot)
    order = [load.load for load in opened_loads(session, line.lot)]
    if order:
        at = order.index(load_in_hand(session, line.lot))
        order = order[at:]
    shut = [load for load in loads if load.uncovered is None]
    food_g = [(letter, left[letter]) for letter in order]
    food_g += [(load.load, load.mass_g) for load in shut]
    coming = still_to_come(session, line)
    found: list[tuple[str, int]] = []
    sum_g, done = 0.0, 0
    for place, (letter, mass_g) in enumerate(food_g):
        sum_g += mass_g
        last = place == len(food_g) - 1
        full = coming.more if last else min(coming.more, floor(sum_g / coming.each_g + 1e-6))
        if full > done:
            found.append((letter, full - done))
            done = full
    return tuple(found)


def _pouches(left_g: float, each_g: float) -> tuple[int, float, float]:
    """How many pouches `left_g` makes, what the last one holds, and what no pouch is worth."""
    if left_g <= 0.0:
        return 0, round(each_g, 1), 0.0
    full = floor(left_g / each_g + AS_GOOD_AS_FULL)
    rest_g = left_g - full * each_g
    if rest_g >= FULL_ENOUGH * each_g:
        return full + 1, round(rest_g, 1), 0.0
    return full, round(each_g, 1), max(0.0, rest_g)
