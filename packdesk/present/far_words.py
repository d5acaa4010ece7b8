"""Words for reading from afar, where lines are short."""

from __future__ import annotations


def unbroken(words: str) -> str:
    """Words that stay on one line, such as the numbers of a run of pouches."""
    return words.replace(" to ", "\u00a0to\u00a0")
