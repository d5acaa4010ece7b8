"""Which pouches stand open again with their absorbers in, and what one more is taken from."""

from __future__ import annotations

from datetime import datetime

from packdesk.session.book_state import BookState, Remainder
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, lying_in_turn
from packdesk.session.packing_room import known_room_c
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState
from packdesk.session.supply import more_for_sure
from packdesk.session.verdicts import Enough, verdict


def open_again(session: SessionState, line: AgreedLine) -> tuple[Pouch, ...]:
    """The pouches of a plan line that stand open with their whole set in, by number.

    They were opened again, or never shut. Not those that only heat closes and that are open until
    then, as liners are: they wait for the iron.
    """
    return () if line.liner and not line.zip else _whole(session, line)


def _whole(session: SessionState, line: AgreedLine) -> tuple[Pouch, ...]:
    return tuple(
        pouch
        for pouch in open_pouches(session, line.line)
        if pouch.placed and not lacking(line, pouch)
    )


def wanting_one_more(session: SessionState, line: AgreedLine, at: datetime) -> tuple[Pouch, ...]:
    """What stands open with its whole set in, liners too, and is not surely enough at `at`."""
    return tuple(
        pouch
        for pouch in _whole(session, line)
        if (found := verdict(line, pouch, session.plan, at)) is not None
        and found.verdict in (Enough.MARGINAL, Enough.ADD_ONE)
    )


def round_for_one_more(
    session: SessionState, line: AgreedLine, at: datetime, picked: int | None = None
) -> Round | None:
    """The open round that one more is taken from: of a rating the plan line uses, if there is one.

    It is the round `picked`, or else the one whose turn it is of those that make sure.
    """
    fits = [each for each in lying_in_turn(session, at) if each.rating_cc in line.absorbers_cc]
    first = next(iter(wanting_one_more(session, line, at)), None)
    serve = [
        each
        for each in fits
        if first is None or more_for_sure(session, line, first, each, at).taken(each.left)
    ]
    return next((each for each in fits if each.round == picked), next(iter(serve or fits), None))


def jar_for_one_more(
    book: BookState, session: SessionState, line: AgreedLine, at: datetime
) -> Remainder | None:
    """The jar whose absorbers, one more each, make up what the pouches open again want at `at`.

    One that holds enough for all of them goes first, and of those the one opened longest ago.
    """
    from packdesk.session.exposure import left_in_vessel, pressure_of  # loads numpy

    wanting = wanting_one_more(session, line, at)
    if not wanting:
        return None
    lacks_cc = 0.0
    for pouch in wanting:
        found = verdict(line, pouch, session.plan, at)
        lacks_cc = max(lacks_cc, found.need_cc - found.low_cc if found is not None else 0.0)
    pressure_pa = pressure_of(session.plan)
    room_c = known_room_c(session)
    suits = [
        each
        for each in book.remainders.values()
        if each.count
        and not each.taken
        and each.rating_cc in line.absorbers_cc
        and left_in_vessel(each, at, room_c, pressure_pa)[0] >= lacks_cc
    ]
    order = sorted(suits, key=lambda jar: (jar.count < len(wanting), jar.oldest_opening))
    return next(iter(order), None)
