"""Which absorbers a pouch still lacks of those planned for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from packdesk.session.figures import AgreedLine
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState


def lacking(line: AgreedLine, pouch: Pouch) -> Counter[int]:
    """The absorbers that `pouch` still lacks, by rating (cc); empty once it has its set."""
    placed: Counter[int] = Counter()
    for each in pouch.placed:
        placed[each.rating_cc] += each.each
    return Counter(line.absorbers_cc) - placed


def round_in_hand(
    session: SessionState, line: AgreedLine, pouches: Iterable[Pouch]
) -> Round | None:
    """The open round that the next of `pouches` takes from; the first open one, if none does.

    Two ratings may lie open at once: whichever the first lacking pouch lacks is in hand.
    """
    lying = [round_ for round_ in session.rounds.values() if round_.left]
    wanted = next((found for pouch in pouches if (found := lacking(line, pouch))), None)
    if wanted is not None:
        for round_ in lying:
            if wanted[round_.rating_cc]:
                return round_
    return lying[0] if lying else None
