"""One running clock: when it is due in large figures, what remains, and a bar."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Any

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import ClockRow, Urgency
from packdesk.ui.icons import draw_pail_tag
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.clock_bar import draw_clock_bar
from packdesk.ui.widgets.lettering import cut, draw_lines, draw_right, wrapped
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_hatch, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

SOON_BLOCK = 10
LATE_HATCH = 16


@dataclass(frozen=True, slots=True)
class CardInk:
    """The colours of a card's words, which a late clock turns over."""

    first: QColor
    second: QColor


class RemainingAt(Enum):
    """Where a small card has room for what remains."""

    NAME = "at the right of the name"
    TIME = "beside the time"
    BELOW = "on a line of its own"
    TIP = "in the tooltip"


MOST_HEIGHTS = 32


@dataclass(frozen=True, slots=True)
class SmallSetting:
    """The words of a small card as they fit: the lines of the name, the time, and small print."""

    names: list[str]
    due: str
    remaining: RemainingAt
    meaning: str


class ClockCard(Themed):
    """A clock as a card, full (198 px) or small (112 px); late turns it solid brick.

    Signals: none; the column above decides what is shown full.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None, *, full: bool = True) -> None:
        super().__init__(theme, parent, ground="cloth")
        self._row: ClockRow | None = None
        self._full = full
        self._with_note = True
        self._tight = False
        self._heights: dict[tuple[Any, ...], int] = {}
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def row(self) -> ClockRow | None:
        """The clock shown."""
        return self._row

    @property
    def full(self) -> bool:
        """Whether the card is shown at full size."""
        return self._full

    def show_row(
        self,
        row: ClockRow,
        *,
        full: bool | None = None,
        note: bool = True,
        tight: bool = False,
    ) -> None:
        """Show a clock; `full` changes the size.

        Where height is short the note gives way; then `tight` keeps a small card to its least
        height, with the whole name and what remains in the tooltip.
        """
        before = (self._row, self._full, self._with_note, self._tight)
        self._row = row
        self._full = self._full if full is None else full
        self._with_note = note
        self._tight = tight
        told = [row.name, f"load {row.tag}" if row.tag else "", row.meaning, row.day]
        told += [row.time_of_day, row.remaining, row.note]
        self.setAccessibleName(", ".join(part for part in told if part))
        if before != (row, full, note, tight):
            self.updateGeometry()
        self.setToolTip(f"{row.name}, {row.remaining}" if tight else "")
        self.update()

    def sizeHint(self) -> QSize:
        layout = self.theme.layout
        width = self.theme.whole(layout.clocks_width - 2 * layout.clocks_margin)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(150), self.heightForWidth(self.sizeHint().width()))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        """Kept for what is shown: the column tries several settings at every press."""
        row = self._row
        told = (row.name, row.tag, row.day, row.short_day, row.time_of_day) if row else ()
        note = (row.remaining, row.meaning, row.note) if row else ()
        shown = (width, told, note, self._full, self._with_note, self._tight)
        if shown not in self._heights:
            if len(self._heights) >= MOST_HEIGHTS:
                self._heights.clear()
            self._heights[shown] = self._height(width)
        return self._heights[shown]

    def restyle(self) -> None:
        self._heights.clear()
        super().restyle()

    def _height(self, width: int) -> int:
        theme = self.theme
        if not self._full:
            small = self._small(width)
            needed = self._head() + theme.line(Role.BODY) * len(small.names)
            needed += theme.line(Role.HOUR) * 0.86 + theme.px(22 if theme.layout.rail else 27)
            if small.remaining is RemainingAt.BELOW:
                needed += theme.line(Role.NOTE)
            return max(theme.whole(104 if theme.layout.rail else 112), round(needed))
        needed = theme.px(14) + self._name_height(width) + self._figure_line()
        needed += theme.line(Role.HEAD) + theme.px(10 + 9 + 16)
        if self._shows_note():
            needed += theme.line(Role.NOTE) * len(self._note_lines(width)) + theme.px(6)
        return round(needed)

    def draw(self, painter: QPainter) -> None:
        if self._row is None:
            return
        rect = QRectF(self.rect())
        ink = self._draw_body(painter, rect)
        if self._full:
            self._draw_full(painter, rect, ink)
        else:
            self._draw_small(painter, rect, ink)

    def _draw_body(self, painter: QPainter, rect: QRectF) -> CardInk:
        theme, row = self.theme, self._row
        radius = theme.px(CARD_RADIUS)
        shape = rounded(rect, radius)
        if row.urgency is Urgency.LATE:
            painter.fillPath(shape, theme.color("brick"))
            painter.save()
            painter.setClipPath(shape)
            strip = QRectF(rect.left(), rect.top(), theme.px(LATE_HATCH), rect.height())
            painter.fillRect(strip, theme.color("onbrick"))
            draw_hatch(painter, strip, theme.color("brick"), theme.px(4.5), theme.px(10))
            painter.restore()
            return CardInk(theme.color("onbrick"), theme.color("onbrick"))
        painter.fillPath(shape, theme.color("sheet"))
        if row.urgency is Urgency.SOON:
            painter.save()
            painter.setClipPath(shape)
            painter.fillRect(
                QRectF(rect.left(), rect.top(), theme.px(SOON_BLOCK), rect.height()),
                theme.color("wheat"),
            )
            painter.restore()
            draw_outline(painter, rect, radius, theme.px(2), theme.color("wheatink"))
        elif theme.tokens.outlined:
            draw_outline(painter, rect, radius, theme.px(1.5), theme.color("edge"))
        return CardInk(theme.color("ink"), theme.color("ink2"))

    def _draw_full(self, painter: QPainter, rect: QRectF, ink: CardInk) -> None:
        theme, row = self.theme, self._row
        left, right = self._edges(rect)
        top = rect.top() + theme.px(14)
        step = theme.line(Role.BODY)
        text_left = left
        if row.tag:
            text_left = self._draw_tag(painter, left, top, step, ink)
        names = self._name_lines(self.width())
        draw_lines(painter, names, QPointF(text_left, top), step, theme.font(Role.BODY), ink.first)
        top += self._name_height(self.width())
        self._draw_due(painter, left, right, top, ink)
        top += self._figure_line()
        remaining = self._fitting(Role.HEAD, row.remaining, right - left)
        step = theme.line(Role.HEAD)
        if theme.layout.rail:
            self._draw_meaning_right(painter, left, right, top, ink)
        top = draw_lines(painter, [row.remaining], QPointF(left, top), step, remaining, ink.first)
        bar = QRectF(left, top + theme.px(10), right - left, theme.px(9))
        draw_clock_bar(painter, bar, row, theme)
        if self._shows_note():
            draw_lines(
                painter,
                self._note_lines(self.width()),
                QPointF(left, bar.bottom() + theme.px(9)),
                theme.line(Role.NOTE),
                theme.font(Role.NOTE, Weight.REGULAR),
                ink.second,
            )

    def _draw_due(
        self, painter: QPainter, left: float, right: float, top: float, ink: CardInk
    ) -> None:
        """The time of day, and to its right the day and what the time means."""
        theme, row = self.theme, self._row
        due = f"{row.short_day} {row.time_of_day}" if theme.layout.rail else row.time_of_day
        figure = self._fitting(Role.FIGURE, due.strip(), right - left)
        line = self._figure_line()
        width = QFontMetricsF(figure).horizontalAdvance(row.time_of_day)
        draw_lines(painter, [due.strip()], QPointF(left, top), line, figure, ink.first)
        room = right - left - width - theme.px(14)
        if theme.layout.rail or room < theme.px(34):
            return
        note = theme.font(Role.NOTE, Weight.REGULAR)
        measured = QFontMetricsF(note)
        whole = all(measured.horizontalAdvance(word) <= room for word in row.day.split())
        named = row.day if whole else row.short_day  # a day's name is never broken
        meaning, day = (
            wrapped(part, measured, room) if part else [] for part in (row.meaning, named)
        )
        # Where both are too much it is the day that must be known.
        lines = meaning + day if len(meaning + day) <= 3 else day
        if len(lines) > 3:
            return
        step = theme.line(Role.NOTE) * 0.94
        # The last of these words stands on the base line of the large figure.
        base = top + (line + QFontMetricsF(figure).ascent() - QFontMetricsF(figure).descent()) / 2
        first = base + QFontMetricsF(note).descent() - step * len(lines) + theme.px(1)
        at = QPointF(left + width + theme.px(14), first)
        draw_lines(painter, lines, at, step, note, ink.second)

    def _draw_meaning_right(
        self, painter: QPainter, left: float, right: float, top: float, ink: CardInk
    ) -> None:
        """On a narrow card the meaning stands at the right of what remains, if both fit."""
        theme, row = self.theme, self._row
        note = theme.font(Role.NOTE, Weight.REGULAR)
        used = theme.metrics(Role.HEAD).horizontalAdvance(row.remaining) + theme.px(10)
        if used + QFontMetricsF(note).horizontalAdvance(row.meaning) <= right - left:
            step = theme.line(Role.HEAD) + theme.px(5)
            draw_right(painter, row.meaning, right, top, step, note, ink.second)

    def _draw_small(self, painter: QPainter, rect: QRectF, ink: CardInk) -> None:
        theme, row = self.theme, self._row
        left, right = self._edges(rect)
        top = rect.top() + self._head()
        step = theme.line(Role.BODY)
        small = self._small(self.width())
        start = self._draw_tag(painter, left, top, step, ink) if row.tag else left
        plain = theme.font(Role.BODY, Weight.REGULAR)
        if small.remaining is RemainingAt.NAME:
            draw_right(painter, row.remaining, right, top, step, plain, ink.second)
        bold = theme.font(Role.BODY)
        top = draw_lines(painter, small.names, QPointF(start, top), step, bold, ink.first)
        line = theme.line(Role.HOUR) * 0.86
        hour = self._fitting(Role.HOUR, small.due, right - left)
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
        bar_top = rect.bottom() - theme.px(17 if theme.layout.rail else 19)
        draw_clock_bar(painter, QRectF(left, bar_top, right - left, theme.px(8)), row, theme)

    def _small(self, width: int) -> SmallSetting:
        """How a small card's words are set in this width: nothing is cut, the card grows."""
        theme, row = self.theme, self._row
        if row is None:
            return SmallSetting([""], "", RemainingAt.NAME, "")
        left, right = self._edges(QRectF(0, 0, width, 1))
        room = right - left - (theme.px(36) if row.tag else 0)
        names = theme.metrics(Role.BODY)
        remaining = theme.metrics(Role.BODY, Weight.REGULAR).horizontalAdvance(row.remaining)
        due = f"{row.short_day} {row.time_of_day}".strip()
        note = theme.metrics(Role.NOTE, Weight.REGULAR)
        beside = right - left - theme.metrics(Role.HOUR).horizontalAdvance(due) - theme.px(12)
        if names.horizontalAdvance(row.name) + theme.px(12) + remaining <= room:
            fits = note.horizontalAdvance(row.meaning) <= beside
            return SmallSetting([row.name], due, RemainingAt.NAME, row.meaning if fits else "")
        fits = note.horizontalAdvance(row.remaining) <= beside
        place = RemainingAt.TIME if fits else RemainingAt.BELOW
        if self._tight and not fits:
            place = RemainingAt.TIP
        lines = wrapped(row.name, names, max(room, 1.0))
        if self._tight and len(lines) > 1:
            lines = [(_cut_food if row.tag else cut)(row.name, names, room)]
        return SmallSetting(lines, due, place, "")

    def _head(self) -> float:
        """The room above a small card's name."""
        return self.theme.px(10 if self.theme.layout.rail else 14)

    def _draw_tag(
        self, painter: QPainter, left: float, top: float, step: float, ink: CardInk
    ) -> float:
        """Draw the load's pail; answers where the name begins."""
        theme = self.theme
        box = QRectF(left, top + (step - theme.px(26)) / 2, theme.px(26), theme.px(26))
        draw_pail_tag(painter, box, self._row.tag, ink.first, theme.font(Role.BODY), theme.px(2))
        return left + theme.px(36)

    def _edges(self, rect: QRectF) -> tuple[float, float]:
        theme = self.theme
        padding = theme.px(14 if theme.layout.rail else 20)
        left = rect.left() + padding
        if self._row.urgency is Urgency.LATE:
            left = rect.left() + theme.px(LATE_HATCH) + theme.px(8 if theme.layout.rail else 14)
        elif self._row.urgency is Urgency.SOON:
            left += theme.px(6)
        return left, rect.right() - theme.px(14 if theme.layout.rail else 18)

    def _fitting(self, role: Role, text: str, room: float) -> QFont:
        """The font of a role, smaller only where a long day or large type needs it."""
        font = self.theme.font(role)
        width = QFontMetricsF(font).horizontalAdvance(text)
        if width > room:
            font.setPixelSize(max(int(font.pixelSize() * room / width), 1))
        return font

    def _figure_line(self) -> float:
        return self.theme.measure.text_px(Role.FIGURE) * 0.93

    def _shows_note(self) -> bool:
        return bool(self._with_note and self._row and self._row.note and not self.theme.layout.rail)

    def _name_lines(self, width: int) -> list[str]:
        if self._row is None:
            return [""]
        left, right = self._edges(QRectF(0, 0, width, 1))
        room = right - left - (self.theme.px(36) if self._row.tag else 0)
        return wrapped(self._row.name, self.theme.metrics(Role.BODY), max(room, 1.0))

    def _name_height(self, width: int) -> float:
        return self.theme.line(Role.BODY) * len(self._name_lines(width))

    def _note_lines(self, width: int) -> list[str]:
        left, right = self._edges(QRectF(0, 0, width, 1))
        metrics = self.theme.metrics(Role.NOTE, Weight.REGULAR)
        return wrapped(self._row.note, metrics, right - left)


def _cut_food(name: str, metrics: QFontMetricsF, room: float) -> str:
    """A name cut in its food: the last word, what the food does, says what the time means."""
    food, _, does = name.rpartition(" ")
    room -= metrics.horizontalAdvance(f" {does}")
    return f"{cut(food, metrics, room)} {does}".strip()
