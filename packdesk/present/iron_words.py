"""How a seam is ironed, by the film, and what a sealed pouch looks like the day after."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from packdesk.catalog.films import Film
from packdesk.present.cards import Control
from packdesk.present.load_view import short_food
from packdesk.sentences import capital
from packdesk.session.figures import AgreedLine

ADVICE = "advice"
"""The form of the control that unfolds the long advice; the page answers it by itself."""

HOW_TO_SEAL = Control("How to seal", icon="edit", key="I", form=ADVICE)

_DOTS = {1: "one dot", 2: "two dots", 3: "three dots"}

UNFOLD = "I tells how to seal, and what to look for tomorrow."
FOLD = "I folds this away."

SEAMS = (
    (
        "Dots as on garment labels (ISO 3758): one is the coolest setting, three the hottest. "
        "Which one suits a film is common practice without a source; your offcut decides."
    ),
    (
        "No water in the iron, no steam. Two seams, a finger apart; let each cool flat before "
        "you bend it or pull at it."
    ),
)

TOMORROW = (
    "Tomorrow: only about a fifth of the air is oxygen, so a good pouch need not pull tight.",
    "A pouch pressed well may go hard; a liner drawn off looks tight from the start.",
    "It is the change that tells a leak: tight today, soft tomorrow.",
)

LINERS = (
    "Lift it out onto the counter, or leave it in its pail with the rim standing free.",
    (
        "Leave a gap as wide as the hose, draw off slowly, close the gap at once. What is drawn "
        "off is oxygen that the absorbers need not take up."
    ),
    "Never draw air off over a powder: it is drawn into the seam, and the seam leaks.",
)


def iron_lines(films: Mapping[str, Film], lines: Iterable[AgreedLine]) -> tuple[str, ...]:
    """Say the iron for these plan lines, one sentence a film; by food where films differ."""
    found: dict[str, AgreedLine] = {}
    for line in lines:
        if line.film in films:
            found.setdefault(line.film, line)
    if len({_said(films[film]) for film in found}) <= 1:
        return tuple(dict.fromkeys(f"Dry iron, {_said(films[film])}." for film in found))
    return tuple(
        f"{capital(short_food(line.food_name))}: dry iron, {_said(films[film])}."
        for film, line in found.items()
    )


def long_advice(films: Mapping[str, Film], lines: Sequence[AgreedLine]) -> tuple[str, ...]:
    """All there is to say about these seams and about the day after.

    Of drawing off air only where a liner may have it: never over a powder.
    """
    liners = [line for line in lines if line.liner]
    known = dict.fromkeys(line.film for line in lines if line.film in films)
    return (
        *(f"{capital(films[film].name)}: {films[film].iron_advice}" for film in known),
        *SEAMS,
        *(LINERS[:1] if liners else ()),
        *(LINERS[1:2] if any(not line.dusty for line in liners) else ()),
        *(LINERS[2:] if liners else ()),
        *TOMORROW,
    )


def _said(film: Film) -> str:
    """Dots, and what the advice says before its first stop: how long, and through what."""
    first = re.split(r"[;.]\s", film.iron_advice, maxsplit=1)[0]
    _, _, dwell = first.partition(", ")
    return f"{_DOTS[film.iron_dots]}, {dwell}" if dwell else _DOTS[film.iron_dots]
