"""What is known while filling: how many more will come, what a pouch weighs, what was lost."""

from __future__ import annotations

from packdesk.present.cards import Control
from packdesk.present.measures import Measures
from packdesk.session.commands import RevisePlan
from packdesk.session.figures import AgreedLine
from packdesk.session.net_mass import line_mean
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import StillToCome, by_load, still_to_come


def revision(session: SessionState, line: AgreedLine) -> Control | None:
    """Offer the number of pouches that will come, once it is sure to differ from the plan's."""
    coming = still_to_come(session, line)
    if not _differs(coming, line):
        return None
    return Control(
        f"Plan {coming.total}, not {line.count}",
        icon="edit",
        key="U",
        command=RevisePlan(line.line, coming.total),
    )


def _differs(coming: StillToCome, line: AgreedLine) -> bool:
    sure = not coming.low <= line.count <= coming.high
    return coming.learned and sure and coming.total >= max(1, coming.filled)


def coming_words(session: SessionState, line: AgreedLine) -> str:
    """How many pouches the food that is left will still fill."""
    measures, coming = Measures(session.units), still_to_come(session, line)
    if _differs(coming, line):
        left = measures.mass(coming.left_g)
        loads = _from_loads(session, line)
        return f"{line.count} planned, {coming.total} will come of what is left ({left}){loads}."
    told = f"{coming.filled} of {line.count} filled"
    if not coming.more:
        return f"{told}; no food is left."
    told = f"{told}, {coming.more} to come{_from_loads(session, line)}"
    if coming.last_mass_g < coming.each_g:
        return f"{told}; the last holds {measures.mass(coming.last_mass_g)}."
    return f"{told}."


def _from_loads(session: SessionState, line: AgreedLine) -> str:
    """«: 4 of load A, 3 of load B» where the lot lies in several."""
    parts = by_load(session, line)
    return f": {', '.join(f'{count} of load {letter}' for letter, count in parts)}" if parts else ""


def mass_hint(session: SessionState, line: AgreedLine) -> str:
    """What counts where a mass is left out, for the empty field."""
    measures, mean = Measures(session.units), line_mean(session, line.line)
    if mean is None:
        return f"else {measures.mass(line.fill_mass_g)}, as planned"
    spread = f" ± {measures.mass(mean.spread_g)}" if mean.spread_g else ""
    return f"else {measures.weighed(mean.mean_g)}{spread}, the mean"


def mass_label(session: SessionState, line: AgreedLine) -> str:
    """What the mass field asks for: what is in the pouch, or what the scale shows with it."""
    tare_g = session.tares.get(line.pouch, 0.0)
    if not tare_g:
        return "Mass in the pouch, if weighed"
    return f"Scale shows; {Measures(session.units).weighed(tare_g)} of pouch come off"


def lost_words(session: SessionState, line: AgreedLine) -> str:
    """How much food was lost; empty where none was."""
    lost_g = session.lost_g.get(line.line, 0.0)
    return f"{Measures(session.units).mass(lost_g)} lost so far." if lost_g else ""
