"""A count typed above what can be: the press waits, and says how many can be and why."""

from __future__ import annotations

from dataclasses import replace

from packdesk.present.cards import Control


def too_many(control: Control, asked: int | None, possible: int, why: str) -> Control:
    """`control` as it is; where more than `possible` are asked for it is not yet, and says why.

    One that stands beside the main control, with a key of its own, keeps its name.
    """
    if asked is None or asked <= possible:
        return control
    label = control.label if control.key else too_many_words(asked)
    return replace(control, label=label, missing=why)


def too_many_words(asked: int) -> str:
    """What is wrong with the count."""
    return f"{asked} are too many"


def at_most(
    control: Control, asked: int | None, possible: int, waiting: int, left: int, each: int
) -> Control:
    """`control`, unless more are asked for than wait for an absorber alike, or than what is left
    gives `each` so many."""
    if possible == waiting:
        why = f"{waiting} {'waits' if waiting == 1 else 'wait'} for an absorber"
    else:
        lie = "1 absorber is left" if left == 1 else f"{left} absorbers are left"
        most = "1\u00a0pouch" if possible == 1 else f"{possible}\u00a0pouches"
        why = f"{lie}{f', {each} each' if each > 1 else ''}: {most} at most"
    return too_many(control, asked, possible, why)
