"""What is wrong with a catalogue file, in words a person can act on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path


@dataclass(frozen=True)
class Fault:
    """One thing wrong: the file, the key it stands at (`white_rice.moisture`), and a sentence."""

    file: Path
    key: str
    sentence: str

    def __str__(self) -> str:
        at = f", {self.key}" if self.key else ""
        return f"{self.file.name}{at}: {self.sentence}"


def in_words(error: OSError) -> str:
    """Why the machine could not read something, as the end of a sentence."""
    return error.strerror or "it cannot be opened"


def nearest(word: str, known: Iterable[str]) -> str:
    """Names the known word nearest to `word`, as the end of a sentence about it."""
    known = sorted(known)
    if not known:
        return "."
    close = get_close_matches(word, known, n=1, cutoff=0.6)
    if close:
        return f'; did you mean "{close[0]}"?'
    return "; known are: " + ", ".join(known) + "."
