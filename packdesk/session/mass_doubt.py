"""Whether a mass from the scale is so unlike what is to be expected that it is asked about."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from packdesk.session.figures import AgreedLine
from packdesk.session.net_mass import held_pouches, like_masses
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import still_to_come

ENOUGH_FELLOWS = 5
"""So many weighed pouches of the line are compared with; fewer, and the plan is."""

MOST_SCORE = 3.5
"""Largest modified z-score of what is still one of the same.

B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers, American Society for Quality
Control, 1993, section 3.3: 0.6745 |x − median| / MAD above 3.5.
"""
NORMAL_MAD = 0.6745
"""Median absolute deviation of a normal distribution, in standard deviations (same source)."""

LEAST_SHARE = 0.02
"""Masses this close to the others are never asked about, however alike those are (own judgement)"""
PLAN_SHARE = 0.10
"""How far from the plan a mass may be while there are too few to compare with (own judgement)."""

SAME_AGAIN = 2
"""So many weighed in a row, each confirmed, tell that pouches are filled otherwise from now on; no
more is asked about a mass like theirs (own judgement)."""


@dataclass(frozen=True, slots=True)
class MassDoubt:
    """A mass (g) that is asked about: what was expected, within what, and from what known.

    `fellows` is the number of weighed pouches it was compared with; 0 where it was the plan.
    `left_out` were weighed too but confirmed to be unlike the others.
    """

    mass_g: float
    expected_g: float
    within_g: float
    fellows: int
    left_out: int = 0


def mass_doubt(session: SessionState, line: AgreedLine, mass_g: float) -> MassDoubt | None:
    """Compare a net mass with the line's own masses, or the plan; None when it may well be.

    With five or more weighed pouches a mass is asked about when it is off their median by more
    than 3.5 / 0.6745 median absolute deviations and by more than 2 %; with fewer, when off the
    plan by more than 10 %. The last pouch takes what is left: only too much is asked about. What
    was confirmed for the two weighed before is not asked about a third time.
    """
    masses = like_masses(session, line.line)
    if len(masses) >= ENOUGH_FELLOWS:
        expected_g = median(masses)
        mad_g = median(abs(each - expected_g) for each in masses)
        within_g = max(MOST_SCORE * mad_g / NORMAL_MAD, LEAST_SHARE * expected_g)
        fellows = len(masses)
    else:
        expected_g, within_g, fellows = line.to_hold_g, PLAN_SHARE * line.to_hold_g, 0
    coming = still_to_come(session, line)
    is_last = coming.to_fill <= 1 or coming.more <= 1
    off_g = mass_g - expected_g
    if abs(off_g) <= within_g or (is_last and off_g < 0.0):
        return None
    weighed = [pouch for pouch in held_pouches(session, line) if pouch.net_mass_g is not None]
    before = sorted(weighed, key=lambda pouch: (pouch.filled_at, pouch.number))[-SAME_AGAIN:]
    if len(before) == SAME_AGAIN and all(_same_again(pouch, mass_g, within_g) for pouch in before):
        return None
    unlike = [pouch for pouch in weighed if pouch.mass_confirmed]
    return MassDoubt(mass_g, expected_g, within_g, fellows, len(unlike))


def _same_again(pouch: Pouch, mass_g: float, within_g: float) -> bool:
    told_g = pouch.net_mass_g or 0.0
    return pouch.mass_confirmed and abs(mass_g - told_g) <= within_g
