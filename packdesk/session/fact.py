"""What a fact is, and how one becomes text and a fact again.

A fact's kind is a word with a version, never an import path: a record outlives the layout of
this package. The codec reads the annotations of the class, so a new fact needs no code here.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Any, ClassVar
from uuid import UUID

import msgspec


class Home(StrEnum):
    """Whether a fact belongs to one session or to the book that outlives it."""

    SESSION = "session"
    BOOK = "book"


class Fact(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something that happened, with the figures it relied on. Subclasses are past tense.

    `kind` and `v` are stored; `by_person` is False for what the program notes by itself, which
    Undo steps over.
    """

    kind: ClassVar[str] = ""
    v: ClassVar[int] = 1
    by_person: ClassVar[bool] = True

    @property
    def home(self) -> Home:
        """The stream this fact belongs to."""
        return Home.SESSION


class BookFact(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A fact that outlives the session in which it was noted.

    `session` is that session, None if none was open: Undo in another one leaves the fact alone.
    """

    session: UUID | None = None

    @property
    def home(self) -> Home:
        """Facts of this family belong to the book."""
        return Home.BOOK


class UnknownFact(msgspec.Struct, frozen=True):
    """A fact that this version of PackDesk has no words for; kept as it was written."""

    kind: str
    v: int
    text: str


class FactUnreadable(ValueError):
    """A stored fact of a known kind whose content does not fit that kind."""


def fact_text(fact: Fact) -> str:
    """Write the content of `fact` as JSON with sorted keys, the form the record keeps."""
    return msgspec.json.encode(fact, order="sorted").decode()


def fact_from_text(
    kinds: dict[str, type[Fact]], kind: str, v: int, text: str
) -> Fact | UnknownFact:
    """Read a stored fact back.

    A kind or version that is not in `kinds` comes back as `UnknownFact`, never dropped.
    Raises `FactUnreadable` when the content does not fit the kind.
    """
    cls = kinds.get(kind)
    if cls is None or cls.v < v:
        return UnknownFact(kind, v, text)
    try:
        return msgspec.json.decode(text, type=cls)
    except (msgspec.ValidationError, msgspec.DecodeError) as fault:
        raise FactUnreadable(f"{kind}: {fault}") from fault


def concrete_kinds(base: type[Fact]) -> dict[str, type[Fact]]:
    """Collect the fact classes below `base` by their kind; a kind used twice is a bug."""
    found: dict[str, type[Fact]] = {}
    for cls in _descendants(base):
        if cls.kind:
            if cls.kind in found:
                raise TypeError(f"two facts are called {cls.kind!r}")
            found[cls.kind] = cls
    return found


def _descendants(base: type[Fact]) -> list[type[Any]]:
    children: list[type[Any]] = base.__subclasses__()
    return children + [deeper for child in children for deeper in _descendants(child)]
