"""How words are set: wrapped at spaces, on the design's line height, cut only with a full tip."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

_TIED = re.compile(r"(?<=\d) (?=(?:%|°C|°F|mm|cm|m|g|kg|lb|oz|cc|d|h|min|s|K|L)(?![A-Za-z]))")


@lru_cache(maxsize=1024)
def _tied(text: str) -> str:
    """No line ends between a figure and its unit."""
    return _TIED.sub("\u00a0", text)


def wrapped(text: str, metrics: QFontMetricsF, width: float) -> list[str]:
    """The lines of a text in `width` px; a word wider than that is broken between letters."""
    lines: list[str] = []
    for paragraph in _tied(text).split("\n"):
        whole_px = metrics.horizontalAdvance(paragraph)
        if whole_px <= width:
            lines.append(paragraph)
            continue
        usual = int(width * len(paragraph) / whole_px)
        words = [word for word in paragraph.split(" ") if word]
        while words:
            many = _many_fitting(words, metrics, width, usual)
            line = " ".join(words[: max(many, 1)])
            if many or len(line) == 1:
                words = words[max(many, 1) :]
            else:
                cut = _longest_fit(line, metrics, width)
                line, words[0] = line[:cut], line[cut:]
            lines.append(line)
    return lines


def _many_fitting(words: list[str], metrics: QFontMetricsF, width: float, usual: int) -> int:
    """How many of the words, from the first, stand in a line `width` px wide; 0: not even one.

    Measuring is what costs: it begins with as many as `usual` letters have room for.
    """
    many = letters = 0
    for word in words:
        letters += len(word) + 1
        if letters > usual:
            break
        many += 1

    def fit(some: int) -> bool:
        return metrics.horizontalAdvance(" ".join(words[:some])) <= width

    if many and not fit(many):
        return next((fewer for fewer in range(many - 1, 0, -1) if fit(fewer)), 0)
    while many < len(words) and fit(many + 1):
        many += 1
    return many


def cut(text: str, metrics: QFontMetricsF, width: float) -> str:
    """The text, ended with "…" if it is wider than `width`; whoever uses it owes a tooltip."""
    return metrics.elidedText(text, Qt.TextElideMode.ElideRight, max(width, 0.0))


def kept(lines: list[str], most: int, metrics: QFontMetricsF, width: float) -> list[str]:
    """At most so many of the lines, the last one ended with "…" if some were left out."""
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], cut(" ".join(lines[most - 1 :]), metrics, width)]


def base_line(top: float, line_px: float, metrics: QFontMetricsF) -> float:
    """The y of the base line of a text set in the middle of a line that begins at `top`."""
    return top + (line_px + metrics.ascent() - metrics.descent()) / 2


def draw_lines(
    painter: QPainter, lines: Sequence[str], at: QPointF, line_px: float, font: QFont, color: QColor
) -> float:
    """Set lines below each other from the point `at` (top left); answers the y below them."""
    metrics = QFontMetricsF(font)
    painter.setFont(font)
    painter.setPen(color)
    top = at.y()
    for line in lines:
        painter.drawText(QPointF(at.x(), base_line(top, line_px, metrics)), line)
        top += line_px
    return top


def draw_right(
    painter: QPainter,
    text: str,
    right: float,
    top: float,
    line_px: float,
    font: QFont,
    color: QColor,
) -> None:
    """Set one line so that it ends at `right`."""
    width = QFontMetricsF(font).horizontalAdvance(text)
    draw_lines(painter, [text], QPointF(right - width, top), line_px, font, color)


def _longest_fit(word: str, metrics: QFontMetricsF, width: float) -> int:
    low, high = 1, len(word) - 1
    while low < high:
        middle = (low + high + 1) // 2
        if metrics.horizontalAdvance(word[:middle]) <= width:
            low = middle
        else:
            high = middle - 1
    return low
