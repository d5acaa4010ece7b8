"""What every room's sentences need: a capital at their beginning, several things in a row."""

from __future__ import annotations

from collections.abc import Sequence


def capital(words: str) -> str:
    """The same words with a capital letter first; the rest stays as it is."""
    return words[:1].upper() + words[1:]


def joined(things: Sequence[str]) -> str:
    """Things in a row: `A`, `A and B`, `A, B and C`; nothing for none."""
    return " and ".join(part for part in (", ".join(things[:-1]), *things[-1:]) if part)
