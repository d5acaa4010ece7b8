"""Splits a TOML file into its entries, so that one broken entry does not take the others along."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from packdesk.catalog.faults import Fault

_HEADER = re.compile(r"^\[[^\[\]\n]+\]\s*(?:#.*)?$")
_BOM = "\ufeff"


@dataclass(frozen=True)
class _Piece:
    """The lines of one entry, and the number of the first of them."""

    first_line: int
    text: str


def read_entries(file: Path) -> tuple[dict[str, dict[str, Any]], tuple[Fault, ...]]:
    """The entries of `file` by key, as far as they can be read, and what is wrong with the rest.

    A file that cannot be opened gives no entries and one fault. Of two entries with one key the
    first counts.
    """
    try:
        text = file.read_bytes().decode("utf-8", errors="surrogateescape")
    except OSError as error:
        reason = error.strerror or "it cannot be opened"
        return {}, (Fault(file, "", f"could not be read: {reason}."),)
    entries: dict[str, dict[str, Any]] = {}
    faults: list[Fault] = []
    if "\0" in text:
        return {}, (Fault(file, "", "is not UTF-8 text; save it again as UTF-8."),)
    for piece in _pieces(text.removeprefix(_BOM)):
        found, fault = _read_piece(file, piece)
        faults.extend(fault)
        for key, value in found.items():
            if not isinstance(value, dict):
                faults.append(Fault(file, key, "stands outside any entry; put it under a [key]."))
            elif key in entries:
                sentence = (
                    f"appears twice, again at line {piece.first_line}; the first one counts. "
                    "Rename or delete the second."
                )
                faults.append(Fault(file, key, sentence))
            else:
                entries[key] = value
    return entries, tuple(faults)


def _pieces(text: str) -> list[_Piece]:
    """Cuts `text` before every line that begins an entry (`[key]` at the line's start).

    `[key.part]` continues the entry `key` when it follows it.
    """
    pieces: list[_Piece] = []
    lines: list[str] = []
    first_line = 1
    root = ""
    for number, line in enumerate(text.splitlines(), start=1):
        if _HEADER.match(line):
            name = line[1 : line.index("]")].strip()
            if not (root and name.startswith(root + ".")):
                pieces.append(_Piece(first_line, "\n".join(lines)))
                lines, first_line, root = [], number, name
        lines.append(line)
    pieces.append(_Piece(first_line, "\n".join(lines)))
    return pieces


def _read_piece(file: Path, piece: _Piece) -> tuple[dict[str, Any], list[Fault]]:
    name = piece.text.split("]", 1)[0].lstrip("[").strip() if piece.text.startswith("[") else ""
    for number, line in enumerate(piece.text.split("\n"), start=piece.first_line):
        if any("\udc80" <= letter <= "\udcff" for letter in line):
            sentence = f"line {number} is not UTF-8 text; save the file again as UTF-8."
            return {}, [Fault(file, name, sentence)]
    try:
        return tomllib.loads(piece.text), []
    except tomllib.TOMLDecodeError as error:
        return {}, [Fault(file, name, _in_words(str(error), piece.first_line))]


def _in_words(message: str, first_line: int) -> str:
    """The parser's message with the line counted from the top of the file."""
    at = re.search(r" \(at line (\d+), column (\d+)\)$", message)
    if at is None:
        end = re.sub(r" \(at end of document\)$", "", message)
        return f"the entry beginning at line {first_line} cannot be read: {end}."
    line = first_line + int(at[1]) - 1
    return f"line {line}, column {at[2]} cannot be read: {message[: at.start()]}."
