"""What every room's sentences need: a capital at their beginning, whatever word stands there."""

from __future__ import annotations


def capital(words: str) -> str:
    """The same words with a capital letter first; the rest stays as it is."""
    return words[:1].upper() + words[1:]
