"""Looks at pouches that several rules share."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from packdesk.session.admit.rule import not_before, the_session
from packdesk.session.figures import AgreedLine
from packdesk.session.numbers import listed
from packdesk.session.pouch import Pouch
from packdesk.session.state import State

PouchRule = Callable[[State, Pouch], str]


def each(state: State, numbers: tuple[int, ...], *rules: PouchRule) -> str:
    """The first objection of any rule to any of the pouches; unknown numbers object too."""
    if not numbers or len(set(numbers)) != len(numbers):
        return "Say which pouches, each once."
    pouches = the_session(state).pouches
    missing = [number for number in numbers if number not in pouches]
    if missing:
        return f"{listed(missing)} not filled yet. Choose filled ones."
    return next(
        (words for rule in rules for number in numbers if (words := rule(state, pouches[number]))),
        "",
    )


def line_of(state: State, pouch: Pouch) -> AgreedLine | None:
    """The plan line a pouch belongs to."""
    plan = the_session(state).plan
    return plan.line(pouch.line) if plan is not None else None


def must_be_in_work(state: State, pouch: Pouch) -> str:
    """Object to a pouch that left the line of work."""
    if pouch.emptied:
        return f"Pouch {pouch.number} was emptied. Fill a new one."
    if pouch.swollen:
        return f"Pouch {pouch.number} is swollen. Do not open it; discard it."
    return f"Pouch {pouch.number} is set aside. Bring it back first." if pouch.aside else ""


def must_not_be_emptied(state: State, pouch: Pouch) -> str:
    """Object to a pouch whose food went back."""
    return f"Pouch {pouch.number} was emptied. Leave it out." if pouch.emptied else ""


def must_be_open(state: State, pouch: Pouch) -> str:
    """Object to a pouch that no hand reaches into."""
    if pouch.aside:
        return must_be_in_work(state, pouch)
    if pouch.sealed is not None:
        return f"Pouch {pouch.number} is already sealed. To open it, re-open it first."
    if pouch.shut is not None:
        return f"Pouch {pouch.number} is already shut. To open it, re-open it first."
    return ""


def must_have_absorbers(state: State, pouch: Pouch) -> str:
    """Object to a pouch that lacks absorbers the plan wants in it."""
    line = line_of(state, pouch)
    wanted = len(line.absorbers_cc) if line is not None else 0
    found = sum(placed.each for placed in pouch.placed)
    if found >= wanted:
        return ""
    if not found:
        return f"Pouch {pouch.number} has no absorber yet. Drop it in first."
    return f"Pouch {pouch.number} has {found} of {wanted} absorbers. Drop in the rest first."


def must_be_gas_tight(state: State, pouch: Pouch) -> str:
    """Object to a pouch without a seam all along."""
    if pouch.gas_tight:
        return ""
    wanted = "Close its gap" if pouch.gap_left else "Seal it"
    return f"Pouch {pouch.number} is not sealed yet. {wanted} first."


def after_filling(at: datetime) -> PouchRule:
    """A rule that objects to pouches filled later than `at`."""
    return lambda _, pouch: not_before(at, pouch.filled_at, f"pouch {pouch.number} was filled")
