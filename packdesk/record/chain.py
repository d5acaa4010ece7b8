"""Has a stored entry changed since it was written?

Each entry carries a hash over its own content and the hash of the entry before it in its station,
so that a flipped bit, a lost entry and a swapped entry all show. It guards against accidents, not
against a person who means to deceive: whoever can write the file can also write a new chain.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import blake2b

CHAIN_BYTES = 16
START = bytes(CHAIN_BYTES)
"""What stands before the first entry of a station."""


def next_chain(prev: bytes, columns: Iterable[int | str | bytes]) -> bytes:
    """The chain value of an entry: BLAKE2b, 128 bits, over `prev` and the entry's columns.

    A whole number goes in as 8 bytes, signed, most significant first; text (as UTF-8) and
    identifiers as their length in the same form followed by their bytes. So no two different
    rows look the same to the hash. Source of BLAKE2b: RFC 7693.
    """
    parts = [prev]
    for column in columns:
        if isinstance(column, int):
            parts.append(column.to_bytes(8, "big", signed=True))
        else:
            content = column.encode() if isinstance(column, str) else column
            parts.append(len(content).to_bytes(8, "big", signed=True))
            parts.append(content)
    return blake2b(b"".join(parts), digest_size=CHAIN_BYTES).digest()


def is_intact(prev: bytes, columns: Iterable[int | str | bytes], value: bytes) -> bool:
    """Whether an entry is the one that its chain value was made for.

    Not so, too, where damage turned a column into something else than number, text or bytes.
    """
    try:
        return next_chain(prev, columns) == value
    except (AttributeError, TypeError):
        return False
