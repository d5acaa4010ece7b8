"""How a tally of any length is fitted into the strip: smaller cells, two rows, then words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from packdesk.ui.widgets.pouch_drawing import SMALLEST_PX

LARGEST_PX = 30
CELL_GAP = 4
LINE_GAP = 24
TWO_ROW_PX = 17
LEAST_LINE_PX = 150
WORDS_LINE_PX = 190
MOST_FOR_WORDS_PX = 200
"""What a plan line gets beyond its cells, where there is room and its words need no more."""


@dataclass(frozen=True, slots=True)
class TallyFit:
    """The size of a cell, the rows of cells, each plan line's width, and which are only words.

    With `most_cells` even the line in hand is too long: only that many cells around the one in
    hand are shown; 0 means all.
    """

    cell_px: float
    rows: int
    widths: tuple[float, ...]
    in_words: tuple[int, ...] = ()
    most_cells: int = 0

    def scaled(self, scale: float) -> TallyFit:
        """The same fit in another unit of length."""
        return replace(
            self,
            cell_px=self.cell_px * scale,
            widths=tuple(width * scale for width in self.widths),
        )


def fit_tally(
    counts: tuple[int, ...],
    room_px: float,
    *,
    words_px: tuple[float, ...] = (),
    largest_px: float = LARGEST_PX,
    in_hand: int = 0,
) -> TallyFit:
    """Fit plan lines of so many cells each into a width, all in design px.

    `words_px` is how wide the words above each line are: room beyond the cells goes there first.
    `largest_px` is the size the layout step prefers; a short tally may not exceed it.
    """
    for rows in (1, 2):
        start = largest_px if rows == 1 else min(largest_px, TWO_ROW_PX)
        cell = float(start)
        while cell >= SMALLEST_PX:
            widths = tuple(_line_width(count, rows, cell) for count in counts)
            spare = room_px - sum(widths) - LINE_GAP * max(len(counts) - 1, 0)
            if spare >= 0:
                return TallyFit(cell, rows, _with_words(widths, words_px, spare))
            cell -= 1
    return _in_words(counts, room_px, in_hand)


def _with_words(
    widths: tuple[float, ...], words_px: tuple[float, ...], spare_px: float
) -> tuple[float, ...]:
    """The widths of the cells with what their words need beyond them, as far as there is room."""
    share = min(spare_px / max(len(widths), 1), MOST_FOR_WORDS_PX)
    wanted = words_px or (0.0,) * len(widths)
    needs = [max(words - width, 0.0) for words, width in zip(wanted, widths, strict=True)]
    more = [max(share, need) for need in needs]
    if sum(more) > spare_px and any(need > share for need in needs):
        part = min(1.0, spare_px / sum(needs))
        more = [need * part for need in needs]
    return tuple(width + each for width, each in zip(widths, more, strict=True))


def _in_words(counts: tuple[int, ...], room_px: float, in_hand: int) -> TallyFit:
    """Only the plan line in hand keeps cells; the others share what is left as words."""
    others = len(counts) - 1
    words = min(WORDS_LINE_PX, (room_px - LINE_GAP * others) / (others + 1)) if others else 0.0
    line = room_px - (words + LINE_GAP) * others
    widths = tuple(line if place == in_hand else words for place in range(len(counts)))
    columns = int((line + CELL_GAP) // (SMALLEST_PX + CELL_GAP))
    return TallyFit(
        SMALLEST_PX,
        2,
        widths,
        tuple(place for place in range(len(counts)) if place != in_hand),
        0 if counts[in_hand] <= 2 * columns else 2 * columns,
    )


def stretch(count: int, in_hand: int, most_cells: int) -> range:
    """Which cells of a line are shown: all, or as many as fit around the one in hand."""
    if most_cells == 0 or count <= most_cells:
        return range(count)
    first = min(max(in_hand - most_cells // 2, 0), count - most_cells)
    return range(first, first + most_cells)


def _line_width(count: int, rows: int, cell_px: float) -> float:
    columns = ceil(count / rows)
    cells = columns * cell_px + max(columns - 1, 0) * CELL_GAP
    return max(cells, LEAST_LINE_PX)
