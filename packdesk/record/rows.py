"""How one recorded fact lies in a row of the book: whole numbers, identifiers and text."""

from __future__ import annotations

import typing
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import NamedTuple
from uuid import UUID

from packdesk.instants import Reading
from packdesk.record.chain import is_intact, next_chain
from packdesk.session.envelope import Draft, Entry
from packdesk.session.fact import Fact, UnknownFact, fact_text

ReadFact = Callable[[str, int, str], Fact | UnknownFact]
"""Turns a stored kind, version and content into the fact it is."""

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)


class Row(NamedTuple):
    """Everything stored of one fact, in the order of the columns; all but `chain` is chained."""

    event_id: bytes
    act: bytes
    station_id: bytes
    station_seq: int
    stream: bytes
    happened_us: int
    about_s: int
    recorded_us: int
    tz_min: int
    steady_ms: int
    boot: str
    who: str
    hlc: int
    kind: str
    v: int
    payload: str
    chain: bytes


_TYPES = tuple(typing.get_type_hints(Row).values())


class Link(NamedTuple):
    """A row with the chain value of the entry before it in its station."""

    prev: bytes
    row: Row

    def holds(self) -> bool:
        """Whether the row's content is the one its chain value was made for."""
        return is_intact(self.prev, self.row[:-1], self.row.chain)


def row_for(draft: Draft, station: UUID, station_seq: int, highest_hlc: int, prev: bytes) -> Row:
    """Give a draft what only the book can give: number, place in the merge order, chain value.

    `highest_hlc` is the highest place in the book so far: a clock that was set back does not
    put a fact before the one it followed.
    """
    recorded_us = microseconds(draft.recorded.utc)
    columns = (
        draft.id.bytes,
        draft.act.bytes,
        station.bytes,
        station_seq,
        draft.stream.bytes,
        microseconds(draft.happened_at),
        round(draft.about_min * 60),
        recorded_us,
        draft.recorded.utc_offset_min,
        round(draft.recorded.steady_s * 1000),
        draft.recorded.boot,
        draft.who,
        max(recorded_us, highest_hlc + 1),
        draft.fact.kind,
        draft.fact.v,
        fact_text(draft.fact),
    )
    return Row(*columns, next_chain(prev, columns))


def entry_of(row: Row, read_fact: ReadFact) -> Entry:
    """Read a stored row back as the entry it is.

    Raises `ValueError`, `TypeError` or `OverflowError` for a row that damage has changed.
    """
    if tuple(map(type, row)) != _TYPES:
        raise TypeError("a column holds something of another type")
    return Entry(
        id=UUID(bytes=row.event_id),
        act=UUID(bytes=row.act),
        stream=UUID(bytes=row.stream),
        happened_at=instant(row.happened_us),
        about_min=row.about_s / 60,
        recorded=Reading(instant(row.recorded_us), row.tz_min, row.steady_ms / 1000, row.boot),
        who=row.who,
        station=UUID(bytes=row.station_id),
        station_seq=row.station_seq,
        fact=read_fact(row.kind, row.v, row.payload),
    )


def microseconds(at: datetime) -> int:
    """UTC microseconds since 1970 of an aware instant, exactly."""
    return (at - _EPOCH) // _MICROSECOND


def instant(at_us: int) -> datetime:
    """The UTC instant that many microseconds after 1970."""
    return _EPOCH + at_us * _MICROSECOND


def identifier(stored: bytes) -> UUID:
    """The identifier that a column holds; `TypeError` or `ValueError` where damage changed it."""
    if not isinstance(stored, bytes):
        raise TypeError("an identifier holds something of another type")
    return UUID(bytes=stored)


def station_name(station_id: bytes) -> str:
    """What a sentence calls a station: enough of its identity to tell it from the others."""
    return f"station {station_id.hex()[:8]}" if isinstance(station_id, bytes) else "a station"
