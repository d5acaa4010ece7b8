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
    if not pouch.checks:
        return 0
    soonest, taken = pouch.sealed.utc + TOO_SOON, 0
    for check in pouch.checks:  # asked of every pouch at every press: no generator
        taken += check.at >= soonest
    return taken


def next_looks(session: SessionState) -> tuple[Look, ...]:
    """The looks that come next, by step: each for the pouches due first and those soon after.

    A pouch due later than that waits for the look after: whoever seals every day is called every
    day, and no seam waits for the last one sealed.
    """
    since: dict[int, list[tuple[datetime, Pouch]]] = {}
    for pouch in session.working_pouches():
        if pouch.sealed is None or pouch.gap_left:
            continue
        taken = looks_taken(pouch) if pouch.checks else 0
        last = pouch.checks[-1].at if taken else pouch.sealed.utc
        since.setdefault(taken + 1, []).append((last, pouch))
    return tuple(_next(step, waiting) for step, waiting in sorted(since.items()))


def _next(step: int, waiting: list[tuple[datetime, Pouch]]) -> Look:
    until = min(since for since, _ in waiting) + TOGETHER_WITHIN
    together = [(since, pouch) for since, pouch in waiting if since <= until]
    return Look(
        step=step,
        due_at=max(since for since, _ in together) + LOOK_AFTER[min(step, len(LOOK_AFTER)) - 1],
        pouches=tuple(pouch for _, pouch in together),
    )
