"""Which absorbers a pouch still lacks of those planned for it."""

from __future__ import annotations

from collections import Counter

from packdesk.session.figures import AgreedLine
from packdesk.session.state import Pouch


def lacking(line: AgreedLine, pouch: Pouch) -> Counter[int]:
    """The absorbers that `pouch` still lacks, by rating (cc); empty once it has its set."""
    placed: Counter[int] = Counter()
    for each in pouch.placed:
        placed[each.rating_cc] += each.each
    return Counter(line.absorbers_cc) - placed
