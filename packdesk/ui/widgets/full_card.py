"""A clock's card at full size: the time in large figures, what remains, the bar and a note."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFont, QFontMetricsF, QPainter

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.widgets.card_face import CardFace, CardInk
from packdesk.ui.widgets.clock_bar import draw_clock_bar
from packdesk.ui.widgets.lettering import draw_lines, draw_right, wrapped

LEAST_SHARE = 0.7
"""What remains may be so much smaller, to leave room for what its time means."""


@dataclass(frozen=True, slots=True)
class FullCard(CardFace):
    """The words of a full card; with `note` its note under the bar, if there is room for one."""

    note: bool = True

    def height(self, width: int) -> float:
        """How high the card is at this width: nothing is cut."""
        theme = self.theme
        needed = theme.px(14) + self._name_height(width) + self._figure_line()
        needed += theme.line(Role.HEAD) + theme.px(10 + 9 + 16)
        if self._shows_note():
            needed += theme.line(Role.NOTE) * len(self._note_lines(width)) + theme.px(6)
        return needed

    def draw(self, painter: QPainter, rect: QRectF, ink: CardInk) -> None:
        """Draw the words and the bar on a card that fills `rect`."""
        theme, row, width = self.theme, self.row, round(rect.width())
        left, right = self.edges(rect)
        top = rect.top() + theme.px(14)
        step = theme.line(Role.BODY)
        text_left = left
        if row.tag:
            text_left = self.draw_tag(painter, left, top, step, ink)
        names = self._name_lines(width)
        draw_lines(painter, names, QPointF(text_left, top), step, theme.font(Role.BODY), ink.first)
        top += self._name_height(width)
        self._draw_due(painter, left, right, top, ink)
        top += self._figure_line()
        remaining, with_meaning = self.remaining_set(right - left)
        step = theme.line(Role.HEAD)
        if with_meaning:
            note = theme.font(Role.NOTE, Weight.REGULAR)
            draw_right(painter, row.meaning, right, top, step + theme.px(5), note, ink.second)
        top = draw_lines(painter, [row.remaining], QPointF(left, top), step, remaining, ink.first)
        bar = QRectF(left, top + theme.px(10), right - left, theme.px(9))
        draw_clock_bar(painter, bar, row, theme)
        if self._shows_note():
            draw_lines(
                painter,
                self._note_lines(width),
                QPointF(left, bar.bottom() + theme.px(9)),
                theme.line(Role.NOTE),
                theme.font(Role.NOTE, Weight.REGULAR),
                ink.second,
            )

    def _draw_due(
        self, painter: QPainter, left: float, right: float, top: float, ink: CardInk
    ) -> None:
        """The time of day after its day, where that is not today, and what it means beside it."""
        theme, due = self.theme, self.due
        figure = self.fitting(Role.FIGURE, due, right - left)
        line = self._figure_line()
        width = QFontMetricsF(figure).horizontalAdvance(due)
        draw_lines(painter, [due], QPointF(left, top), line, figure, ink.first)
        lines = self._beside(right - left)
        if not lines:
            return
        note = theme.font(Role.NOTE, Weight.REGULAR)
        step = theme.line(Role.NOTE) * 0.94
        # The last of these words stands on the base line of the large figure.
        base = top + (line + QFontMetricsF(figure).ascent() - QFontMetricsF(figure).descent()) / 2
        first = base + QFontMetricsF(note).descent() - step * len(lines) + theme.px(1)
        at = QPointF(left + width + theme.px(14), first)
        draw_lines(painter, lines, at, step, note, ink.second)

    @property
    def due(self) -> str:
        """The day and time in the largest figures: a time alone is taken for today's."""
        return f"{self.row.short_day} {self.row.time_of_day}".strip()

    def _beside(self, room: float) -> list[str]:
        """What the time means, as it fits at the right of the figure; else it stands below."""
        theme = self.theme
        figure = self.fitting(Role.FIGURE, self.due, room)
        room -= QFontMetricsF(figure).horizontalAdvance(self.due) + theme.px(14)
        if theme.layout.rail or room < theme.px(34):
            return []
        lines = wrapped(self.row.meaning, theme.metrics(Role.NOTE, Weight.REGULAR), room)
        return lines if len(lines) <= 3 else []

    def remaining_set(self, room: float) -> tuple[QFont, bool]:
        """The font of what remains, and whether what the time means stands at its right.

        It does where there is no room for it beside the figure, and what remains need not be set
        much smaller for its sake.
        """
        theme, row = self.theme, self.row
        if not self._beside(room):
            note = theme.metrics(Role.NOTE, Weight.REGULAR)
            spare = room - note.horizontalAdvance(row.meaning) - theme.px(10)
            if theme.metrics(Role.HEAD).horizontalAdvance(row.remaining) * LEAST_SHARE <= spare:
                return self.fitting(Role.HEAD, row.remaining, spare), True
        return self.fitting(Role.HEAD, row.remaining, room), False

    def _figure_line(self) -> float:
        return self.theme.measure.text_px(Role.FIGURE) * 0.93

    def _shows_note(self) -> bool:
        return bool(self.note and self.row.note and not self.theme.layout.rail)

    def _name_lines(self, width: int) -> list[str]:
        room = max(self.name_room(width), 1.0)
        return wrapped(self.row.name, self.theme.metrics(Role.BODY), room)

    def _name_height(self, width: int) -> float:
        return self.theme.line(Role.BODY) * len(self._name_lines(width))

    def _note_lines(self, width: int) -> list[str]:
        metrics = self.theme.metrics(Role.NOTE, Weight.REGULAR)
        return wrapped(self.row.note, metrics, self.room(width))
