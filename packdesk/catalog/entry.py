"""Turns one entry of a catalogue file into a description, or into everything wrong with it."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import MISSING, dataclass, field, fields
from enum import StrEnum
from functools import cache
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from packdesk.catalog.description import Description, KeyOf
from packdesk.catalog.faults import Fault, nearest
from packdesk.catalog.figures import Figure, Grade, Measure
from packdesk.catalog.sources import Source
from packdesk.units import convert

DescriptionT = TypeVar("DescriptionT", bound=Description)

_FOR_ALL_FIGURES = ("source", "grade")
"""An entry may say these once for all its figures."""

_IN_SHORT = re.compile(r"\s*(?P<number>[-+]?\d+(?:\.\d+)?)\s*(?P<unit>[^\d\s.,]\S*(?: \S+)*)?\s*")

_OF_A_FIGURE = ("value", "unit", *_FOR_ALL_FIGURES, "low", "high", "as_published", "note")


@dataclass(frozen=True)
class Setting:
    """What an entry is read against: its file, whose it is, and what was read before it."""

    file: Path
    own: bool
    known: Mapping[type[Description], Mapping[str, Description]]


def read_entry(
    kind: type[DescriptionT],
    key: str,
    table: Mapping[str, Any],
    setting: Setting,
    base: DescriptionT | None = None,
) -> tuple[DescriptionT | None, tuple[Fault, ...]]:
    """The description `table` gives of the thing `key`, and every fault found in it.

    What `table` does not say is taken from `base`. The description is None when a fault leaves
    it without a value; a figure whose origin alone is at fault is kept, graded as common practice.
    """
    reader = _Reader(key, table, setting)
    values = reader.values(kind, base)
    if values is None:
        return None, tuple(reader.faults)
    thing = kind(**values)
    wrong = [Fault(setting.file, key, f"{each}.") for each in thing.contradictions()]
    return (None if wrong else thing), (*reader.faults, *wrong)


class _Refused(Exception):
    """A value that cannot be taken; carries the rest of the sentence about it."""


@dataclass
class _Reader:
    """One reading of one entry; gathers its faults."""

    key: str
    table: Mapping[str, Any]
    setting: Setting
    faults: list[Fault] = field(default_factory=list)

    def values(self, kind: type[Description], base: Description | None) -> dict[str, Any] | None:
        hints = _field_types(cast(Hashable, kind))  # mypy takes the class for its instances
        self._unknown_fields(hints)
        complete = True
        values: dict[str, Any] = {"key": self.key}
        for each in fields(kind):
            if each.name == "key":
                continue
            if each.name in self.table:
                try:
                    values[each.name] = self._value(each.name, hints[each.name])
                except _Refused as refusal:
                    self._fault(each.name, str(refusal))
                    complete = False
            elif base is not None:
                values[each.name] = getattr(base, each.name)
            elif each.default is MISSING:
                self._fault(each.name, "is missing.")
                complete = False
        return values if complete else None

    def _fault(self, name: str, sentence: str) -> None:
        self.faults.append(Fault(self.setting.file, f"{self.key}.{name}", sentence))

    def _unknown_fields(self, hints: Mapping[str, Any]) -> None:
        allowed = set(hints) - {"key"}
        if any(isinstance(_split(hint)[1], Measure) for hint in hints.values()):
            allowed |= set(_FOR_ALL_FIGURES)
        for name in self.table:
            if name not in allowed:
                self._fault(name, f"is not known here{nearest(name, allowed)}")

    def _value(self, name: str, hint: Any) -> Any:
        wanted, mark = _split(hint)
        given = self.table[name]
        several = get_origin(wanted) is tuple
        if several and not isinstance(given, list):
            raise _Refused("must be a list in square brackets.")
        if isinstance(mark, Measure):
            if several:
                return tuple(self._figure(name, mark, each) for each in given)
            return self._figure(name, mark, given)
        if isinstance(mark, KeyOf):
            return _known_key(given, self.setting.known[mark.kind])
        if several:
            return tuple(_plain(get_args(wanted)[0], each) for each in given)
        return _plain(wanted, given)

    def _figure(self, name: str, measure: Measure, given: Any) -> Figure:
        parts = _parts_of_figure(given, measure)
        unit = _plain(str, parts.get("unit", "1"))
        if unit not in measure.units:
            raise _Refused(
                f'has the unit "{unit}", which does not fit{nearest(unit, measure.units)}'
            )
        if "value" not in parts:
            raise _Refused("has no value.")
        value = _number(parts["value"])
        low, high = _number(parts.get("low", value)), _number(parts.get("high", value))
        if not low <= value <= high:
            raise _Refused(f"has {value:g} outside its own low {low:g} and high {high:g}.")
        low, value, high = (convert(each, unit, measure.unit) for each in (low, value, high))
        for each in (low, value, high):
            if not measure.least <= each <= measure.most:
                raise _Refused(
                    f"is {each:g} {measure.unit}, outside what can be: "
                    f"{measure.least:g} to {measure.most:g} {measure.unit}."
                )
        source, grade = self._origin(name, {**self.table, **parts})
        written = _plain(str, parts.get("as_published", ""))
        note = _plain(str, parts.get("note", ""))
        return Figure(value, measure.unit, source, grade, low, high, written, note)

    def _origin(self, name: str, given: Mapping[str, Any]) -> tuple[str, Grade]:
        """Where a figure comes from and how it is known, as far as it may be believed."""
        if self.setting.own and not any(part in given for part in _FOR_ALL_FIGURES):
            return "", Grade.OWN
        try:
            return _believed_origin(given, self.setting)
        except _Refused as refusal:
            self._fault(name, str(refusal))
            return "", Grade.PRACTICE


def _believed_origin(given: Mapping[str, Any], setting: Setting) -> tuple[str, Grade]:
    for part in _FOR_ALL_FIGURES:
        if part not in given:
            raise _Refused(f"has no {part}.")
    grade = Grade(_known_key(given["grade"], list(Grade), "has the grade"))
    key = _known_key(given["source"], setting.known[Source], "has the source")
    source = setting.known[Source][key]
    if grade is Grade.PUBLISHED and isinstance(source, Source) and not source.seen:
        raise _Refused(
            f'is graded "{grade}" but its source "{key}" was not seen; grade it "{Grade.MEMORY}".'
        )
    if grade is Grade.OWN and not setting.own:
        raise _Refused(f'is graded "{grade}", which is for a person\'s own files.')
    return key, grade


@cache
def _field_types(kind: Any) -> dict[str, Any]:
    return get_type_hints(kind, include_extras=True)


def _split(hint: Any) -> tuple[Any, Any]:
    """The type itself without `| None`, and the mark it is annotated with, or None."""
    if get_origin(hint) in (Union, UnionType):
        (hint,) = (each for each in get_args(hint) if each is not NoneType)
    if get_origin(hint) is Annotated:
        wanted, mark = get_args(hint)
        return wanted, mark
    return hint, None


def _plain(wanted: Any, given: Any) -> Any:
    """`given`, if it is a plain value of the type `wanted`."""
    if issubclass(wanted, StrEnum):
        return wanted(_known_key(given, [str(each) for each in wanted]))
    words = {str: "text in quotes", bool: "true or false", int: "a whole number"}[wanted]
    if type(given) is not wanted:
        raise _Refused(f"must be {words}, not {given!r:.40}.")
    if wanted is str and not given.isprintable():
        raise _Refused("must be one line of printable text.")
    return given


def _known_key(given: Any, known: Iterable[str], says: str = "says") -> str:
    known = tuple(known)
    if given not in known:
        raise _Refused(f'{says} "{given}", which is not known{nearest(str(given), known)}')
    return str(given)


def _parts_of_figure(given: Any, measure: Measure) -> Mapping[str, Any]:
    """The parts of a figure, written as a table or in short as text such as "203 mm"."""
    if isinstance(given, str):
        short = _IN_SHORT.fullmatch(given)
        if short is None:
            raise _Refused(f'says "{given}"; write a figure with its unit, {_example(measure)}.')
        return {"value": float(short["number"]), "unit": short["unit"] or "1"}
    if not isinstance(given, dict):
        raise _Refused(f"must have a unit: write it as text, {_example(measure)}.")
    for part in given:
        if part not in _OF_A_FIGURE:
            raise _Refused(f'has a part "{part}", which is not known{nearest(part, _OF_A_FIGURE)}')
    return given


def _example(measure: Measure) -> str:
    return f'such as "{measure.most:g} {measure.unit}"'


def _number(given: Any) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float) or not -1e9 < given < 1e9:
        raise _Refused(f"must be a number, not {given!r:.40}.")
    return float(given)
