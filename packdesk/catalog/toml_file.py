"""Splits a TOML file into its entries, so that one broken entry does not take the others along."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from packdesk.catalog.faults import Fault, in_words

_HEADER = re.compile(r"^\[[^\[\]\n]+\]\s*(?:#.*)?$")
_NOT_UTF8 = re.compile("[\udc80-\udcff]")
"""What stands in a decoded text for a byte that could not be decoded."""


@dataclass(frozen=True)
class _Piece:
    """Some lines of a file, the number of the first of them, and the entry they begin with."""

    first_line: int
    text: str
    key: str = ""


def read_entries(file: Path) -> tuple[dict[str, dict[str, Any]], tuple[Fault, ...]]:
    """The entries of `file` by key, as far as they can be read, and what is wrong with the rest.

    A file that cannot be opened gives no entries and one fault. Of two entries with one key the
    first counts.
    """
    try:
        raw = file.read_bytes()
    except OSError as error:
        return {}, (Fault(file, "", f"could not be read: {in_words(error)}."),)
    if b"\0" in raw:
        return {}, (Fault(file, "", "is not UTF-8 text; save it again as UTF-8."),)
    text = raw.decode("utf-8", errors="surrogateescape").removeprefix("\ufeff")
    whole, wrong = _read_piece(file, _Piece(1, text))
    found = [(1, whole)]
    faults: list[Fault] = []
    if wrong is not None:
        found = []
        for piece in _pieces(text):
            part, wrong = _read_piece(file, piece)
            found.append((piece.first_line, part))
            faults.extend(() if wrong is None else (wrong,))
    entries: dict[str, dict[str, Any]] = {}
    for line, part in found:
        for key, entry in part.items():
            if not isinstance(entry, dict):
                faults.append(Fault(file, key, "stands outside any entry; put it under a [key]."))
            elif key in entries:
                sentence = f"appears again at line {line}; the first one counts. Rename or delete."
                faults.append(Fault(file, key, sentence))
            else:
                entries[key] = entry
    return entries, tuple(faults)


def _pieces(text: str) -> list[_Piece]:
    """Cuts `text` before every line that begins an entry (`[key]` at the line's start).

    `[key.part]` continues the entry `key` when it follows it.
    """
    pieces: list[_Piece] = []
    lines: list[str] = []
    first_line, key = 1, ""
    for number, line in enumerate(text.split("\n"), start=1):
        if _HEADER.match(line):
            name = line[1 : line.index("]")].strip().strip("\"'")
            if not (key and name.startswith(key + ".")):
                pieces.append(_Piece(first_line, "\n".join(lines), key))
                lines, first_line, key = [], number, name
        lines.append(line)
    pieces.append(_Piece(first_line, "\n".join(lines), key))
    return pieces


def _read_piece(file: Path, piece: _Piece) -> tuple[dict[str, Any], Fault | None]:
    bad = _NOT_UTF8.search(piece.text)
    if bad:
        line = piece.first_line + piece.text.count("\n", 0, bad.start())
        sentence = f"line {line} is not UTF-8 text; save the file again as UTF-8."
        return {}, Fault(file, piece.key, sentence)
    try:
        return tomllib.loads(piece.text), None
    except (ValueError, RecursionError) as error:
        return {}, Fault(file, piece.key, _in_words(str(error), piece.first_line))


def _in_words(message: str, first_line: int) -> str:
    """The parser's message with the line counted from the top of the file."""
    at = re.search(r" \(at line (\d+), column (\d+)\)$", message)
    if at is None:
        end = re.sub(r" \(at end of document\)$", "", message)
        return f"the entry beginning at line {first_line} cannot be read: {end}."
    line = first_line + int(at[1]) - 1
    return f"line {line}, column {at[2]} cannot be read: {message[: at.start()]}."
