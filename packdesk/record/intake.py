"""How a session file comes into a book: what another book wrote as it is, the rest as new."""

from __future__ import annotations

from packdesk.instants import FAST_KITCHEN_CLOCK, Reading
from packdesk.record.book import Book
from packdesk.record.line_faults import Fault
from packdesk.record.session_file import FaultySessionFile, SessionFile
from packdesk.record.session_line import SessionLine
from packdesk.record.take import Taken
from packdesk.session.envelope import Draft
from packdesk.session.fact import UnknownFact


def take_in(book: Book, file: SessionFile, now: Reading) -> Taken:
    """Add the facts of a session file to a book; those that are there already are skipped.

    Facts that another book wrote keep their station, number and chain. Facts written by hand
    are recorded now, by this station, as having happened when their line says. Raises
    `FaultySessionFile` for facts still to come, `DoesNotFit` when the file contradicts the book,
    `Trouble` when the disk refuses.
    """
    by_hand = [line for line in file.lines if line.row is None]
    _refuse_the_future(file, by_hand, now)
    taken = book.take(file.links, now.utc)
    there = {entry.id for entry in book.entries({line.stream for line in by_hand})}
    new = [line for line in by_hand if line.id not in there]
    book.append([_draft(line, now) for line in new])
    return Taken(taken.added + len(new), taken.known + len(by_hand) - len(new), taken.forks)


def _refuse_the_future(file: SessionFile, lines: list[SessionLine], now: Reading) -> None:
    faults = tuple(
        Fault(line.number, "it lies in the future: a record says what happened.")
        for line in lines
        if line.happened_at > now.utc + FAST_KITCHEN_CLOCK
    )
    if faults:
        raise FaultySessionFile(file.name, faults)


def _draft(line: SessionLine, now: Reading) -> Draft:
    assert not isinstance(line.fact, UnknownFact)  # a fault in a line written by hand
    return Draft(
        id=line.id,
        act=line.act,
        stream=line.stream,
        happened_at=line.happened_at,
        about_min=line.about_min,
        recorded=now,
        who=line.who,
        fact=line.fact,
    )
