"""What was done otherwise than advised to the food of one pouch, for its label and its row."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.figures import AgreedLine
from packdesk.session.load import Load
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.terms import ColdRule

NOT_KNOWN_THEN = "a reading it went by was voided later"
"""Why a load came out early that seemed to be complete."""


@dataclass(frozen=True, slots=True)
class Departure:
    """One departure: in words with its reason, and in a few capitals for the code of a label.

    Without `code` it stands on record and in tables only. `short` is the same without figures
    and reason, and `opener` what whoever opens the pouch is to look for.
    """

    words: str
    code: str = ""
    short: str = ""
    opener: str = ""


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
    if line.lot in session.bypassed:
        # A pouch does not say so in its code: insects are a matter of quality, not of safety.
        found.append(Departure(f"no cold treatment: {session.bypassed[line.lot]}"))
    for load in loads:
        found += _of_load(load)
    if line.never:
        why = pouch.against_advice or line.against_advice
        found.append(
            Departure(
                f"sealed against advice ({line.never}): {why}",
                "SEALED AGAINST ADVICE",
                "food never to be sealed",
            )
        )
    return tuple(found)


def _of_load(load: Load) -> list[Departure]:
    found = []
    if load.taken_out is not None and not load.cold_complete:
        words, code = _held(load)
        why = load.short_reason or NOT_KNOWN_THEN
        found.append(
            Departure(
                f"load {load.load}: cold ended early, {words}: {why}",
                code,
                "cold ended early",
                "Cold cut short: look for insects.",
            )
        )
    if load.uncover_reason:
        found.append(
            Departure(
                f"load {load.load}: opened too cold: {load.uncover_reason}",
                "OPENED COLD",
                "opened too cold",
                "Opened cold: look for damp and mould.",
            )
        )
    return found


def _held(load: Load) -> tuple[str, str]:
    """How far the cold had come by the rule that was to make it complete."""
    if load.rule is ColdRule.DOSE and load.dose is not None:
        done = int(load.dose * 100.0 + 1e-6)
        return f"{done} % of the dose for {load.dose_stage}", f"COLD SHORT {done} %"
    held_h, needed_h = int(load.held_h + 1e-6), load.forecast.hold_h
    return f"held {held_h} h of {needed_h:.0f} h", f"COLD SHORT {held_h}/{needed_h:.0f} H"
