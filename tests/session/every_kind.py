"""Facts of every kind at random, and a story in which every kind comes true."""

from __future__ import annotations

import types
from datetime import UTC, datetime
from enum import StrEnum
from typing import Any, Union, get_args, get_origin, get_type_hints
from uuid import UUID

import msgspec
from hypothesis import strategies as st

from packdesk.session.fact import Fact
from packdesk.session.facts import KINDS
from tests.script import Script, tell

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), max_size=12)
INSTANTS = st.datetimes(datetime(2020, 1, 1), datetime(2090, 1, 1), timezones=st.just(UTC))


def facts(cls: type[Fact]) -> st.SearchStrategy[Fact]:
    """Facts of a kind with any content that its annotations allow."""
    return _of_type(cls)


def any_fact() -> st.SearchStrategy[Fact]:
    """Facts of any kind."""
    return st.one_of(*(facts(cls) for cls in KINDS.values()))


def example(cls: type[Fact]) -> Fact:
    """A plain fact of a kind, the same every time."""
    return _plain(cls)


def whole_story() -> Script:
    """A packing project from the freezer to the closing, in which every kind of fact occurs."""
    told = tell(
        """
        receive wheat 8 kg quarantined; receive salt 2 kg; look at wheat again: accepted, dry now
        bypass salt: no insect lives in it
        agree wheat 8 x 1 kg & salt 2 x 1 kg, no absorber, numbered
        about 3 h ago: freeze wheat; +20 h; core A -6 C; +1 h; freezer -19 C; cold rule dose
        +96 h; out A 21 C 50 %; +20 h; room 21 C 50 %; +20 h
        """
    )
    told.desk.ring_due()
    told.do(
        """
        silence thaw:A; open A
        number 1-8 of wheat
        tare 21 g; fill 1 of wheat showing 1014 g; lose 40 g of wheat: spilled
        fill 7 of wheat; fill 2 of salt at 1003 g; ready, all checked, 2 hands; packet 200x10
        +3 min; place 5 of wheat; +2 min; place 3 of wheat; jar; shut 9-10
        +5 min; seal 1-7; seal 8, gap left; draw off 8; seal 8; seal 9-10
        reopen 6: a fold in the seam; shut 6; seal 6; swap 4 and 5
        set aside 3: dust in the seam; return 3
        take R1; place 1 of wheat; seal 3; jar 2; felt round 2
        make labels 1-10; label 1-10; count 10 sealed; stow 1-10 in pail 1
        lid pail 1; unlid pail 1; lid pail 1
        note: Stands in the cellar.
        note: A mis-tap; undo
        """
    )
    told.clock.step_wall(minutes=7)
    told.desk.ring_due()
    told.do(
        """
        +1 d; check 1-10 snug
        """
    )
    told.do("close: All stored.")
    return told


def _of_type(kind: Any) -> st.SearchStrategy[Any]:
    origin, inner = get_origin(kind), get_args(kind)
    if origin is tuple:
        return st.lists(_of_type(inner[0]), max_size=4).map(tuple)
    if origin in (Union, types.UnionType):
        return st.one_of(*(_of_type(each) for each in inner))
    if issubclass(kind, msgspec.Struct):
        return st.builds(kind, **{name: _of_type(t) for name, t in _fields(kind).items()})
    if issubclass(kind, StrEnum):
        return st.sampled_from(kind)
    return _SIMPLE[kind]


FAR = 2.0**127
"""Within what 32 bits hold: what is drawn beyond would be thrown away."""

_SIMPLE: dict[Any, st.SearchStrategy[Any]] = {
    type(None): st.none(),
    bool: st.booleans(),
    int: st.integers(-(10**6), 10**6),
    float: st.floats(-FAR, FAR, width=32),
    str: WORDS,
    datetime: INSTANTS,
    UUID: st.uuids(),
}


def _plain(kind: Any) -> Any:
    origin, inner = get_origin(kind), get_args(kind)
    if origin is tuple:
        return (_plain(inner[0]),)
    if origin in (Union, types.UnionType):
        return _plain(inner[0])
    if issubclass(kind, msgspec.Struct):
        return kind(**{name: _plain(t) for name, t in _fields(kind).items()})
    if issubclass(kind, StrEnum):
        return next(iter(kind))
    return {
        bool: True,
        int: 1,
        float: 1.0,
        str: "word",
        datetime: datetime(2026, 11, 20, 18, tzinfo=UTC),
        UUID: UUID(int=7),
    }[kind]


def _fields(kind: type[msgspec.Struct]) -> dict[str, Any]:
    hints = get_type_hints(kind)
    return {field.name: hints[field.name] for field in msgspec.structs.fields(kind)}
