"""What a pouch holds: as it was weighed, or as it was planned."""

from __future__ import annotations

from packdesk.session.figures import AgreedLine
from packdesk.session.state import Pouch, SessionState


def net_mass_g(session: SessionState, line: AgreedLine, pouch: Pouch) -> float:
    """The mass of food in `pouch` (g); where it was not weighed, the plan's.

    Of a plan that does not come out even the pouch filled last holds what was left.
    """
    if pouch.net_mass_g is not None:
        return pouch.net_mass_g
    if line.last_fill_mass_g is None:
        return line.fill_mass_g
    filled = session.working_pouches(line.line)
    last = len(filled) == line.count and filled[-1].number == pouch.number
    return line.last_fill_mass_g if last else line.fill_mass_g
