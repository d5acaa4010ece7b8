"""The field of a body read at chosen hours of any history of surroundings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from packdesk.physics.heat_bodies import Direction, Surroundings
from packdesk.physics.heat_field import Axis, Field, Place
from packdesk.physics.heat_profiles import Profile
from packdesk.physics.ranges import Floats, OutOfRange


@dataclass(frozen=True, slots=True)
class Temperatures:
    """What a thermometer would show; each array has the hours as its last axis."""

    core_c: Floats
    surface_c: Floats
    mean_c: Floats


def core(profiles: Sequence[Profile], directions: Sequence[Direction]) -> Place:
    """The middle of the load, which with every side cooled alike is its slowest point."""
    return tuple(each.at_centre for each in profiles)


def surface(profiles: Sequence[Profile], directions: Sequence[Direction]) -> Place:
    """The slowest place of the surface: the wall half way up, the middle of the largest face."""
    return tuple(
        each.at_surface if direction.meets_surface else each.at_centre
        for each, direction in zip(profiles, directions, strict=True)
    )


def mean(profiles: Sequence[Profile], directions: Sequence[Direction]) -> Place:
    """The average over the whole load, which says how much heat is still in it."""
    return tuple(each.on_average for each in profiles)


PlaceOf = Callable[[Sequence[Profile], Sequence[Direction]], Place]
"""How a place is said in the eigenfunctions of one step."""

PLACES: tuple[PlaceOf, ...] = (core, surface, mean)


def below_faces(faces: tuple[bool, ...], depth: float) -> PlaceOf:
    """A place equally deep below some faces and in the middle of the other directions.

    ``faces`` says of each direction whether it lies below its face; ``depth`` is counted in the
    shortest half length: 0 at the faces, 1 where that direction's middle is.
    """

    def place(profiles: Sequence[Profile], directions: Sequence[Direction]) -> Place:
        shortest = min(direction.half_length_m for direction in directions)
        return tuple(
            each.at(1.0 - depth * shortest / direction.half_length_m) if below else each.at_centre
            for each, direction, below in zip(profiles, directions, faces, strict=True)
        )

    return place


_DEPTHS = (0.0, 0.03, 0.07, 0.13, 0.2, 0.3, 0.42, 0.56, 0.75)
"""Dense below the faces, where the cold of a load taken out early begins to move inward."""


def scattered(directions: int) -> tuple[PlaceOf, ...]:
    """Enough places for one of them to lie close to the coldest food at any time.

    The core, and the ways inward from the middle of every face, edge and corner; on one of these
    the coldest place lies, because all of a body's directions warm from outside at once.
    """
    ways = product((False, True), repeat=directions)
    below = (below_faces(faces, depth) for faces in ways if any(faces) for depth in _DEPTHS)
    return (core, *below)


def hours_within(history: Sequence[Surroundings], hours: Floats) -> Floats:
    """The hours asked for, refused if one lies before the history begins."""
    asked = np.atleast_1d(np.asarray(hours, dtype=np.float64))
    first = history[0].start_h
    early = ~(asked >= first) | ~np.isfinite(asked)
    if early.any():
        raise OutOfRange("hours", float(asked[early][0]), first, np.inf, "h")
    return asked


@dataclass(frozen=True, slots=True)
class Asked:
    """Some places, and the hours they are to be read at, in any order."""

    places: tuple[PlaceOf, ...]
    hours: Floats


def read(
    axes: Sequence[Axis],
    directions: Sequence[Direction],
    start_temp_c: float,
    history: Sequence[Surroundings],
    asked: Sequence[Asked],
) -> list[Floats]:
    """For each of ``asked`` the temperatures, shape (places, members, hours), in its order.

    An hour at which a step begins is read at the end of the step before: the field itself does
    not jump, and there the higher eigenfunctions have faded. The field is carried through the
    history once, however much is asked.
    """
    members = len(axes[0].half_length_m)
    orders = [np.argsort(each.hours, kind="stable") for each in asked]
    rising = [each.hours[order] for each, order in zip(asked, orders, strict=True)]
    found = [np.empty((len(each.places), members, len(each.hours))) for each in asked]
    starts = np.array([step.start_h for step in history])
    every = np.unique(np.concatenate(rising))
    begins = [int(np.searchsorted(each, starts[0], side="right")) for each in rising]
    for out, order, begin in zip(found, orders, begins, strict=True):
        out[:, :, order[:begin]] = start_temp_c
    field = Field(
        axes,
        start_temp_c,
        history[0].temp_c,
        history[0].coefficient_w_m2_k,
        _shortest_h(starts, every),
    )
    told_in, wanted = field.profiles, dict[int, list[Place]]()
    for at, step in enumerate(history):
        if at:
            field.step(step.start_h - history[at - 1].start_h, step.temp_c, step.coefficient_w_m2_k)
        if told_in is not field.profiles:
            told_in, wanted = field.profiles, {}
        last = starts[at + 1] if at + 1 < len(history) else np.inf
        for which, each in enumerate(asked):
            begin, hours = begins[which], rising[which]
            end = int(np.searchsorted(hours, last, side="right"))
            if end > begin:
                if which not in wanted:
                    wanted[which] = [place(told_in, directions) for place in each.places]
                temps = field.temperatures_c(wanted[which], hours[begin:end] - step.start_h)
                found[which][:, :, orders[which][begin:end]] = temps
                begins[which] = end
        if len(every) and every[-1] <= last:
            break
    return found


def _shortest_h(starts: Floats, rising: Floats) -> float:
    """The least time after the beginning of a step at which the field is needed."""
    latest = np.searchsorted(starts, rising, side="left") - 1
    since = (rising - starts[np.maximum(latest, 0)])[latest >= 0]
    lengths = np.diff(starts[starts <= rising[-1]]) if len(rising) else np.zeros(0)
    spans = np.concatenate([since[since > 0.0], lengths[lengths > 0.0]])
    return float(spans.min()) if len(spans) else 1.0
