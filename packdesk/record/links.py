"""Which rows of the book go into a file: each with what is needed to check it there."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any
from uuid import UUID

from packdesk.record.chain import START
from packdesk.record.check import Query
from packdesk.record.rows import Link, Row

COLUMNS = ", ".join(f"events.{name}" for name in Row._fields)
FOLD_ORDER = "ORDER BY events.hlc, events.station_id, events.station_seq"

_AT_ONCE = 1000
_LINKED = f"""
SELECT events.seq, coalesce(before.chain, known_gaps.prev, ?), {COLUMNS} FROM events
LEFT JOIN events AS before
  ON before.station_id = events.station_id AND before.station_seq = events.station_seq - 1
LEFT JOIN known_gaps
  ON known_gaps.station_id = events.station_id AND known_gaps.before_seq = events.station_seq
"""


def links_of(query: Query, streams: Collection[UUID]) -> Iterator[Link]:
    """The rows of some streams in the order of the fold."""
    wanted = [stream.bytes for stream in set(streams)]
    marks = ", ".join("?" * len(wanted))
    yield from _links(
        query(f"{_LINKED} WHERE events.stream IN ({marks}) {FOLD_ORDER}", (START, *wanted))
    )


def all_links(query: Query) -> Iterator[Link]:
    """Every row of the book in the order of arrival, read a thousand at a time."""
    seq = 0
    while rows := query(
        f"{_LINKED} WHERE events.seq > ? ORDER BY events.seq LIMIT ?", (START, seq, _AT_ONCE)
    ):
        yield from _links(rows)
        seq = rows[-1][0]


def _links(rows: list[tuple[Any, ...]]) -> Iterator[Link]:
    for _, prev, *columns in rows:
        yield Link(prev, Row(*columns))
