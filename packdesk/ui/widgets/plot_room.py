"""Where words find room on the core plot: clear of marks and other words, off the curve."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, QSize

CLOSE_PX = 5.0
"""So close together the points of a curve are looked at that words may cover."""


class PlotRoom:
    """What is still free of a plot with the curve `line` in `area`.

    `boxes` are the places taken so far.
    """

    def __init__(self, area: QRectF, line: Sequence[QPointF]) -> None:
        self._area = area
        self._line = list(_closely(line))
        self._obstacles: list[QRectF] = []
        self.boxes: list[QRectF] = []

    def keep_off(self, obstacle: QRectF) -> None:
        """Words are not to be placed on this."""
        self._obstacles.append(obstacle)

    def take(
        self, places: Sequence[QPointF], size: QSize, touching: int | None = None
    ) -> QRectF | None:
        """The best of `places`, kept clear of other words from now on; see `best`."""
        found = self.best(places, size, touching)
        if found is not None:
            self.boxes.append(found)
        return found

    def best(
        self, places: Sequence[QPointF], size: QSize, touching: int | None = None
    ) -> QRectF | None:
        """The place where words touch the curve least; None if something is in all of them.

        A place beyond the plot is moved into it. With `touching` no more points of the curve may
        lie under the words.
        """
        area = self._area
        best: tuple[float, QRectF] | None = None
        for at in places:
            x = min(max(at.x(), area.left()), area.right() - size.width())
            y = min(max(at.y(), 0.0), area.bottom() - size.height())
            box = QRectF(x, y, size.width(), size.height())
            if any(box.intersects(other) for other in (*self.boxes, *self._obstacles)):
                continue
            under = sum(box.contains(point) for point in self._line)
            if touching is not None and under > touching:
                continue
            cost = 1.0 * under + 0.5 * (box.topLeft() != at)
            if best is None or cost < best[0]:
                best = (cost, box)
        return best[1] if best is not None else None


def _closely(line: Sequence[QPointF]) -> Iterator[QPointF]:
    """The points of a curve and as many between them that no word fits through."""
    for begin, end in pairwise(line):
        parts = max(1, math.ceil(math.hypot(end.x() - begin.x(), end.y() - begin.y()) / CLOSE_PX))
        for part in range(parts):
            yield begin + (end - begin) * (part / parts)
    yield from line[-1:]
