"""Which seams are looked at next, and when: a day after sealing, a week later, each half-year."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState

LOOK_AFTER = (timedelta(hours=24), timedelta(days=7), timedelta(days=182))
"""First, second and every later look at the seams (common practice, no source)."""

FIRST_LOOK_WITHIN = timedelta(hours=48)
"""A slow leak shows by then, and the rest is not yet stowed away (common practice, no source)."""

TOO_SOON = timedelta(hours=20)
"""A look so soon after sealing tells nothing of a slow leak: the first look is still to come."""

TOGETHER_WITHIN = timedelta(hours=12)
"""Pouches due so close after the first are looked at in one go: 24 to 36 h after sealing."""


@dataclass(frozen=True, slots=True)
class Look:
    """The next look of one kind: `step` 1 is the first after sealing; due for all `pouches`."""

    step: int
    due_at: datetime
    pouches: tuple[Pouch, ...]


def looks_taken(pouch: Pouch) -> int:
    """How many looks a gas-tight pouch has had, without those too soon after its sealing."""
    assert pouch.sealed is not None, "gas-tight pouches were sealed"
    soonest = pouch.sealed.utc + TOO_SOON
    return sum(check.at >= soonest for check in pouch.checks)


def next_looks(session: SessionState) -> tuple[Look, ...]:
    """The looks that come next, by step: each for the pouches due first and those soon after.

    A pouch due later than that waits for the look after: whoever seals every day is called every
    day, and no seam waits for the last one sealed.
    """
    by_step: dict[int, list[tuple[datetime, Pouch]]] = {}
    for pouch in session.working_pouches():
        if pouch.gas_tight:
            step = looks_taken(pouch) + 1
            by_step.setdefault(step, []).append((_due_at(pouch, step), pouch))
    return tuple(_first(step, waiting) for step, waiting in sorted(by_step.items()))


def _due_at(pouch: Pouch, step: int) -> datetime:
    assert pouch.sealed is not None, "gas-tight pouches were sealed"
    since = pouch.sealed.utc if step == 1 else pouch.checks[-1].at
    return since + LOOK_AFTER[min(step, len(LOOK_AFTER)) - 1]


def _first(step: int, waiting: list[tuple[datetime, Pouch]]) -> Look:
    last = min(due_at for due_at, _ in waiting) + TOGETHER_WITHIN
    together = [(due_at, pouch) for due_at, pouch in waiting if due_at <= last]
    return Look(
        step=step,
        due_at=max(due_at for due_at, _ in together),
        pouches=tuple(pouch for _, pouch in together),
    )
