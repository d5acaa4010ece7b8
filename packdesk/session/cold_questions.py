"""What is asked before a load or a reading goes on record that can hardly be meant so.

Each answers a question in words with the likely cure, or nothing. Whoever confirms is believed.
Importing this loads numpy; the deciding rules import it where they need it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from packdesk.instants import day_and_time, span
from packdesk.physics.freezer import food_limit_c
from packdesk.session.clocks import cold_done
from packdesk.session.figures import FreezerOutlook, LoadOutlook
from packdesk.session.likely_meant import as_read, in_other_scale, likely_meant
from packdesk.session.load import Load
from packdesk.session.load_heat import load_heat
from packdesk.session.load_story import LoadStory
from packdesk.session.state import SessionState
from packdesk.session.terms import ColdRule, Probe, Stands
from packdesk.units import NO_BREAK_SPACE, Dimension, System, say

COLD_ENOUGH_K = 1.0
"""A freezer this much colder at rest than the core must be is not what keeps it from it."""

LIKELY_REST_C = -25.0
"""Hardly a household freezer is set colder (our choice, no source)."""

LATER = timedelta(hours=2)
"""A load that keeps another waiting for longer is asked about."""

STILL_AT_WORK = timedelta(hours=24)
"""So long after a load a freezer may still be cooling it (common practice, no source)."""

PROBE_OFF_K = 6.0
WALL_OFF_K = 9.0
FREEZER_OFF_K = 8.0
ROOM_OFF_K = 12.0
FOOD_OFF_K = 24.0
"""How far beyond what is reckoned a thermometer is asked about: well beyond its own error, and less
than a mistaken scale comes to (our choice, no source)."""

OTHER_SCALE_OFF_K, OTHER_SCALE_WITHIN_K = 4.0, 3.0
"""A figure nearer than that is asked about too where, read in the other scale, it is just what is
reckoned: at the usual −4 °F of a freezer a −18 meant in Celsius is only 8 K off."""


def height_question(load: Load, units: str) -> str:
    """Ask about a container that stands higher than the freezer is inside."""
    figures = load.figures
    if figures.container_height_mm is None or figures.freezer_height_mm is None:
        return ""
    pails = 2 if figures.stands is Stands.STACKED else 1
    needs_mm = pails * figures.container_height_mm
    if needs_mm <= figures.freezer_height_mm:
        return ""
    needs, has = (
        say(each, Dimension.LENGTH, System(units), 5.0)
        for each in (needs_mm, figures.freezer_height_mm)
    )
    if pails > 1:
        what, cure = (
            "Two of these, one on the other, stand",
            "set them side by side, or take a chest",
        )
    else:
        what, cure = "With its lid on this stands", "take a lower pail, or a chest"
    return (
        f"{what} {needs} high, and the freezer is {has} inside. Does its door shut? If not, {cure}."
    )


def said_question(load: Load, session: SessionState, known_c: float) -> str:
    """Ask about what is said of a load before it goes in: the freezer at rest, its own warmth.

    `known_c` is the room, as warm as which food usually is.
    """
    units, rest_c = session.units, load.figures.freezer_temp_c
    meant_c = in_other_scale(rest_c, units)
    if rest_c < LIKELY_REST_C <= meant_c <= load.forecast.treat_c:
        meant = likely_meant(rest_c, LIKELY_REST_C, load.forecast.treat_c, units)
        return (
            f"{as_read(rest_c, units)} is colder than a household freezer gets. {meant} "
            "If it is right, keep it; it then counts."
        )
    start_c = load.figures.start_temp_c
    return _question("in the food", start_c, known_c, known_c, FOOD_OFF_K, units)


def never_cold_question(load: Load, session: SessionState) -> str:
    """Ask about a load that is never cold enough by the rule that governs, its freezer as said."""
    rest_c, treat_c = load.figures.freezer_temp_c, load.forecast.treat_c
    if cold_done(session, load) is not None or rest_c < treat_c - COLD_ENOUGH_K:
        return ""
    units = System(session.units)
    rest = as_read(rest_c, session.units)
    by_dose = session.cold_rule is ColdRule.DOSE and bool(load.forecast.dose_stage)
    treat = say(treat_c, Dimension.TEMPERATURE, units, 1.0)
    never = "gets cold enough" if by_dose else f"reaches {treat} at its core"
    meant = likely_meant(rest_c, LIKELY_REST_C, treat_c, session.units)
    cure = meant or "Look again, set the freezer colder, or use the other one."
    return (
        f"In a freezer at {rest} load {load.load} never {never}. {cure} "
        "If it is right, keep it; no clock runs for this load until the freezer is read colder."
    )


def heat_question(
    load: Load,
    before: SessionState,
    after: SessionState,
    outlooks: Iterable[LoadOutlook],
    freezers: tuple[FreezerOutlook | None, FreezerOutlook | None],
    offset_min: int,
) -> str:
    """Ask about a load that warms the freezer, what is frozen in it, or keeps others waiting.

    `before` is the session without the load, `after` with it; `freezers` likewise.
    """
    was, now = freezers
    if now is None:
        return ""
    units = System(before.units)
    delays = [
        (renewed_at.likely - known.likely, each.load)
        for each in outlooks
        if (known := cold_done(before, before.loads[each.load])) is not None
        and (renewed_at := cold_done(after, after.loads[each.load])) is not None
    ]
    delay, waits = max(delays, default=(timedelta(0), ""))
    # The food is asked about, not the air: beside any two pails of ten kilograms air is 8 K warmer
    # for an hour, while the food in it warms by less than 2 K; asked each time, nobody would read
    # the question that counts. One pail of 15 kg in a usual freezer is never asked about, nor a
    # second some hours later; two of 15 kg at once are, or one where the plate says 4 kg a day.
    spoils = now.warmest_frozen_c > food_limit_c(now.settled_c)
    if not spoils and delay < LATER:
        return ""
    air, rest, frozen = (
        say(each, Dimension.TEMPERATURE, units, 1.0)
        for each in (now.warmest_air_c, now.settled_c, now.warmest_frozen_c)
    )
    words = [f"Load {load.load} would warm the freezer's air from {rest} to about {air}"]
    if now.labours_until is not None:
        labours_s = (now.labours_until - load.frozen.utc).total_seconds()
        words.append(f", and it would take {_whole(labours_s)} to be cold again")
    words.append(f"; food frozen in it would warm to about {frozen}.")
    if delay >= LATER:
        words.append(f" Load {waits} would be cold enough {_whole(delay.total_seconds())} later.")
    if was is not None and was.labours_until is not None:
        rest_at = day_and_time(was.labours_until, offset_min)
        words.append(f" Put it in after {rest_at}, or in the other freezer.")
    else:
        words.append(" Put in fewer at a time, or use the other freezer.")
    return "".join(words)


def _whole(lasts_s: float) -> str:
    """A length of time that no line breaks."""
    return span(lasts_s).replace(" ", NO_BREAK_SPACE)


def core_question(
    told: LoadStory, load: Load, at: datetime, temp_c: float, probe: Probe, units: str
) -> str:
    """Ask about a probe that shows what no such load comes near."""
    if told.hour(at) <= 0.0 or load.uncovered is not None:
        return ""
    heat = load_heat(told)
    temps = heat.temperatures_c(np.array([told.hour(at)]))
    found = temps.core_c if probe is Probe.CORE else temps.surface_c
    low, high = (float(each) for each in heat.members.quantiles(found, (0.1, 0.9))[:, 0])
    where = "at the core" if probe is Probe.CORE else "at the wall"
    return _question(
        f"{where} of load {load.load}", temp_c, low, high,
        PROBE_OFF_K if probe is Probe.CORE else WALL_OFF_K, units,
    )  # fmt: skip


def freezer_question(told: Iterable[LoadStory], at: datetime, temp_c: float, units: str) -> str:
    """Ask about a freezer's thermometer that shows what its air can hardly be."""
    air = [
        [step.temp_c for step in each.steps if step.at <= at and step.in_freezer] for each in told
    ]
    known = [steps[-1] for steps in air if steps]
    if not known:
        return ""
    return _question("in the freezer", temp_c, min(known), max(known), FREEZER_OFF_K, units)


def stopped_question(
    before: SessionState, outlooks: Iterable[LoadOutlook], at: datetime, temp_c: float
) -> str:
    """Ask about a freezer's thermometer by which loads whose clocks run are never cold enough."""
    stopped = [
        before.loads[each.load]
        for each in outlooks
        if each.cold is not None
        and cold_done(before, before.loads[each.load]) is not None
        and cold_done(before, replace(before.loads[each.load], forecast=each.cold)) is None
    ]
    if not stopped:
        return ""
    names = [load.load for load in stopped]
    loads = f"load {names[0]}" if len(names) == 1 else f"loads {', '.join(names)}"
    never, clock = ("gets", "its clock") if len(names) == 1 else ("get", "their clocks")
    there = [
        load
        for load in before.loads.values()
        if load.figures.freezer == stopped[0].figures.freezer and load.frozen.utc <= at
    ]
    since_s = (at - max(load.frozen.utc for load in there)).total_seconds()
    if since_s < STILL_AT_WORK.total_seconds():
        cure = (
            f"The last load went in {_whole(since_s)} ago, and the freezer may still be at work on "
            "it: read again tomorrow."
        )
    else:
        cure = "Does its door shut? Look again, set it colder, or use the other freezer."
    return (
        f"If the freezer stays at {as_read(temp_c, before.units)}, {loads} never {never} cold "
        f"enough, and {clock} would stop. {cure} If it rests at that, keep it."
    )


def room_question(known_c: float, temp_c: float, units: str) -> str:
    """Ask about a room far from what it was, or from what rooms are."""
    return _question("in the room", temp_c, known_c, known_c, ROOM_OFF_K, units)


def _question(
    where: str, temp_c: float, low_c: float, high_c: float, off_k: float, units: str
) -> str:
    off_by_k, other_off_k = (
        max(low_c - each, each - high_c) for each in (temp_c, in_other_scale(temp_c, units))
    )
    mixed_up = off_by_k > OTHER_SCALE_OFF_K and other_off_k <= OTHER_SCALE_WITHIN_K
    if off_by_k <= off_k and not mixed_up:
        return ""
    low, high = (say(each, Dimension.TEMPERATURE, System(units), 1.0) for each in (low_c, high_c))
    expected = f"about {low}" if low == high else f"{low} to {high}"
    meant = likely_meant(temp_c, low_c - off_k, high_c + off_k, units)
    return (
        f"{as_read(temp_c, units)} {where} is far from what is reckoned, {expected}. "
        f"{meant or 'Look again, and at the unit.'} If it is right, keep it; it then counts."
    )
