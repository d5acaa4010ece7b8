"""What the absorbers in a pouch can still do against its oxygen, every stretch of air counted.

A pouch stands open, is pressed shut, is opened again, is sealed: the account follows its absorbers
through all of it. Importing this loads numpy, so callers import it where they need it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from itertools import groupby

import numpy as np

from packdesk.physics import absorber
from packdesk.physics.absorber import BehindZip, OpenAir, ShutIn, Stretch
from packdesk.physics.ranges import Floats
from packdesk.physics.uptake import PUBLISHED_UPTAKE
from packdesk.session.packing_room import USUAL_ROOM_C
from packdesk.session.pouch import Closure, Placed, Turn

LONGEST_STRETCH_MIN = 100_000.0
"""Ten weeks: a longer stretch is reckoned in pieces of this length."""

_UPTAKE = np.array([PUBLISHED_UPTAKE.high, PUBLISHED_UPTAKE.likely])


@dataclass(frozen=True, slots=True)
class Account:
    """What absorbers can still do for their pouch (cc of oxygen), all of them together.

    `low_cc` and `likely_cc` are to be held against the oxygen of the pouch as it was first shut:
    what they took up of that very oxygen is not lost. `fresh_cc` is what they had when they went
    in, `open_min` how long any of them lay in the open pouch, `zip_min` behind a pressed zip.
    """

    low_cc: float
    likely_cc: float
    fresh_cc: float
    open_min: float
    zip_min: float


@dataclass(frozen=True, slots=True)
class _Piece:
    """A stretch of time in which nothing was changed about a pouch."""

    closure: Closure
    minutes: float
    room_c: float
    joined: tuple[Placed, ...] = ()
    """Absorbers that came in at its beginning."""


@lru_cache(maxsize=4096)
def account(
    placed: tuple[Placed, ...],
    turns: tuple[Turn, ...],
    air_cc: float,
    pressure_pa: float,
    at: datetime | None = None,
) -> Account:
    """Follow the absorbers of a pouch that shuts in `air_cc` up to `at`.

    Without `at` only up to what last happened to the pouch: a stretch that goes on is left out.
    Entries noted for an earlier minute than the one before them count from that one.
    """
    pieces = _pieces(placed, turns, at)
    left = np.zeros(2)
    worth = np.zeros(2)
    for is_open, run in groupby(pieces, key=lambda piece: _is_open(piece.closure)):
        if not is_open:
            closed = list(run)
            left = left + sum((_capacities(piece.joined) for piece in closed), np.zeros(2))
            left, worth = _behind(left, closed, air_cc, pressure_pa)
            continue
        for piece in run:
            left = left + _capacities(piece.joined)
            left = _left(left, _in_the_open(piece, pressure_pa))
        worth = left
    return Account(
        low_cc=float(worth[0]),
        likely_cc=float(worth[1]),
        fresh_cc=sum(each.capacity_likely_cc * each.each for each in placed),
        open_min=sum(piece.minutes for piece in pieces if _is_open(piece.closure)),
        zip_min=sum(p.minutes for p in pieces if p.closure is Closure.PRESSED_SHUT),
    )


def _is_open(closure: Closure) -> bool:
    # A gap as wide as a hose is no closure; that it is open is the cautious way to count it.
    return closure in (Closure.OPEN, Closure.GAP)


def _pieces(
    placed: tuple[Placed, ...], turns: tuple[Turn, ...], at: datetime | None
) -> tuple[_Piece, ...]:
    """The stretches in recorded order; absorbers join only a pouch that stands open."""
    events: list[tuple[datetime | None, Closure | None, tuple[Placed, ...]]] = []
    for place, each in enumerate(placed):
        events += [(t.reading.utc, t.closure, ()) for t in turns if t.placings == place]
        events.append((each.at, None, (each,)))
    events += [(t.reading.utc, t.closure, ()) for t in turns if t.placings >= len(placed)]
    events.append((at, None, ()))
    found: list[_Piece] = []
    closure, room_c = Closure.OPEN, USUAL_ROOM_C
    since: datetime | None = None
    joined: tuple[Placed, ...] = ()
    for when, turned, coming in events:
        if when is not None and since is not None:
            minutes = max(0.0, (when - since).total_seconds() / 60.0)
            found.append(_Piece(closure, minutes, room_c, joined))
            joined = ()
            since = max(since, when)
        elif when is not None:
            since = when
        closure = turned or closure
        joined = (*joined, *coming)
        room_c = coming[-1].room_c if coming else room_c
    return (*found, _Piece(closure, 0.0, room_c, joined))


def _capacities(joined: tuple[Placed, ...]) -> Floats:
    low = sum(each.capacity_low_cc * each.each for each in joined)
    likely = sum(each.capacity_likely_cc * each.each for each in joined)
    return np.array([low, likely])


def _left(capacity: Floats, history: list[Stretch]) -> Floats:
    found = absorber.exposure(capacity, history, uptake_25_per_h=_UPTAKE)
    return np.asarray(found.left_cc)


def _in_the_open(piece: _Piece, pressure_pa: float) -> list[Stretch]:
    minutes = min(piece.minutes, LONGEST_STRETCH_MIN)
    return [OpenAir(minutes, piece.room_c, pressure_pa=pressure_pa)]


def _behind(
    capacity: Floats, run: list[_Piece], air_cc: float, pressure_pa: float
) -> tuple[Floats, Floats]:
    """What is left after a run of stretches in one closing, and what it is worth to the pouch.

    Oxygen of the pouch's own that was taken meanwhile was meant to be taken; only what leaked in
    beside it is lost to the pouch.
    """
    history: list[Stretch] = []
    for piece in run:
        for minutes in in_pieces(piece.minutes):
            still = bool(history)
            history.append(
                ShutIn(minutes, piece.room_c, air_cc, still, pressure_pa=pressure_pa)
                if piece.closure is Closure.SEALED
                else BehindZip(
                    minutes, piece.room_c, air_cc, still_shut=still, pressure_pa=pressure_pa
                )
            )
    first = ShutIn(0.0, run[0].room_c, air_cc, pressure_pa=pressure_pa)
    shut_in_cc = absorber.exposure(0.0, [first]).oxygen_cc
    found = absorber.exposure(capacity, history, uptake_25_per_h=_UPTAKE)
    left = np.asarray(found.left_cc)
    return left, left + np.maximum(shut_in_cc - np.asarray(found.oxygen_cc), 0.0)


def in_pieces(minutes: float) -> list[float]:
    """A long stretch cut into pieces that the physics takes; one of no length stays one."""
    whole = timedelta(minutes=minutes) // timedelta(minutes=LONGEST_STRETCH_MIN)
    return [LONGEST_STRETCH_MIN] * whole + [minutes - whole * LONGEST_STRETCH_MIN]
