"""Which sessions does the book hold, and how does each stand? Found without reading them."""

from __future__ import annotations

from uuid import UUID

from packdesk.desk.ports import SessionHead
from packdesk.record.check import Query
from packdesk.record.rows import ReadFact, identifier, instant
from packdesk.session.envelope import BOOK_STREAM
from packdesk.session.facts import (
    AlarmRang,
    AlarmSilenced,
    FactVoided,
    SessionClosed,
    SessionOpened,
)

# Jumps from stream to stream along the index instead of walking over every entry.
_STREAMS = """
WITH RECURSIVE streams(stream) AS (
  SELECT min(stream) FROM events
  UNION ALL
  SELECT (SELECT min(stream) FROM events WHERE stream > streams.stream)
  FROM streams WHERE stream IS NOT NULL
)
"""
_OF_ALARMS = f"'{AlarmRang.kind}', '{AlarmSilenced.kind}'"
"""A session whose clock rings while another is in hand is not thereby the one used last."""
_HEADS = f"""{_STREAMS}
SELECT ends.stream, entries, first.kind, first.v, first.payload, first.happened_us,
       last.recorded_us
FROM (
  SELECT stream,
    (SELECT count(*) FROM events e WHERE e.stream = streams.stream) AS entries,
    (SELECT seq FROM events e WHERE e.stream = streams.stream ORDER BY hlc LIMIT 1) AS first_seq,
    (SELECT seq FROM events e WHERE e.stream = streams.stream AND e.kind NOT IN ({_OF_ALARMS})
       ORDER BY hlc DESC LIMIT 1) AS last_seq
  FROM streams WHERE stream NOT NULL AND stream != ?
) AS ends
JOIN events AS first ON first.seq = first_seq
JOIN events AS last ON last.seq = last_seq
ORDER BY last.hlc DESC
"""
_HIGHEST_HLC = f"""{_STREAMS}
SELECT max((SELECT max(hlc) FROM events e WHERE e.stream = streams.stream)) FROM streams
"""
_CLOSINGS = f"SELECT stream, event_id, hlc FROM events WHERE kind = '{SessionClosed.kind}'"
_LATER_VOIDINGS = f"""
SELECT event_id, v, payload FROM events
WHERE stream = ? AND hlc > ? AND kind = '{FactVoided.kind}'
ORDER BY hlc DESC, station_id DESC, station_seq DESC
"""


def session_heads(query: Query, read_fact: ReadFact) -> tuple[SessionHead, ...]:
    """Every session of the book, the one used last first."""
    closed = _closed_sessions(query, read_fact)
    heads = []
    for stream, entries, kind, v, payload, happened_us, recorded_us in query(
        _HEADS, (BOOK_STREAM.bytes,)
    ):
        first = read_fact(kind, v, payload)
        heads.append(
            SessionHead(
                session=identifier(stream),
                name=first.name if isinstance(first, SessionOpened) else "",
                opened_at=instant(happened_us),
                last_at=instant(recorded_us),
                closed=stream in closed,
                entries=entries,
            )
        )
    return tuple(heads)


def highest_hlc(query: Query) -> int:
    """The highest place in the merge order that is taken; 0 in a book without entries."""
    return query(_HIGHEST_HLC)[0][0] or 0


def _closed_sessions(query: Query, read_fact: ReadFact) -> set[bytes]:
    """The streams with a closing that no later fact of theirs voids."""
    return {
        stream
        for stream, closing, hlc in query(_CLOSINGS)
        if identifier(closing) not in _voided(query, read_fact, stream, hlc)
    }


def _voided(query: Query, read_fact: ReadFact, stream: bytes, after_hlc: int) -> set[UUID]:
    """What was voided after a place in the order; a voided voiding does not count."""
    voided: set[UUID] = set()
    for event_id, v, payload in query(_LATER_VOIDINGS, (stream, after_hlc)):
        if identifier(event_id) not in voided:
            fact = read_fact(FactVoided.kind, v, payload)
            voided.update(fact.targets if isinstance(fact, FactVoided) else ())
    return voided
