"""How one fact is written as a line of a session file, and what may be wrong with such a line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone
from difflib import get_close_matches
from typing import Annotated, Any
from uuid import UUID

import msgspec

from packdesk.instants import Reading
from packdesk.record.chain import CHAIN_BYTES
from packdesk.record.rows import Link, ReadFact, Row, instant, microseconds
from packdesk.session.envelope import stream_of
from packdesk.session.fact import Fact, FactUnreadable, UnknownFact

# RFC 3339; the pattern is for readers of the schema, few of which check the format.
_TIME = r"^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})$"

Aware = Annotated[datetime, msgspec.Meta(tz=True, extra_json_schema={"pattern": _TIME})]
_Chain = Annotated[str, msgspec.Meta(pattern=f"^[0-9a-f]{{{2 * CHAIN_BYTES}}}$")]
_Positive = Annotated[int, msgspec.Meta(ge=1)]


class Line(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """One fact, as a session file writes it. Written by hand, `kind`, `at` and `data` suffice."""

    kind: str
    v: _Positive = 1
    at: Aware
    about_min: Annotated[float, msgspec.Meta(ge=0)] = 0.0
    data: msgspec.Raw
    who: str = ""
    id: UUID | None = None
    act: UUID | None = None
    stream: UUID | None = None
    recorded: Aware | None = None
    steady_s: float | None = None
    boot: str | None = None
    station: UUID | None = None
    n: _Positive | None = None
    hlc: int | None = None
    prev: _Chain | None = None
    chain: _Chain | None = None


class StampedLine(Line, kw_only=True, forbid_unknown_fields=True):
    """A line that a book wrote: it has a chain value, so it must have all that was chained."""

    id: UUID
    act: UUID
    stream: UUID
    recorded: Aware
    steady_s: float
    boot: str
    station: UUID
    n: _Positive
    hlc: int
    chain: _Chain


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with one line of a file."""

    line: int
    """Counted from 1, as an editor shows it; 0 for the file as a whole."""
    sentence: str

    def __str__(self) -> str:
        return f"Line {self.line}: {self.sentence}" if self.line else self.sentence


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
        return [Fault(number, said) for said in _faults_of_shape(text, fault, kinds)]
    try:
        fact = read_fact(line.kind, line.v, payload)
    except FactUnreadable as fault:
        return [Fault(number, said) for said in _content_faults(line, payload, fault, kinds)]
    if isinstance(fact, UnknownFact) and not isinstance(line, StampedLine):
        return [Fault(number, _unknown_kind(line.kind, line.v, kinds))]
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


# --------------------------------------------------------------------------------------------
# What is wrong, in words


def _faults_of_shape(text: bytes, fault: Exception, kinds: dict[str, type[Fact]]) -> Iterator[str]:
    try:
        content = msgspec.json.decode(text)
    except (msgspec.DecodeError, UnicodeDecodeError):
        yield f"it is not JSON: {fault}."
        return
    if not isinstance(content, dict):
        yield "it is not an object in braces."
        return
    by_hand = "chain" not in content
    yield from _field_faults(content, Line if by_hand else StampedLine, "a fact's line")
    kind = content.get("kind")
    if by_hand and isinstance(kind, str) and kind not in kinds:
        yield _unknown_kind(kind, 1, kinds)


def _content_faults(
    line: Line, payload: str, fault: Exception, kinds: dict[str, type[Fact]]
) -> Iterator[str]:
    content = msgspec.json.decode(payload)
    known = kinds[line.kind]
    if not isinstance(content, dict):
        yield "data is not an object in braces."
    elif known.v == line.v:
        yield from list(_field_faults(content, known, known.kind)) or [f"{fault}."]
    else:
        yield f"{fault}."


def _field_faults(
    content: dict[str, Any], expected: type[msgspec.Struct], whose: str
) -> Iterator[str]:
    """Everything in which an object differs from what is expected, field by field."""
    fields = {field.encode_name: field for field in msgspec.structs.fields(expected)}
    for name in content:
        if name not in fields:
            yield f"{whose} has no {name}{nearest(name, fields)}."
    for name, field in fields.items():
        if name not in content:
            if field.required:
                yield f"{whose} needs {name}."
        elif field.type is not msgspec.Raw:
            try:
                msgspec.convert(content[name], field.type)
            except msgspec.ValidationError as wrong:
                yield in_words(str(wrong), name)


def _unknown_kind(kind: str, v: int, kinds: dict[str, type[Fact]]) -> str:
    if kind in kinds:
        return f"{kind} of version {v} is newer than this PackDesk knows ({kinds[kind].v})."
    return f"there is no kind of fact called {kind}{nearest(kind, kinds)}."


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint at the known word that was perhaps meant, or nothing."""
    close = get_close_matches(word, list(known), n=1)
    return f" (did you mean {close[0]}?)" if close else ""


def in_words(message: str, name: str = "") -> str:
    """A decoder's message as a sentence that begins with the place in the line."""
    said, _, path = message.replace("`", "").partition(" - at $")
    place = name + re.sub(r"^\.", "." if name else "", path)
    if "datetime" in said and "got" not in said:
        said = "this is no time with date and offset, such as 2026-11-25T09:16:00-05:00"
    said = said[:1].lower() + said[1:]
    return f"{place}: {said}." if place else f"{said}."
