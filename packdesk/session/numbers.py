"""Pouch numbers as people say them: «pouch 17 is», «pouches 1 to 8 and 11 are»."""

from __future__ import annotations

from collections.abc import Iterable

from packdesk.sentences import capital, joined


def runs(numbers: Iterable[int]) -> tuple[tuple[int, int], ...]:
    """Gather numbers into runs of neighbours, first and last of each, in ascending order."""
    found: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if found and found[-1][1] == number - 1:
            found[-1] = (found[-1][0], number)
        else:
            found.append((number, number))
    return tuple(found)


def named(numbers: Iterable[int]) -> str:
    """Say which pouches: `pouch 17`, `pouches 1 to 8 and 11`; a run of two is said singly."""
    parts: list[str] = []
    gathered = runs(numbers)
    for first, last in gathered:
        if last - first < 2:
            parts.extend(str(number) for number in range(first, last + 1))
        else:
            parts.append(f"{first} to {last}")
    one = len(gathered) == 1 and gathered[0][0] == gathered[0][1]
    return f"pouch{'' if one else 'es'} {joined(parts)}"


def listed(numbers: Iterable[int]) -> str:
    """Start a sentence about pouches: `Pouch 17 is`, `Pouches 1 to 8 are`."""
    words = named(numbers)
    verb = "is" if words.startswith("pouch ") else "are"
    return f"{capital(words)} {verb}"
