"""One session, or a whole book, as text that people and other programs can read."""

from __future__ import annotations

import gzip
import os
from codecs import BOM_UTF8
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated
from uuid import UUID, uuid5

import msgspec

from packdesk.record.chain import START
from packdesk.record.lift import read_fact
from packdesk.record.line_faults import Fault, in_words, nearest
from packdesk.record.line_form import Aware
from packdesk.record.rows import Link
from packdesk.record.session_line import SessionLine, line_text, read_line
from packdesk.record.trouble import trouble_for
from packdesk.session.facts import KINDS

FORMAT = 1
"""Of the file. A higher one was written by a newer PackDesk."""


class Header(
    msgspec.Struct, kw_only=True, frozen=True, forbid_unknown_fields=True, omit_defaults=True
):
    """The first line of a session file."""

    packdesk_session: Annotated[int, msgspec.Meta(ge=1)]
    """Format of the file, `FORMAT`."""
    program: str = ""
    """Which program wrote it, with its version."""
    written: Aware | None = None
    session: UUID | None = None
    """Whose facts the lines are that name no stream; absent in a file of a whole book."""
    about: str = ""
    """What a person wants to say about the file, such as that it is an invented sample."""


@dataclass(frozen=True, slots=True)
class SessionFile:
    """A session file that was read without a fault."""

    name: str
    """What a fault calls the file."""
    header: Header
    session: UUID
    """As the header names it, or made of the content where it does not."""
    lines: tuple[SessionLine, ...]
    links: tuple[Link, ...]
    """The rows of all lines that a book wrote, each found to be as it was recorded."""


class FaultySessionFile(ValueError):
    """A file that cannot be read as a session, with every fault found in it."""

    def __init__(self, name: str, faults: tuple[Fault, ...]) -> None:
        count = "one fault" if len(faults) == 1 else f"{len(faults)} faults"
        listed = "\n".join(f"  {fault}" for fault in faults)
        super().__init__(f"{name} cannot be read as a session file, {count}:\n{listed}")
        self.faults = faults


def read_session_file(path: Path) -> SessionFile:
    """Read a session file, packed with gzip where its name ends so.

    Raises `FaultySessionFile` with every fault at once, `Trouble` when the file cannot be
    reached.
    """
    try:
        text = path.read_bytes()
        if path.suffix == ".gz":
            text = gzip.decompress(text)
    except (EOFError, gzip.BadGzipFile) as fault:
        raise FaultySessionFile(
            str(path), (Fault(0, f"It cannot be unpacked: {fault}."),)
        ) from fault
    except OSError as fault:
        raise trouble_for(fault, f"the session file {path}", "It was not read") from fault
    return read_session_text(text, str(path))


def read_session_text(text: bytes, name: str) -> SessionFile:
    """Read the content of a session file; `name` is what a fault calls it. Raises as above."""
    written = text.removeprefix(BOM_UTF8).splitlines() or [b""]
    header = _header(written[0])
    faults: list[Fault] = []
    if isinstance(header, Header):
        session = header.session or uuid5(UUID(int=0), text.decode("utf-8", "replace"))
    else:
        faults, session = header, UUID(int=0)
    lines: list[SessionLine] = []
    alike: Counter[bytes] = Counter()
    for number, line_bytes in enumerate(written[1:], start=2):
        if not line_bytes.strip():
            continue
        alike[line_bytes] += 1
        identity = uuid5(session, f"{alike[line_bytes]} {line_bytes.decode('utf-8', 'replace')}")
        line = read_line(number, line_bytes, session, identity, KINDS, read_fact)
        if isinstance(line, SessionLine):
            lines.append(line)
        else:
            faults += line
    links = _links(lines, faults)
    faults += _repeated(lines)
    if faults:
        raise FaultySessionFile(name, tuple(sorted(faults, key=lambda fault: fault.line)))
    assert isinstance(header, Header)
    return SessionFile(name, header, session, tuple(lines), links)


def write_session_file(path: Path, header: Header, links: Iterable[Link]) -> int:
    """Write stored facts as a session file, whole or not at all; answers how many.

    Packed with gzip where the name ends in `.gz`. Raises `Trouble` when the disk does not take
    it; a file of that name is then as it was.
    """
    part = path.with_name(path.name + ".part")
    count = 0
    try:
        with part.open("wb") as file:
            packed = (
                gzip.GzipFile("", "wb", fileobj=file, mtime=0) if path.suffix == ".gz" else file
            )
            packed.write(msgspec.json.encode(header) + b"\n")
            ends: dict[bytes, bytes] = {}
            for link in links:
                follows = ends.get(link.row.station_id, START) == link.prev
                packed.write(line_text(link, with_prev=not follows).encode() + b"\n")
                ends[link.row.station_id] = link.row.chain
                count += 1
            if packed is not file:
                packed.close()
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except OSError as fault:
        part.unlink(missing_ok=True)
        raise trouble_for(fault, f"the session file {path}", "It was not written") from fault
    return count


def _header(line: bytes) -> Header | list[Fault]:
    try:
        header = msgspec.json.decode(line, type=Header)
    except (msgspec.DecodeError, UnicodeDecodeError) as fault:
        return [Fault(1, said) for said in _header_faults(line, fault)]
    if header.packdesk_session > FORMAT:
        newer = (
            f"the file is of format {header.packdesk_session}, made by a newer PackDesk (this one"
            f" knows {FORMAT})."
        )
        return [Fault(1, newer)]
    return header


def _header_faults(line: bytes, fault: Exception) -> Iterator[str]:
    try:
        content = msgspec.json.decode(line)
    except (msgspec.DecodeError, UnicodeDecodeError):
        content = None
    if not isinstance(content, dict) or "kind" in content:
        yield f'a session file begins with its header, such as {{"packdesk_session": {FORMAT}}}.'
        return
    known = {field.name for field in msgspec.structs.fields(Header)}
    unknown = [name for name in content if name not in known]
    for name in unknown:
        yield f"a header has no {name}{nearest(name, known)}."
    if "packdesk_session" not in content:
        yield f'a header needs "packdesk_session": {FORMAT}.'
    elif not unknown:
        yield in_words(str(fault))


def _links(lines: Iterable[SessionLine], faults: list[Fault]) -> tuple[Link, ...]:
    """Join each stored row to the one before it in its station; adds what does not hold."""
    stored = [(line, line.row) for line in lines if line.row is not None]
    chains = {(row.station_id, row.station_seq): row.chain for _, row in stored}
    links = []
    for line, row in stored:
        start = START if row.station_seq == 1 else None
        before = chains.get((row.station_id, row.station_seq - 1), start)
        prev = line.prev if before is None else before
        if prev is None:
            faults.append(
                Fault(
                    line.number,
                    f"entry {row.station_seq - 1} is not in the file, so it needs prev.",
                )
            )
            continue
        link = Link(prev, row)
        if not link.holds():
            faults.append(
                Fault(
                    line.number,
                    "it is not as it was recorded (its chain value is another). To enter it by"
                    " hand, leave out chain.",
                )
            )
        links.append(link)
    return tuple(links)


def _repeated(lines: Iterable[SessionLine]) -> list[Fault]:
    first: dict[UUID, int] = {}
    repeated = []
    for line in lines:
        if line.id in first:
            repeated.append(Fault(line.number, f"it has the id of line {first[line.id]}."))
        first.setdefault(line.id, line.number)
    return repeated
