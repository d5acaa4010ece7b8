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


def weighted_quantiles(values: Floats, weights: Floats, shares: Sequence[float]) -> Floats:
    """The values below which each share of the weight lies, members along the first axis.

    Each member stands in the middle of its own weight; between two members the value is
    interpolated, beyond the outermost ones it is theirs.
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

    ``hours`` rises; between two hours the value is taken to run straight. The answer is the end
    of the hold, and infinite if the hours looked at do not contain it.
    """
    if (at_or_below is None) == (at_or_above is None):
        raise ValueError("Give one limit: either at_or_below or at_or_above.")
    within("held_h", held_h, 0.0, math.inf, "h")
    if at_or_below is not None:
        margin = at_or_below - np.atleast_2d(values)
    else:
        margin = np.atleast_2d(values) - (at_or_above or 0.0)
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
