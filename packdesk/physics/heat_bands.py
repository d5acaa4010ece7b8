"""What an ensemble says in three figures: quantiles by weight, and when a condition first holds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packdesk.physics.ranges import Floats, within


@dataclass(frozen=True, slots=True)
class Band:
    """An early, a likely and a late hour; infinite where it lies beyond the hours looked at."""

    early_h: float
    likely_h: float
    late_h: float


def rising(hours: Floats) -> Floats:
    """The hours, refused if there is none or if they go back in time."""
    if not len(hours) or not np.all(np.diff(hours) >= 0.0):
        raise ValueError("The hours are none or go back in time; give at least one, in order.")
    return hours


def weighted_quantiles(values: Floats, weights: Floats, shares: Sequence[float]) -> Floats:
    """The values below which each share of the weight lies.

    Symbols: ``values`` with the members along the first axis, infinite ones allowed; ``weights``
    one for each member, 0 or more; ``shares`` 0 to 1 each, first in what is handed back.

    Source: A. Hazen's rule, 1914, from memory (the "hazen" of numpy.quantile) with a weight to
    each member: it stands in the middle of its own, and between two members the value is
    interpolated.

    Example: of 1, 2 and 4 with equal weights the middle is 2:

    >>> weighted_quantiles(np.array([1.0, 2.0, 4.0]), np.ones(3), [0.5]).tolist()
    [2.0]

    Limits: beyond the outermost members the value is theirs.
    """
    flat = values.reshape(len(values), -1)
    order = np.argsort(flat, axis=0, kind="stable")
    rising = np.take_along_axis(flat, order, axis=0)
    share = weights[order] / weights.sum()
    middle = np.cumsum(share, axis=0) - share / 2.0
    out = np.empty((len(shares), flat.shape[1]))
    for at, wanted in enumerate(shares):
        within("share", wanted, 0.0, 1.0)
        above = np.sum(middle < wanted, axis=0)
        right = np.minimum(above, len(flat) - 1)
        left = np.maximum(above - 1, 0)
        columns = np.arange(flat.shape[1])
        low, high = rising[left, columns], rising[right, columns]
        finite = np.isfinite(low) & np.isfinite(high)
        span = middle[right, columns] - middle[left, columns]
        part = (wanted - middle[left, columns]) / np.where(span > 0.0, span, 1.0)
        apart = np.subtract(high, low, out=np.zeros_like(low), where=finite)
        between = low + np.clip(part, 0.0, 1.0) * apart
        out[at] = np.where(finite, between, np.where(part > 1e-9, high, low))
    return out.reshape(len(shares), *values.shape[1:])


def first_times_h(
    hours: Floats,
    values: Floats,
    *,
    at_or_below: float | None = None,
    at_or_above: float | None = None,
    held_h: float = 0.0,
) -> Floats:
    """For each row of ``values``, the first hour at which it has been past the limit long enough.

    Symbols: ``hours`` rising; ``values`` at them along the last axis; one limit, ``at_or_below``
    or ``at_or_above``, in the unit of ``values``; ``held_h`` how long it must hold without a
    break, 0 h or more. The answer is the end of the hold, and infinite if the hours looked at do
    not contain it.

    Source: definition; between two hours the value is taken to run straight.

    Example: from 4 at 1 h to −4 at 3 h the value is at 0 after 2 hours:

    >>> first_times_h(np.array([1.0, 3.0]), np.array([4.0, -4.0]), at_or_below=0.0).tolist()
    [2.0]

    Limits: a break shorter than the step between two hours is not seen. A value that is not a
    number ends the hold.
    """
    if (at_or_below is None) == (at_or_above is None):
        raise ValueError("Give one limit: either at_or_below or at_or_above.")
    hours = rising(hours)
    within("held_h", held_h, 0.0, math.inf, "h")
    rows = np.atleast_2d(values)
    if at_or_below is not None:
        margin = within("at_or_below", at_or_below, -math.inf, math.inf) - rows
    if at_or_above is not None:
        margin = rows - within("at_or_above", at_or_above, -math.inf, math.inf)
    holds = margin >= 0.0
    before, now = margin[:, :-1], margin[:, 1:]
    change = np.where(holds[:, 1:] == holds[:, :-1], 1.0, now - before)
    crossing = hours[:-1] + np.diff(hours) * np.clip(-before / change, 0.0, 1.0)
    begins = np.where(holds[:, 1:] & ~holds[:, :-1], crossing, -np.inf)
    first = np.where(holds[:, :1], hours[0], -np.inf)
    begun = np.maximum.accumulate(np.concatenate([first, begins], axis=1), axis=1)
    # A hold goes on to the hour itself, or to the crossing on the way to an hour that is past it.
    ended = np.concatenate([np.full_like(first, -np.inf), crossing], axis=1)
    held = begun + held_h <= np.where(holds, hours, ended)
    # At an hour past the hold, only a hold that went on until the hour before ends on the way.
    held &= holds | np.concatenate([np.zeros_like(holds[:, :1]), holds[:, :-1]], axis=1)
    at = np.argmax(held, axis=1)
    found = np.take_along_axis(begun, at[:, None], axis=1)[:, 0] + held_h
    return np.where(held.any(axis=1), found, np.inf)
