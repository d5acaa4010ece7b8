"""What labels, pail cards and the run sheet say, as paper is handed it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LabelText:
    """What one pouch label says, line by line, and what its code holds as plain text.

    What is empty is not printed; before filling that is all but identity, lot and code.
    """

    pouch: int
    food: str = ""
    mass: str = ""
    packed: str = ""
    best_quality: str = ""
    identity: str = ""
    lot: str = ""
    pail: str = ""
    absorbers: str = ""
    allergens: str = ""
    caution: str = ""
    advice: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True)
class PailFood:
    """One food in a pail: its name, how many pouches and how much, which ones, until when."""

    food: str
    amount: str
    pouches: str
    best_quality: str


@dataclass(frozen=True, slots=True)
class PailCard:
    """What the card on one pail says; `code` is the same as plain text for a phone."""

    pail: str
    session: str
    packed: str
    foods: tuple[PailFood, ...]
    mass: str
    lifting: str
    allergens: str
    cautions: tuple[str, ...]
    checked: str
    code: str
    swollen: str = ""
    """Which pouches of this pail were found swollen, and what to do with them."""
    food_cautions: tuple[str, ...] = ()
    """What is to be minded of these foods and pouches, beside what every card says."""


@dataclass(frozen=True, slots=True)
class RunBlank:
    """A place to write on; `written` is what the record knows already."""

    label: str
    written: str = ""


@dataclass(frozen=True, slots=True)
class RunStep:
    """One thing to do, with a box to check and places to write on."""

    words: str
    blanks: tuple[RunBlank, ...] = ()


@dataclass(frozen=True, slots=True)
class RunTable:
    """Rows to be filled in by hand; an empty cell is to be written in."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class RunPart:
    """One stage on the run sheet: what to know, what to do, what to write down."""

    title: str
    sentences: tuple[str, ...] = ()
    steps: tuple[RunStep, ...] = ()
    tables: tuple[RunTable, ...] = ()


@dataclass(frozen=True, slots=True)
class RunSheet:
    """The whole run on paper, for a counter without a computer."""

    title: str
    subtitle: str
    cautions: tuple[str, ...]
    parts: tuple[RunPart, ...]
    foot: str
