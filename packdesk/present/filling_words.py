"""What is known while filling: how many more will come, what a pouch weighs, what was lost."""

from __future__ import annotations

from packdesk.present.cards import Control
from packdesk.present.far_words import unbroken
from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.session.commands import RevisePlan
from packdesk.session.figures import AgreedLine
from packdesk.session.net_mass import AS_GOOD_AS_FULL, line_mean
from packdesk.session.numbers import listed
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import (
    by_load,
    next_mass_g,
    still_to_come,
)
from packdesk.session.tally import tallies, tally


def revision(session: SessionState, line: AgreedLine) -> Control | None:
    """Offer the number of pouches that will come, once it differs from the plan's."""
    coming = still_to_come(session, line)
    if not coming.differs:
        return None
    return Control(
        f"Plan {coming.total}, not {line.count}",
        icon="edit",
        key="U",
        command=RevisePlan(line.line, coming.total),
    )


def coming_words(session: SessionState, line: AgreedLine) -> str:
    """How many pouches the food that is left will still fill, and what will be over then."""
    measures, coming = Measures(session.units), still_to_come(session, line)
    counted = tally(session, line.line)
    aside = counted.held_aside if counted is not None else 0
    told = f"{coming.filled - aside} of {line.count} filled"
    told += f", {aside} set aside" if aside else ""
    if coming.differs and coming.more:
        left = measures.mass(coming.left_g)
        instead = f", not {coming.to_fill}" if coming.to_fill else ""
        told = f"{told}; about {left} left makes {coming.more} more{instead}"
    elif coming.to_fill and not coming.differs:
        told = f"{told}, {coming.to_fill} to come"
    elif rest := rest_words(session, line):
        return f"{told}; {rest}."
    else:
        return f"{told}; no food is left."
    if coming.total == line.count or coming.differs:
        told += _from_loads(session, line)
        if coming.last_mass_g < coming.each_g:
            return f"{told}; the last holds {measures.mass(coming.last_mass_g)}."
        if rest := rest_words(session, line):
            return f"{told}; then {rest}."
    return f"{told}."


def rest_words(session: SessionState, line: AgreedLine) -> str:
    """«about 200 g is left over, too little for one more», where that is worth a word."""
    coming = still_to_come(session, line)
    if not coming.learned or coming.rest_g < AS_GOOD_AS_FULL * coming.each_g:
        return ""
    rest = Measures(session.units).mass(coming.rest_g)
    return f"about {rest} is left over, too little for one more (L puts it aside)"


def over_words(session: SessionState, line: AgreedLine) -> str:
    """«About 700 g of rice is left over: U plans 1 more.», once all planned pouches are filled."""
    coming = still_to_come(session, line)
    if not coming.left_over or coming.to_fill:
        return ""
    left = Measures(session.units).mass(coming.left_g)
    food = short_food(line.food_name)
    return f"About {left} of {food} is left over: U plans {coming.more} more."


def foods_over(session: SessionState) -> str:
    """«about 700 g of white rice is left over», of all foods whose pouches are filled; or empty."""
    measures = Measures(session.units)
    return ", ".join(
        f"about {measures.mass(coming.left_g)} of {short_food(each.line.food_name)} is left over"
        for each in tallies(session)
        if (coming := still_to_come(session, each.line)).left_over and not coming.to_fill
    )


def fill_words(
    session: SessionState, line: AgreedLine, which: str, mass_g: float, count: int
) -> str:
    """What goes into the next pouch, and what the scale must show; or that nothing is left."""
    food, coming = short_food(line.food_name), still_to_come(session, line)
    if _none_left(session, line):
        none = f"By reckoning no {food} is left for {which}: fill in what there is"
        return f"{none}, or U plans {coming.total}." if coming.differs else f"{none}."
    shown = _scale_words(session, line, mass_g) if count == 1 else ""
    said = f"Fill {which} with {Measures(session.units).mass(mass_g)} of {food}{shown}"
    if line.liner:
        return f"{said} in its pail, and leave room to fold."
    return f"{said} and leave room to seal."


def short_words(session: SessionState, line: AgreedLine, which: str, mass_g: float) -> str:
    """The same to be read from afar."""
    if _none_left(session, line):
        return f"No food is left for {unbroken(which)}."
    shown = shown_words(session, line, mass_g)
    said = f"{Measures(session.units).mass(mass_g)} into {unbroken(which)}"
    return f"{said}, {shown}." if shown else f"{said}."


def _none_left(session: SessionState, line: AgreedLine) -> bool:
    coming = still_to_come(session, line)
    return coming.learned and not coming.more


def passed_over(session: SessionState, number: int) -> str:
    """«Number 23 is not given again.» while the next pouch follows one that was set aside."""
    passed = [number]
    while (before := session.pouches.get(passed[0] - 1)) is not None and before.aside:
        passed.insert(0, before.number)
    *gone, _ = passed
    if not gone:
        return ""
    if len(gone) == 1:
        return f"Number {gone[0]} is not given again."
    return f"Numbers {listed(gone)} are not given again."


def _scale_words(session: SessionState, line: AgreedLine, mass_g: float) -> str:
    """« (712 g on the scale with its pouch)», once an empty one was weighed; else empty."""
    shown = shown_words(session, line, mass_g)
    return f" ({shown} with its {'liner' if line.liner else 'pouch'})" if shown else ""


def shown_words(session: SessionState, line: AgreedLine, mass_g: float) -> str:
    """«712 g on the scale» for food of `mass_g`, where the scale shows more; else empty."""
    tare_g = session.tares.get(line.pouch, 0.0)
    return f"{Measures(session.units).weighed(mass_g + tare_g)} on the scale" if tare_g else ""


def _from_loads(session: SessionState, line: AgreedLine) -> str:
    """«: 4 of load A, 3 of load B» where the lot lies in several."""
    parts = by_load(session, line)
    return f": {', '.join(f'{count} of load {letter}' for letter, count in parts)}" if parts else ""


def mass_hint(session: SessionState, line: AgreedLine) -> str:
    """What the Space bar takes where a mass is left out, for the empty field."""
    measures, mean = Measures(session.units), line_mean(session, line.line)
    coming = still_to_come(session, line)
    if _none_left(session, line):
        return "what there is, weighed"
    if mean is None or (coming.more == 1 and coming.last_mass_g < coming.each_g):
        mass = measures.mass(next_mass_g(session, line))
        return f"Space takes {mass}, {'as planned' if mean is None else 'what is left'}"
    spread = f" ± {measures.mass(mean.spread_g)}" if mean.spread_g else ""
    return f"Space takes {measures.weighed(mean.mean_g)}{spread}, the mean"


def mass_label(session: SessionState, line: AgreedLine) -> str:
    """What the mass field asks for: what is in the pouch, or what the scale shows with it."""
    tare_g = session.tares.get(line.pouch, 0.0)
    if not tare_g:
        return "Mass in the pouch, if weighed"
    return f"Scale shows, with the pouch of {Measures(session.units).weighed(tare_g)}"


def lost_words(session: SessionState, line: AgreedLine) -> str:
    """How much food will go into no pouch; empty where none was."""
    lost_g = session.lost_g.get(line.line, 0.0)
    return f"{Measures(session.units).mass(lost_g)} lost or put aside." if lost_g else ""
