"""A plan changed while pouches are filled: what stays, what is new, what each line is called."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.session.figures import AgreedLine
from packdesk.session.filled_by import settled
from packdesk.session.net_mass import held_pouches
from packdesk.session.state import SessionState

LEAST_G = 20.0
"""Less than this is no pouch of its own; the plan takes no smaller mass for one either."""


@dataclass(frozen=True, slots=True)
class Begun:
    """What of a lot's lines stays since pouches were filled by them.

    `kept` are those lines as they are agreed again. `rest_g` of the lot are to be planned anew,
    as line `number`; 0 where the last kept line goes on, as it is `as_wished` or no food is left.
    """

    kept: tuple[AgreedLine, ...]
    rest_g: float = 0.0
    number: int = 0
    as_wished: bool = False


def begun(
    session: SessionState, lot: str, pouch: str, fill_mass_g: float | None, free: int
) -> Begun | None:
    """What stays of a lot's lines when it is wished into `pouch`; None if none was filled by.

    Wished as it is the last line goes on unchanged. Else what is filled is settled, and the rest
    becomes a line of its own, numbered `free` where it has no number yet.
    """
    lines = [line for line in session.plan.lines if line.lot == lot] if session.plan else []
    used = {each.line for each in session.pouches.values()}
    filled = [
        line
        for line in lines
        if held_pouches(session, line) or (line.line in used and len(lines) > 1)
    ]
    if not filled:
        return None
    last = lines[-1]
    if last in filled and pouch == last.pouch and fill_mass_g in (None, last.fill_mass_g):
        return Begun(tuple(lines), as_wished=True)
    kept = tuple(settled(session, line) for line in filled)
    rest_g = sum(line.mass_g for line in lines) - sum(line.mass_g for line in kept)
    if rest_g < LEAST_G:
        return Begun(tuple(lines))
    return Begun(kept, round(rest_g, 1), free if last in filled else last.line)


def kept_words(session: SessionState, found: Begun) -> str:
    """«2 pouches are filled: 700 g, quart-size flat pouch. These stay so; ...»"""
    measures, parts = Measures(session.units), []
    for line in found.kept:
        if count := len(session.working_pouches(line.line)):
            pouches = "1 pouch is" if count == 1 else f"{count} pouches are"
            parts.append(f"{pouches} filled: {measures.mass(line.fill_mass_g)}, {line.pouch_name}.")
    if found.as_wished:
        parts.append("These stay so; another pouch or mass chosen here is for the rest.")
    elif found.rest_g:
        parts.append("These stay so; this line is for the rest.")
    else:
        parts.append("These stay so; no food is left for other pouches.")
    return " ".join(parts)


def lines_apart(lines: Sequence[AgreedLine], units: str, *, short: bool = False) -> dict[int, str]:
    """What each of these plan lines is called: by its food, by its mass too where two share it."""
    foods = {line.line: short_food(line.food_name) if short else line.food_name for line in lines}
    shared = Counter(foods.values())
    return {
        line.line: f"{food}, {Measures(units).mass(line.fill_mass_g)}" if shared[food] > 1 else food
        for line in lines
        for food in (foods[line.line],)
    }
