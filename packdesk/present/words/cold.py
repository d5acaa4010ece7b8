"""Loads in the freezer and warming in the room, in words."""

from __future__ import annotations

from packdesk.present.cold_words import came_to
from packdesk.present.measures import Measures
from packdesk.present.words.saying import ASKED_AND_CONFIRMED, words_of
from packdesk.session import facts as f
from packdesk.session.terms import ColdRule


@words_of.register
def _(fact: f.LoadFrozen, measures: Measures) -> str:
    into = f"freezer {fact.figures.freezer}" if fact.figures.freezer > 1 else "the freezer"
    asked = ASKED_AND_CONFIRMED if fact.confirmed else ""
    mass = measures.mass(fact.mass_g)
    return f"Load {fact.load} into {into}: {mass} of {fact.food_name}{asked}"


@words_of.register
def _(fact: f.LotBypassedCold, measures: Measures) -> str:
    return f"Lot {fact.lot} goes without cold: {fact.reason}"


@words_of.register
def _(fact: f.CoreRead, measures: Measures) -> str:
    return f"Load {fact.load} {fact.probe} read {measures.reading(fact.temp_c)}"


@words_of.register
def _(fact: f.FreezerRead, measures: Measures) -> str:
    which = f"Freezer {fact.freezer}" if fact.freezer > 1 else "Freezer"
    return f"{which} read {measures.reading(fact.temp_c)}"


@words_of.register
def _(fact: f.ColdRuleChosen, measures: Measures) -> str:
    if fact.rule is ColdRule.DOSE:
        return "Rule chosen: the cold is complete by the dose of the toughest life stage"
    return "Rule chosen: the cold is complete by the plain rule"


@words_of.register
def _(fact: f.LoadTakenOut, measures: Measures) -> str:
    early = f", early: {fact.reason}" if fact.reason else ""
    cold = came_to(fact.rule, fact.held_h, fact.needed_h, fact.dose, fact.dose_stage)
    return f"Load {fact.load} taken out, {cold}{early}"


@words_of.register
def _(fact: f.RoomRead, measures: Measures) -> str:
    damp = f", {fact.relative_humidity * 100:.0f} % humidity" if fact.relative_humidity else ""
    return f"Room read {measures.reading(fact.temp_c)}{damp}"


@words_of.register
def _(fact: f.LoadUncovered, measures: Measures) -> str:
    early = f", still too cold: {fact.reason}" if fact.reason else ""
    return f"Load {fact.load} opened, coldest food about {measures.temperature(fact.core_c)}{early}"
