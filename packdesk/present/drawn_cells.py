"""Which pouches of a large group are drawn, and a sign for those that are not."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from packdesk.present.cards import CellState, PouchCell
from packdesk.session.numbers import named
from packdesk.session.pouch import Pouch

MOST_CELLS = 20
"""So many cells are drawn at most; a larger group is counted whole and drawn around the next."""

STEP_CELLS = 10
"""The cells of a large group move on by so many at once, so that they mostly stand still."""


def drawn_cells(
    group: Sequence[Pouch], place: int, cell: Callable[[Pouch], PouchCell]
) -> tuple[PouchCell, ...]:
    """The cells of those about the pouch at `place`, which is next.

    Where others come before or after them, the cell at that end stands for it and its neighbours.
    """
    first = max(0, place - STEP_CELLS // 2) // STEP_CELLS * STEP_CELLS
    first = max(0, min(first, len(group) - MOST_CELLS))
    end = min(first + MOST_CELLS, len(group))
    left = group[: first + 1] if first else ()
    right = group[end - 1 :] if end < len(group) else ()
    seen = group[first + bool(left) : end - bool(right)]
    return (
        *((_more(left, "before"),) if left else ()),
        *(cell(pouch) for pouch in seen),
        *((_more(right, "after"),) if right else ()),
    )


def _more(pouches: Sequence[Pouch], where: str) -> PouchCell:
    """The sign for pouches that are not drawn: how many, and in its name which."""
    which = named(pouch.number for pouch in pouches)
    label = f"{len(pouches)} more {where}, not drawn: {which}"
    return PouchCell(None, CellState.FILLED, label, more=len(pouches))
