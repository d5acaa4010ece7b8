"""Pouches filled and food lost, in words."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.present.words.saying import ASKED_AND_CONFIRMED, which, words_of
from packdesk.sentences import joined
from packdesk.session import facts as f


@words_of.register
def _(fact: f.PouchesFilled, measures: Measures) -> str:
    mass = f", {measures.weighed(fact.net_mass_g)}" if fact.net_mass_g is not None else ""
    each = " each" if mass and len(fact.pouches) > 1 else ""
    net = " net" if mass and fact.tare_g is not None else ""
    asked = ASKED_AND_CONFIRMED if fact.confirmed else ""
    source = f", from {loads_named(fact.loads)}" if fact.loads else ""
    return f"{which(fact.pouches)} filled{mass}{net}{each}{source}{asked}"


def loads_named(loads: tuple[str, ...]) -> str:
    """Say which loads: `load A`, `loads A and B`."""
    return f"load{'s' if len(loads) > 1 else ''} {joined(loads)}"


@words_of.register
def _(fact: f.EmptyPouchWeighed, measures: Measures) -> str:
    if not fact.tare_g:
        return f"Empty {fact.pouch_name}: not taken off, the scale shows the food alone"
    return f"Empty {fact.pouch_name}: {measures.weighed(fact.tare_g)}, taken off from now on"


@words_of.register
def _(fact: f.FoodLost, measures: Measures) -> str:
    return f"{measures.weighed(fact.mass_g)} of {fact.food_name} lost: {fact.reason}"
