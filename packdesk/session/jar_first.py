"""Whether a jar shut up before does for what stands open, so that no new packet is needed."""

from __future__ import annotations

from datetime import datetime

from packdesk.instants import Reading
from packdesk.session.book_state import BookState, Remainder
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, lying_in_turn
from packdesk.session.open_again import jar_for_one_more, wanting_one_more
from packdesk.session.packing_room import known_room_c
from packdesk.session.state import Round, SessionState
from packdesk.session.supply import served


def jar_that_suits(
    book: BookState, session: SessionState, line: AgreedLine, at: datetime
) -> Remainder | None:
    """The jar to take from before a packet is cut; None where no jar does for what stands open.

    It gives every pouch of `line` what makes sure; of several it is the one opened longest ago.
    While absorbers lie open these come first.
    """
    if wanting_one_more(session, line, at):
        return jar_for_one_more(book, session, line, at)
    pouches = [each for each in open_pouches(session, line.line) if lacking(line, each)]
    if not pouches or lying_in_turn(session, at):
        return None
    lacked = lacking(line, pouches[0])
    suits = [
        each
        for each in book.remainders.values()
        if each.count
        and not each.taken
        and lacked[each.rating_cc]
        and len(served(session, line, pouches, as_opened(session, each, at), at)) == len(pouches)
    ]
    return min(suits, key=lambda jar: jar.oldest_opening, default=None)


def as_opened(session: SessionState, jar: Remainder, at: datetime) -> Round:
    """The round that would begin if `jar` was opened at `at`."""
    from packdesk.session.exposure import left_in_vessel, open_time, pressure_of  # loads numpy

    room_c = known_room_c(session)
    low_cc, likely_cc = left_in_vessel(jar, at, room_c, pressure_of(session.plan))
    lies = open_time(session.plan, jar.rating_cc, jar.rating_cc - low_cc, room_c)
    return Round(
        round=0,
        source=jar.remainder,
        rating_cc=jar.rating_cc,
        count=jar.count,
        capacity_low_cc=low_cc,
        capacity_likely_cc=likely_cc,
        limit=lies.limit,
        limit_min=lies.limit_min,
        room_c=room_c,
        started=Reading(at, 0, 0.0, ""),
        last_at=at,
        margin_min=lies.margin_min,
        more_each=lies.more_each,
    )
