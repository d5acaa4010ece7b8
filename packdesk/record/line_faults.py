"""What is wrong with a line of a session file, in words, and what was perhaps meant."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

import msgspec

from packdesk.record.line_form import Line, StampedLine
from packdesk.session.fact import Fact


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with one line of a file."""

    line: int
    """Counted from 1, as an editor shows it; 0 for the file as a whole."""
    sentence: str

    def __str__(self) -> str:
        return f"Line {self.line}: {self.sentence}" if self.line else self.sentence


def faults_of_shape(text: bytes, fault: Exception, kinds: dict[str, type[Fact]]) -> Iterator[str]:
    """Everything that is wrong with a line that cannot be read, `fault` being the first."""
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
        yield unknown_kind(kind, 1, kinds)


def faults_of_content(
    line: Line, payload: str, fault: Exception, kinds: dict[str, type[Fact]]
) -> Iterator[str]:
    """Everything in which a line's content does not fit its kind, `fault` being the first."""
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


def unknown_kind(kind: str, v: int, kinds: dict[str, type[Fact]]) -> str:
    """That a kind, or this version of it, is not known."""
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
