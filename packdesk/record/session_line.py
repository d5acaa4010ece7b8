"""How one fact becomes a line of a session file, and a fact again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone
from typing import Any
from uuid import UUID

import msgspec

from packdesk.instants import Reading
from packdesk.record.line_faults import Fault, faults_of_content, faults_of_shape, unknown_kind
from packdesk.record.line_form import Line, StampedLine
from packdesk.record.rows import Link, ReadFact, Row, instant, microseconds
from packdesk.session.envelope import stream_of
from packdesk.session.fact import Fact, FactUnreadable, UnknownFact


@dataclass(frozen=True, slots=True)
class SessionLine:
    """One fact of a session file, complete: what the line leaves out is made up here."""

    number: int
    """Of the line in its file."""
    id: UUID
    act: UUID
    stream: UUID
    happened_at: datetime
    """UTC."""
    utc_offset_min: int
    about_min: float
    who: str
    fact: Fact | UnknownFact
    recorded: Reading | None
    """None where the line was written by hand and does not say."""
    row: Row | None
    """As it lies in the book that wrote it; None for a line written by hand."""
    prev: bytes | None
    """The chain value before it, where the line says so."""


def line_text(link: Link, with_prev: bool = True) -> str:
    """Write a stored row as a line, without the line's end.

    `with_prev` is needed where the file does not hold the entry before it in its station.
    """
    row = link.row
    there = timezone(timedelta(minutes=row.tz_min))
    fields: dict[str, Any] = {
        "kind": row.kind,
        "v": row.v,
        "at": instant(row.happened_us).astimezone(there),
        "about_min": row.about_s / 60,
        "data": msgspec.Raw(row.payload.encode()),
        "who": row.who,
        "id": UUID(bytes=row.event_id),
        "act": UUID(bytes=row.act),
        "stream": UUID(bytes=row.stream),
        "recorded": instant(row.recorded_us).astimezone(there),
        "steady_s": row.steady_ms / 1000,
        "boot": row.boot,
        "station": UUID(bytes=row.station_id),
        "n": row.station_seq,
        "hlc": row.hlc,
    }
    if with_prev:
        fields["prev"] = link.prev.hex()
    fields["chain"] = row.chain.hex()
    return msgspec.json.encode(fields).decode()


def read_line(
    number: int,
    text: bytes,
    session: UUID,
    made_up_id: UUID,
    kinds: dict[str, type[Fact]],
    read_fact: ReadFact,
) -> SessionLine | list[Fault]:
    """Read one line, or say everything that is wrong with it.

    A line that a book wrote keeps a kind that is unknown here; in a line written by hand it is
    a fault.
    """
    try:
        line = msgspec.json.decode(text, type=Line)
        if line.chain is not None:
            line = msgspec.json.decode(text, type=StampedLine)
        payload = _canonical(line.data)
    except (msgspec.DecodeError, UnicodeDecodeError) as fault:
        return [Fault(number, said) for said in faults_of_shape(text, fault, kinds)]
    try:
        fact = read_fact(line.kind, line.v, payload)
    except FactUnreadable as fault:
        return [Fault(number, said) for said in faults_of_content(line, payload, fault, kinds)]
    if isinstance(fact, UnknownFact) and not isinstance(line, StampedLine):
        return [Fault(number, unknown_kind(line.kind, line.v, kinds))]
    return _complete(number, line, payload, fact, session, made_up_id)


def _complete(
    number: int,
    line: Line,
    payload: str,
    fact: Fact | UnknownFact,
    session: UUID,
    made_up_id: UUID,
) -> SessionLine:
    row = _row(line, payload) if isinstance(line, StampedLine) else None
    identity = line.id or made_up_id
    belongs_to = stream_of(fact, session) if isinstance(fact, Fact) else session
    return SessionLine(
        number=number,
        id=identity,
        act=line.act or identity,
        stream=belongs_to if line.stream is None else line.stream,
        happened_at=line.at.astimezone(UTC),
        utc_offset_min=_offset_min(line.recorded or line.at),
        about_min=line.about_min,
        who=line.who,
        fact=fact,
        recorded=None if line.recorded is None else _reading(line, line.recorded),
        row=row,
        prev=None if line.prev is None else bytes.fromhex(line.prev),
    )


def _reading(line: Line, recorded: datetime) -> Reading:
    offset_min = _offset_min(recorded)
    return Reading(recorded.astimezone(UTC), offset_min, line.steady_s or 0.0, line.boot or "")


def _row(line: StampedLine, payload: str) -> Row:
    return Row(
        event_id=line.id.bytes,
        act=line.act.bytes,
        station_id=line.station.bytes,
        station_seq=line.n,
        stream=line.stream.bytes,
        happened_us=microseconds(line.at),
        about_s=round(line.about_min * 60),
        recorded_us=microseconds(line.recorded),
        tz_min=_offset_min(line.recorded),
        steady_ms=round(line.steady_s * 1000),
        boot=line.boot,
        who=line.who,
        hlc=line.hlc,
        kind=line.kind,
        v=line.v,
        payload=payload,
        chain=bytes.fromhex(line.chain),
    )


def _offset_min(at: datetime) -> int:
    offset = at.utcoffset()
    return 0 if offset is None else offset // timedelta(minutes=1)


def _canonical(data: msgspec.Raw) -> str:
    """The content in the form the book keeps, however the file spaces and orders it."""
    return msgspec.json.encode(msgspec.json.decode(data), order="sorted").decode()
