"""Which absorbers a pouch still lacks of those planned for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import datetime

from packdesk.session.figures import AgreedLine
from packdesk.session.pouch import Closure, Placed, Pouch
from packdesk.session.state import Round, SessionState


def lacking(line: AgreedLine, pouch: Pouch) -> Counter[int]:
    """The absorbers that `pouch` still lacks, by rating (cc); empty once it has its set."""
    wanted = Counter(line.absorbers_cc)
    return wanted - _placed(pouch) if pouch.placed else wanted


def _placed(pouch: Pouch) -> Counter[int]:
    return _counted(pouch.placed)


def _counted(groups: Iterable[Placed]) -> Counter[int]:
    found: Counter[int] = Counter()
    for placed in groups:
        found[placed.rating_cc] += placed.each
    return found


def absorbers_in(line: AgreedLine, pouch: Pouch) -> Counter[int]:
    """The absorbers in `pouch`, by rating (cc).

    Of one that is closed: what went in. Of one that stands open: what is in it once it has its
    set, as planned or more.
    """
    return _placed(pouch) if pouch.closed else Counter(line.absorbers_cc) | _placed(pouch)


def told_by_label(line: AgreedLine, pouch: Pouch) -> Counter[int]:
    """The absorbers that a label of `pouch` tells of, by rating (cc): those that were in it when
    it was closed last; as planned, of one that never was."""
    closed = [turn.placings for turn in pouch.turns if turn.closure is not Closure.OPEN]
    groups = pouch.placed[: closed[-1]] if closed else pouch.spent
    return _counted(groups) if groups else absorbers_in(line, pouch)


def lying_in_turn(session: SessionState, at: datetime) -> tuple[Round, ...]:
    """The rounds whose absorbers lie open, in the order in which they are taken from.

    What may lie for the shortest time yet goes first, so that as little as can be is lost; what
    is past its time, or never was enough as planned, comes last.
    """
    lying = [round_ for round_ in session.rounds.values() if round_.left]

    def last(round_: Round) -> bool:
        return round_.no_margin or round_.more_each or round_.due <= at

    return tuple(sorted(lying, key=lambda each: (last(each), each.due, each.round)))


def round_in_hand(
    session: SessionState,
    line: AgreedLine,
    pouches: Iterable[Pouch],
    at: datetime,
    picked: int | None = None,
) -> Round | None:
    """The open round that the next of `pouches` takes from; the first in turn, if none does.

    Two ratings may lie open at once: whichever the first lacking pouch lacks is in hand. Of one
    rating it is the round `picked`, or else the one whose turn it is.
    """
    lying = lying_in_turn(session, at)
    wanted = next((found for pouch in pouches if (found := lacking(line, pouch))), None)
    fits = [round_ for round_ in lying if wanted is None or wanted[round_.rating_cc]]
    return next((r for r in fits if r.round == picked), next(iter(fits or lying), None))


def others_of_rating(session: SessionState, round_: Round, at: datetime) -> tuple[Round, ...]:
    """The other rounds whose absorbers, of the same rating, lie open too, in turn."""
    return tuple(
        other
        for other in lying_in_turn(session, at)
        if other.rating_cc == round_.rating_cc and other.round != round_.round
    )
