"""A session file as the state it tells, without any record book."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

from packdesk.instants import Reading
from packdesk.record.session_file import SessionFile, read_session_file
from packdesk.record.session_line import SessionLine
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact, UnknownFact
from packdesk.session.fold import fold
from packdesk.session.state import State

NO_STATION = UUID(int=0)


@dataclass(frozen=True, slots=True)
class Told:
    """What a session file tells: its entries and the state they fold to."""

    file: SessionFile
    entries: tuple[Entry, ...]
    state: State
    last: Reading


def tell(path: Path) -> Told:
    """Read a session file and fold it. Raises `FaultySessionFile` or `Trouble`."""
    file = read_session_file(path)
    entries = tuple(_entry(number, line) for number, line in enumerate(file.lines, start=1))
    if not entries:
        raise ValueError(f"{path} holds a header and no facts; there is nothing to tell.")
    return Told(file, entries, fold(entries), entries[-1].recorded)


def _entry(number: int, line: SessionLine) -> Entry:
    return Entry(
        id=line.id,
        act=line.act,
        stream=line.stream,
        happened_at=line.happened_at,
        about_min=line.about_min,
        recorded=reading_of(line),
        who=line.who,
        station=NO_STATION,
        station_seq=number,
        fact=line.fact,
    )


def reading_of(line: SessionLine) -> Reading:
    """What the clocks said when a line was recorded.

    A line written by hand tells a wall clock only; its steady clock is taken to have run along.
    """
    if line.row is not None and line.recorded is not None:
        return line.recorded
    utc = line.happened_at if line.recorded is None else line.recorded.utc
    return Reading(utc, line.utc_offset_min, utc.timestamp(), "session file")


def acts_of(file: SessionFile) -> Iterator[tuple[SessionLine, ...]]:
    """The lines of a file, those of one act together, in the order of the file."""
    act: list[SessionLine] = []
    for line in file.lines:
        if act and act[-1].act != line.act:
            yield tuple(act)
            act = []
        act.append(line)
    if act:
        yield tuple(act)


def known_facts(act: tuple[SessionLine, ...]) -> tuple[Fact, ...]:
    """The facts of an act; raises `ValueError` for a kind only a newer PackDesk knows."""
    found = []
    for line in act:
        if isinstance(line.fact, UnknownFact):
            raise ValueError(
                f"Line {line.number}: “{line.fact.kind}” is of a newer PackDesk. "
                "Install that one to rehearse this session."
            )
        found.append(line.fact)
    return tuple(found)
