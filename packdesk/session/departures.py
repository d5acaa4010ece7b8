"""What was done otherwise than advised to the food of one pouch, for its label and its row."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.figures import AgreedLine
from packdesk.session.load import Load
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState


@dataclass(frozen=True, slots=True)
class Departure:
    """One departure: in words with its reason, and in a few capitals for the code of a label."""

    words: str
    code: str


def departures(session: SessionState, line: AgreedLine, pouch: Pouch) -> tuple[Departure, ...]:
    """Every departure that concerns this pouch, in the order of the work.

    Where it is not known which load its food came from, all loads of its lot are meant.
    """
    loads = [
        load
        for load in session.loads.values()
        if load.load in pouch.loads or (not pouch.loads and load.lot == line.lot)
    ]
    found = []
    for load in loads:
        found += _of_load(load)
    if line.never:
        why = pouch.against_advice or line.against_advice
        found.append(
            Departure(f"sealed against advice ({line.never}): {why}", "SEALED AGAINST ADVICE")
        )
    return tuple(found)


def _of_load(load: Load) -> list[Departure]:
    found = []
    needed_h = load.forecast.hold_h
    if load.short_reason and load.held_h < needed_h:
        found.append(
            Departure(
                f"load {load.load}: cold ended early, held {int(load.held_h + 1e-6)} h of "
                f"{needed_h:.0f} h: {load.short_reason}",
                f"COLD SHORT {int(load.held_h + 1e-6)}/{needed_h:.0f} H",
            )
        )
    if load.uncover_reason:
        found.append(
            Departure(f"load {load.load}: opened too cold: {load.uncover_reason}", "OPENED COLD")
        )
    return found
