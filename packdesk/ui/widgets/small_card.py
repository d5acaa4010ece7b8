"""A clock's card at small size: its words take as few lines as they fit into."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFontMetricsF, QPainter

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.widgets.card_face import CardFace, CardInk
from packdesk.ui.widgets.clock_bar import draw_clock_bar
from packdesk.ui.widgets.lettering import cut, draw_lines, draw_right, wrapped


class RemainingAt(Enum):
    """Where a small card has room for what remains."""

    NAME = "at the right of the name"
    TIME = "beside the time"
    BELOW = "on a line of its own"
    TIP = "in the tooltip"


@dataclass(frozen=True, slots=True)
class SmallSetting:
    """The words of a small card as they fit: the lines of the name, the time, and small print.

    `meaning` stands beside the time or, with `meaning_below`, at the right of what remains.
    """

    names: list[str]
    due: str
    remaining: RemainingAt
    meaning: str
    meaning_below: bool = False


@dataclass(frozen=True, slots=True)
class SmallCard(CardFace):
    """The words of a small card; `tight` keeps it to its least height, its name cut to a line."""

    tight: bool = False

    def height(self, width: int) -> float:
        """How high the card is at this width; unless it is tight, nothing is cut."""
        theme, small = self.theme, self.setting(width)
        needed = self._head() + theme.line(Role.BODY) * len(small.names)
        needed += theme.line(Role.HOUR) * 0.86 + theme.px(22 if theme.layout.rail else 27)
        if small.remaining is RemainingAt.BELOW:
            needed += theme.line(Role.NOTE)
        return max(theme.whole(104 if theme.layout.rail else 112), needed)

    def draw(self, painter: QPainter, rect: QRectF, ink: CardInk) -> None:
        """Draw the words and the bar on a card that fills `rect`."""
        theme, row = self.theme, self.row
        left, right = self.edges(rect)
        top = rect.top() + self._head()
        step = theme.line(Role.BODY)
        small = self.setting(round(rect.width()))
        start = self.draw_tag(painter, left, top, step, ink) if row.tag else left
        plain = theme.font(Role.BODY, Weight.REGULAR)
        if small.remaining is RemainingAt.NAME:
            draw_right(painter, row.remaining, right, top, step, plain, ink.second)
        bold = theme.font(Role.BODY)
        top = draw_lines(painter, small.names, QPointF(start, top), step, bold, ink.first)
        line = theme.line(Role.HOUR) * 0.86
        hour = self.fitting(Role.HOUR, small.due, right - left)
        draw_lines(painter, [small.due], QPointF(left, top), line, hour, ink.first)
        note = theme.font(Role.NOTE, Weight.REGULAR)
        beside = row.remaining if small.remaining is RemainingAt.TIME else small.meaning
        if beside:
            # Small print beside the time stands on the base line of its figures.
            drop = QFontMetricsF(hour).ascent() - QFontMetricsF(hour).descent()
            drop -= QFontMetricsF(note).ascent() - QFontMetricsF(note).descent()
            at = left + QFontMetricsF(hour).horizontalAdvance(small.due) + theme.px(12)
            draw_lines(painter, [beside], QPointF(at, top + drop / 2), line, note, ink.second)
        if small.remaining is RemainingAt.BELOW:
            at = QPointF(left, top + line)
            draw_lines(painter, [row.remaining], at, theme.line(Role.NOTE), note, ink.second)
            if small.meaning_below:
                step = theme.line(Role.NOTE)
                draw_right(painter, row.meaning, right, at.y(), step, note, ink.second)
        bar_top = rect.bottom() - theme.px(17 if theme.layout.rail else 19)
        draw_clock_bar(painter, QRectF(left, bar_top, right - left, theme.px(8)), row, theme)

    def setting(self, width: int) -> SmallSetting:
        """How the words are set in this width."""
        theme, row = self.theme, self.row
        room = self.name_room(width)
        names = theme.metrics(Role.BODY)
        remaining = theme.metrics(Role.BODY, Weight.REGULAR).horizontalAdvance(row.remaining)
        due = f"{row.short_day} {row.time_of_day}".strip()
        note = theme.metrics(Role.NOTE, Weight.REGULAR)
        beside = self.room(width) - theme.metrics(Role.HOUR).horizontalAdvance(due) - theme.px(12)
        if names.horizontalAdvance(row.name) + theme.px(12) + remaining <= room:
            fits = note.horizontalAdvance(row.meaning) <= beside
            return SmallSetting([row.name], due, RemainingAt.NAME, row.meaning if fits else "")
        fits = note.horizontalAdvance(row.remaining) <= beside
        place = RemainingAt.TIME if fits else RemainingAt.BELOW
        if self.tight and not fits:
            place = RemainingAt.TIP
        meaning = ""
        if not self.tight and note.horizontalAdvance(row.meaning) <= beside:
            # What the time means stays beside it: two times without it are a riddle.
            place, meaning = RemainingAt.BELOW, row.meaning
        lines = wrapped(row.name, names, max(room, 1.0))
        if self.tight and len(lines) > 1:
            lines = [(_cut_food if row.tag else cut)(row.name, names, room)]
        both = sum(map(note.horizontalAdvance, (row.remaining, row.meaning))) + theme.px(12)
        below = place is RemainingAt.BELOW and not meaning and both <= self.room(width)
        return SmallSetting(lines, due, place, meaning, below)

    def _head(self) -> float:
        """The room above a small card's name."""
        return self.theme.px(10 if self.theme.layout.rail else 14)


def _cut_food(name: str, metrics: QFontMetricsF, room: float) -> str:
    """A name cut in its food: the last word, what the food does, says what the time means."""
    food, _, does = name.rpartition(" ")
    room -= metrics.horizontalAdvance(f" {does}")
    return f"{cut(food, metrics, room)} {does}".strip()
