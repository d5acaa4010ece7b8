"""Which numbers the next pouches bear, those on labels made before filling included."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import count as counting
from itertools import islice

from packdesk.session.state import SessionState
from packdesk.session.tally import tallies


def next_numbers(session: SessionState, line: int, count: int) -> tuple[int, ...]:
    """The numbers of the next `count` pouches of a plan line, in the order of filling.

    First those that lie ready on labels for it, then those whose label tore; then new ones, above
    all that were ever used or printed. A number is never used twice, not even of an emptied pouch.
    """
    return tuple(islice(_from(session, line, _first_new(session)), count))


def numbers_by_line(session: SessionState) -> Mapping[int, tuple[int, ...]]:
    """The numbers that all pouches still to be filled would have, line after line, by line."""
    new = _first_new(session)
    found = {}
    for tally in tallies(session):
        numbers = tuple(islice(_from(session, tally.line.line, new), tally.to_fill))
        new = max(new, *(number + 1 for number in numbers)) if numbers else new
        found[tally.line.line] = numbers
    return found


def numbers_to_print(session: SessionState, line: int) -> tuple[int, ...]:
    """The numbers still to come on a plan line that lie on no label yet."""
    coming = numbers_by_line(session).get(line, ())
    printed = numbers_on_labels(session)
    return tuple(number for number in coming if number not in printed)


def numbers_on_labels(session: SessionState) -> Mapping[int, int]:
    """The numbers that lie on labels made before filling, each with its plan line.

    Labels that nobody has answered for yet count too: they may be on the pouches already.
    """
    asked = session.labels_asked
    made = dict.fromkeys(asked.pouches, asked.line) if asked is not None and asked.line else {}
    return {**session.numbers_printed, **made}


def _from(session: SessionState, line: int, first_new: int) -> Iterator[int]:
    ready = numbers_on_labels(session)
    torn = {number: of for number, of in session.numbers_torn.items() if number not in ready}
    for meant in (ready, torn):
        yield from (
            number
            for number, of in sorted(meant.items())
            if of == line and number not in session.pouches
        )
    yield from counting(first_new)


def _first_new(session: SessionState) -> int:
    known = (session.pouches, numbers_on_labels(session), session.numbers_torn)
    return max((number for numbers in known for number in numbers), default=0) + 1
