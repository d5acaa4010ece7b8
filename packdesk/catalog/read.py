"""Reads the whole catalogue: the shipped files, and a person's own entries laid over them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from packdesk.catalog.absorbers import Absorber
from packdesk.catalog.description import Description
from packdesk.catalog.entry import Setting, read_entry
from packdesk.catalog.faults import Fault, in_words, nearest
from packdesk.catalog.films import Film
from packdesk.catalog.foods import Food
from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.pails import Freezer, Pail
from packdesk.catalog.pests import LifeStage
from packdesk.catalog.pouches import Pouch
from packdesk.catalog.sources import Source
from packdesk.catalog.toml_file import read_entries
from packdesk.resources import ShippedFileMissing, shipped

__all__ = ["Catalog", "Fault", "read_catalog"]

_FILES: Mapping[str, type[Description]] = MappingProxyType(
    {
        "bibliography.toml": Source,
        "films.toml": Film,
        "foods.toml": Food,
        "pouches.toml": Pouch,
        "absorbers.toml": Absorber,
        "pails.toml": Pail,
        "freezers.toml": Freezer,
        "label_stock.toml": LabelStock,
        "pests.toml": LifeStage,
    }
)
"""What each file describes. The bibliography comes first: the figures of the others need it."""


@dataclass(frozen=True)
class Catalog:
    """Everything on the shelf, each kind by its keys in the order of the files."""

    foods: Mapping[str, Food]
    pouches: Mapping[str, Pouch]
    films: Mapping[str, Film]
    absorbers: Mapping[str, Absorber]
    pails: Mapping[str, Pail]
    freezers: Mapping[str, Freezer]
    label_stocks: Mapping[str, LabelStock]
    life_stages: Mapping[str, LifeStage]
    sources: Mapping[str, Source]


def read_catalog(own_folder: Path | None = None) -> tuple[Catalog, tuple[Fault, ...]]:
    """The catalogue as far as it can be read, and every fault of every file.

    `own_folder` may hold files named like the shipped ones. An own entry with the key of a
    shipped one replaces only what it says; a new one says everything, or begins with
    `like = "key"`. An own entry with a value that cannot be taken is left out, and the shipped
    one stands.
    """
    read: dict[type[Description], dict[str, Any]] = {}
    faults: list[Fault] = []
    own_files = _own_files(own_folder, faults)
    for name, kind in _FILES.items():
        read[kind] = {}
        for file, own in _files(name, own_files, faults):
            entries, unreadable = read_entries(file)
            faults.extend(unreadable)
            setting = Setting(file, own, read)
            for key, entry in entries.items():
                thing, wrong = _laid_over(kind, key, entry, setting)
                faults.extend(wrong)
                if thing is not None:
                    read[kind][key] = thing
    faults.extend(
        Fault(file, "", f"is not a file of the catalogue{nearest(name, _FILES)}")
        for name, file in own_files.items()
        if name not in _FILES
    )
    kept = {kind: MappingProxyType(things) for kind, things in read.items()}
    catalog = Catalog(
        foods=kept[Food],
        pouches=kept[Pouch],
        films=kept[Film],
        absorbers=kept[Absorber],
        pails=kept[Pail],
        freezers=kept[Freezer],
        label_stocks=kept[LabelStock],
        life_stages=kept[LifeStage],
        sources=kept[Source],
    )
    return catalog, tuple(faults)


def _own_files(folder: Path | None, faults: list[Fault]) -> dict[str, Path]:
    """The TOML files of a person's own folder by their names in small letters."""
    if folder is None:
        return {}
    try:
        files = sorted(folder.iterdir())
    except FileNotFoundError:
        return {}
    except OSError as error:
        faults.append(Fault(folder, "", f"could not be read: {in_words(error)}."))
        return {}
    return {file.name.lower(): file for file in files if file.suffix.lower() == ".toml"}


def _files(
    name: str, own_files: Mapping[str, Path], faults: list[Fault]
) -> list[tuple[Path, bool]]:
    """The shipped file `name`, then the person's own one, as far as they are there."""
    files: list[tuple[Path, bool]] = []
    try:
        files.append((shipped("catalog", name), False))
    except ShippedFileMissing as missing:
        faults.append(Fault(Path(name), "", str(missing)))
    if name in own_files:
        files.append((own_files[name], True))
    return files


def _laid_over(
    kind: type[Description], key: str, entry: dict[str, Any], setting: Setting
) -> tuple[Description | None, tuple[Fault, ...]]:
    """The thing that `entry` describes, over the thing of its key or of its `like`."""
    things = setting.known[kind]
    table = dict(entry)
    like = table.pop("like", key if setting.own else "")
    if not isinstance(like, str) or ("like" in entry and like not in things):
        sentence = f'says "{like}", which is not known{nearest(str(like), things)}'
        return None, (Fault(setting.file, f"{key}.like", sentence),)
    base = things.get(like)
    thing, faults = read_entry(kind, key, table, setting, base)
    if thing is None:
        if setting.own and base is None:
            sentence = "is new here: it must say everything, or begin with like = and a known key"
            faults = (Fault(setting.file, key, sentence + nearest(key, things)), *faults)
        return None, faults
    if not thing.name.strip():
        return None, (*faults, Fault(setting.file, f"{key}.name", "must not be empty."))
    for other in things.values():
        if other.name == thing.name and other.key != key:
            sentence = f'"{thing.name}" is already the name of {other.key}; choose another.'
            return None, (*faults, Fault(setting.file, f"{key}.name", sentence))
    return thing, faults
