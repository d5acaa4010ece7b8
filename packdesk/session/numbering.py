"""Which numbers the next pouches bear, those on labels made before filling included."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import count as counting
from itertools import islice

from packdesk.session.state import SessionState
from packdesk.session.tally import tallies


def next_numbers(session: SessionState, line: int, count: int) -> tuple[int, ...]:
    """The numbers of the next `count` pouches of a plan line, in the order of filling.

    First those that lie ready on labels for it; then new ones, above all that were ever used or
    printed. A number is never used twice, not even of an emptied pouch.
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
    return tuple(number for number in coming if number not in session.numbers_printed)


def _from(session: SessionState, line: int, first_new: int) -> Iterator[int]:
    yield from (
        number
        for number, meant in sorted(session.numbers_printed.items())
        if meant == line and number not in session.pouches
    )
    yield from counting(first_new)


def _first_new(session: SessionState) -> int:
    return max((*session.pouches, *session.numbers_printed), default=0) + 1
