"""How long cold takes to kill the insects of dry food, by life stage, and how each is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from packdesk.catalog.faults import Fault, nearest
from packdesk.catalog.figures import Grade
from packdesk.catalog.toml_file import read_entries
from packdesk.resources import shipped

_HOURS = {"min": 1.0 / 60.0, "h": 1.0, "day": 24.0}
_WORDS = ("insect", "stage", "unit", "grade", "source")
_FIELDS = (*_WORDS, "attacks", "figures", "dosed", "note")
_COLDEST_C, _WARMEST_C = -90.0, 5.0


@dataclass(frozen=True, kw_only=True)
class LifeStage:
    """One life stage of one insect: the hours until all are dead, by temperature."""

    key: str
    insect: str
    stage: str
    attacks: tuple[str, ...]
    """The kinds of food the insect is known for."""
    temps_c: tuple[float, ...]
    """Coldest first."""
    kill_hours: tuple[float, ...]
    """One for each temperature; never fewer where it is warmer."""
    grade: Grade
    source: str
    dosed: bool
    """Whether the figures measure a kill; the others are shown for comparison, `note` says why."""
    note: str = ""

    @property
    def name(self) -> str:
        """The insect and its life stage."""
        return f"{self.insect}, {self.stage}"


def read_pests(file: Path | None = None) -> tuple[tuple[LifeStage, ...], tuple[Fault, ...]]:
    """Every life stage of the shipped table (or of `file`), and every fault found in it."""
    place = file if file is not None else shipped("catalog", "pests.toml")
    entries, faults = read_entries(place)
    found, wrong = [], list(faults)
    for key, table in entries.items():
        sentences = [*_unknown(table), *_missing(table), *_impossible(table)]
        wrong.extend(Fault(place, f"{key}.{field}", sentence) for field, sentence in sentences)
        if not sentences:
            found.append(_life_stage(key, table))
    return tuple(found), tuple(wrong)


def _life_stage(key: str, table: Mapping[str, Any]) -> LifeStage:
    hours = _HOURS[table["unit"]]
    return LifeStage(
        key=key,
        insect=table["insect"],
        stage=table["stage"],
        attacks=tuple(table.get("attacks", ())),
        temps_c=tuple(float(temp_c) for temp_c, _ in table["figures"]),
        kill_hours=tuple(time * hours for _, time in table["figures"]),
        grade=Grade(table["grade"]),
        source=table["source"],
        dosed=table.get("dosed", True),
        note=table.get("note", ""),
    )


def _unknown(table: Mapping[str, Any]) -> list[tuple[str, str]]:
    return [
        (field, f"is not a field of a life stage{nearest(field, _FIELDS)}")
        for field in table
        if field not in _FIELDS
    ]


def _missing(table: Mapping[str, Any]) -> list[tuple[str, str]]:
    return [
        (word, "is missing or empty; write it as text.")
        for word in _WORDS
        if not isinstance(table.get(word), str) or not table[word]
    ]


def _impossible(table: Mapping[str, Any]) -> list[tuple[str, str]]:
    wrong = []
    if isinstance(table.get("unit"), str) and table["unit"] not in _HOURS:
        wrong.append(("unit", f'says "{table["unit"]}"{nearest(table["unit"], _HOURS)}'))
    if isinstance(table.get("grade"), str) and table["grade"] not in set(Grade):
        wrong.append(("grade", f'says "{table["grade"]}"{nearest(table["grade"], Grade)}'))
    if not isinstance(table.get("dosed", True), bool):
        wrong.append(("dosed", "must be true or false."))
    if not isinstance(table.get("note", ""), str):
        wrong.append(("note", "must be text."))
    if not _are_words(table.get("attacks", [])):
        wrong.append(("attacks", 'must be a list of words, such as ["grain"].'))
    sentence = _wrong_figures(table.get("figures"))
    if sentence:
        wrong.append(("figures", sentence))
    return wrong


def _are_words(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(each, str) for each in value)


def _wrong_figures(figures: object) -> str:
    """What is wrong with the pairs of temperature and time, as a sentence; empty if nothing."""
    if not isinstance(figures, list) or not figures or not all(map(_is_pair, figures)):
        return "must be pairs of temperature in degC and time, such as [[-18.0, 1.0]]."
    for temp_c, time in figures:
        if not _COLDEST_C <= temp_c <= _WARMEST_C:
            return f"has {temp_c:g} degC; allowed is from {_COLDEST_C:g} to {_WARMEST_C:g} degC."
        if not 0.0 < time < 1e6:
            return f"has {time:g} as a time; it must be above 0."
    for (colder, sooner), (warmer, later) in pairwise(figures):
        if warmer <= colder:
            return f"has {warmer:g} degC after {colder:g} degC; write the coldest first."
        if later < sooner:
            return f"kills sooner at {warmer:g} degC than at {colder:g} degC; one is wrong."
    return ""


def _is_pair(value: object) -> bool:
    return (
        isinstance(value, list)
        and len(value) == 2
        and all(isinstance(each, int | float) and not isinstance(each, bool) for each in value)
    )
