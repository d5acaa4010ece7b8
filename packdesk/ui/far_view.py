"""The far view: the count, the next act, the nearest clock; read from two or three metres away."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QRectF, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from packdesk.present.cards import ClockRow, Urgency
from packdesk.ui.icons import Icon
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.clock_bar import draw_clock_bar
from packdesk.ui.widgets.lettering import cut, draw_lines, wrapped
from packdesk.ui.widgets.main_control import MainControl, MainFace
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

MARGIN = 40
MAIN_HEIGHT, LEAST_MAIN, MAIN_SHARE = 228, 150, 0.3
FOOT_HEIGHT = 72
UNDO_WIDTH = 286
CARD_SHARE = 0.3
BLOCK = 14
CARD_AIR = 16 + 10 + 10 + 20 + 14
"""In a clock's card above and below its words, its figure and its bar."""
ROOMY, LARGEST_SHARE = 260, 2.0
"""From this height of its place on the unit is larger too; a figure grows to twice its size."""
COUNT_OVER_WORDS = 1.5
"""The figure of the count is at least so much higher than the capitals of the sentence."""
_MINUTES = re.compile(r"(?=\d)(?:(\d+) min ?)?(?:(\d+) s ?)?([a-z]*)")
"""What remains, where it is less than an hour: minutes, seconds, and "left" or "over"."""
_SMALLER = {Role.AFAR: Role.FIGURE, Role.FIGURE: Role.ACT_WIDE, Role.ACT_WIDE: Role.SAY}


@dataclass(frozen=True, slots=True)
class FarFace:
    """What is read from afar: what to do, how many are done, which clock is next; nothing else.

    `undo` is what Undo takes back, `trouble` says that something could not be saved.
    """

    sentence: str
    count: str
    main: MainFace
    clock: ClockRow | None
    undo: str
    trouble: str = ""


class FarView(Themed):
    """Sentence, count, one clock, and the main control over the full width; no path, no plot.

    Signals:
        acted: the main control, or its bar anywhere, was pressed.
        undo_asked: the last entry is to be taken back.
        back_asked: the person wants the whole desk again.
    """

    acted = Signal()
    undo_asked = Signal()
    back_asked = Signal()

    def __init__(
        self,
        theme: Theme,
        tap_clock: Callable[[], float] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, parent, ground="cloth", fills_ground=True)
        self._face: FarFace | None = None
        self.main = MainControl(theme, self, ground="cloth", clock=tap_clock)
        self.main.set_far(True)
        self.main.acted.connect(self.acted)
        self.main.missing_asked.connect(self.acted)
        self.undo = SecondControl(theme, self, ground="cloth", clock=tap_clock)
        self.undo.acted.connect(self.undo_asked)
        self.back = SecondControl(theme, self, ground="cloth", clock=tap_clock)
        self.back.acted.connect(self.back_asked)
        self.back.show_face(SecondFace("Back to the desk", "F", Icon.AFAR))
        self.setAccessibleName("Read from afar")

    @property
    def face(self) -> FarFace | None:
        """What is shown."""
        return self._face

    def show_face(self, face: FarFace) -> None:
        """Show how things stand."""
        if face == self._face:
            return
        self._face = face
        self.main.show_face(face.main)
        missing = "" if face.undo else "nothing"
        self.undo.show_face(SecondFace("Undo", "Backspace", Icon.UNDO, missing))
        self.undo.setAccessibleName(f"Undo {face.undo}" if face.undo else "Undo")
        self.setAccessibleDescription(f"{face.count}. {face.sentence} {face.trouble}".rstrip())
        self._place()
        self.update()

    def restyle(self) -> None:
        super().restyle()
        if hasattr(self, "back"):
            self._place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def draw(self, painter: QPainter) -> None:
        face = self._face
        if face is None:
            return
        theme = self.theme
        ink, margin = theme.color("ink"), theme.px(MARGIN)
        role, lines = self._sentence()
        at = QPointF(margin, self._words_top())
        end = draw_lines(painter, lines, at, theme.line(role), theme.font(role), ink)
        self._draw_count(painter, face.count, end)
        if face.clock is not None:
            self._draw_clock(painter, self._card_rect(), face.clock)
        if face.trouble:
            self._draw_trouble(painter, face.trouble)

    def _draw_count(self, painter: QPainter, count: str, below: float) -> None:
        """How many are done, as large as there is room under the sentence."""
        theme = self.theme
        ink, air = theme.color("ink"), theme.px(20)
        margin, room = theme.px(MARGIN), max(self._count_room(below), 1.0)
        box = QRectF(margin, below + air, self._words_width(), room)
        figure, rest = count_figures(count)
        if figure:
            self._draw_figure(painter, box, figure, rest, ink)
            return
        role = Role.FIGURE
        while True:
            words = wrapped(rest, theme.metrics(role), box.width())
            if len(words) * theme.line(role) <= room or role not in _SMALLER:
                break
            role = _SMALLER[role]
        draw_lines(painter, words, box.topLeft(), theme.line(role), theme.font(role), ink)

    def _count_room(self, below: float) -> float:
        """Height that is left for the count under a sentence that ends at `below`."""
        return self._main_top() - below - 3 * self.theme.px(20)

    def _draw_clock(self, painter: QPainter, card: QRectF, row: ClockRow) -> None:
        """The card of the most urgent clock: solid brick when late, a wheat block when soon."""
        theme = self.theme
        late, soon = row.urgency is Urgency.LATE, row.urgency is Urgency.SOON
        ink = theme.color("onbrick" if late else "ink")
        shape = rounded(card, theme.px(CARD_RADIUS))
        painter.fillPath(shape, theme.color("brick" if late else "sheet"))
        if soon:
            painter.save()
            painter.setClipPath(shape)
            block = QRectF(card.left(), card.top(), theme.px(BLOCK), card.height())
            painter.fillRect(block, theme.color("wheat"))
            painter.restore()
        if soon or theme.tokens.outlined:
            edge = theme.color("wheatink" if soon else "edge")
            draw_outline(painter, card, theme.px(CARD_RADIUS), theme.px(2), edge)
        left = card.left() + theme.px(BLOCK + 24)
        room = card.right() - theme.px(24) - left
        high = theme.line(Role.HEAD) + theme.line(Role.SAY) + theme.px(CARD_AIR)
        tight = card.height() - high < 1.5 * theme.metrics(Role.SAY).capHeight()
        over, under = (Role.BODY, Role.HEAD) if tight else (Role.HEAD, Role.SAY)
        name = cut(row.name, theme.metrics(over), room)
        at = QPointF(left, card.top() + theme.px(16))
        draw_lines(painter, [name], at, theme.line(over), theme.font(over), ink)
        figure, rest, foot = far_figures(row)
        foot_step = theme.line(under)
        foot_top = card.bottom() - theme.px(14) - foot_step
        words = cut(foot, theme.metrics(under), room)
        draw_lines(painter, [words], QPointF(left, foot_top), foot_step, theme.font(under), ink)
        bar = QRectF(left, foot_top - theme.px(20), room, theme.px(12))
        draw_clock_bar(painter, bar, row, theme)
        top, air = at.y() + theme.line(over), theme.px(10)
        place = QRectF(left, top + air, room, bar.top() - top - 2 * air)
        self._draw_figure(painter, place, figure, rest, ink)

    def _draw_figure(
        self, painter: QPainter, box: QRectF, figure: str, rest: str, ink: QColor
    ) -> None:
        """The figure as large as its place allows, the word after it small on the same line."""
        theme = self.theme
        gap = theme.px(16)
        role = Role.FIGURE if box.height() >= theme.px(ROOMY) else Role.SAY
        if box.height() < COUNT_OVER_WORDS * theme.metrics(role).capHeight():
            role = Role.HEAD
        unit = theme.metrics(role).horizontalAdvance(rest) + gap if rest else 0.0
        font = theme.font(Role.FAR_FIGURE)
        full = theme.metrics(Role.FAR_FIGURE)
        room = max(box.width() - unit, 1.0)
        share = min(
            LARGEST_SHARE,
            room / max(full.horizontalAdvance(figure), 1.0),
            max(box.height(), 1.0) / full.capHeight(),
        )
        font.setPixelSize(max(round(font.pixelSize() * share), 1))
        metrics = QFontMetricsF(font)
        base = box.center().y() + metrics.capHeight() / 2
        painter.setPen(ink)
        painter.setFont(font)
        painter.drawText(QPointF(box.left(), base), figure)
        if rest:
            painter.setFont(theme.font(role))
            x = box.left() + metrics.horizontalAdvance(figure) + gap
            painter.drawText(QPointF(x, base), rest)

    def _draw_trouble(self, painter: QPainter, trouble: str) -> None:
        """Between Undo and the way back: the one thing more that must be known."""
        theme = self.theme
        left = self.undo.geometry().right() + theme.px(28)
        room = self.back.geometry().left() - theme.px(20) - left
        step = theme.line(Role.SAY)
        top = self.undo.geometry().center().y() - step / 2
        words = cut(trouble, theme.metrics(Role.SAY), room)
        color = theme.color("brick")
        draw_lines(painter, [words], QPointF(left, top), step, theme.font(Role.SAY), color)

    def _sentence(self) -> tuple[Role, list[str]]:
        """The sentence in the largest voice that keeps it to two lines and below the count."""
        theme, face = self.theme, self._face
        room = max(self._words_width(), 1.0)
        role = Role.AFAR
        while True:
            lines = wrapped(face.sentence, theme.metrics(role), room)
            count = self._count_room(self._words_top() + len(lines) * theme.line(role))
            least = COUNT_OVER_WORDS * theme.metrics(role).capHeight()
            if (len(lines) <= 2 and count >= least) or role not in _SMALLER:
                return role, lines
            role = _SMALLER[role]

    def _words_top(self) -> float:
        return self.theme.px(28)

    def _words_width(self) -> float:
        margin = self.theme.px(MARGIN)
        if self._face is not None and self._face.clock is not None:
            return self._card_rect().left() - 2 * margin
        return self.width() - 2 * margin

    def _card_rect(self) -> QRectF:
        theme = self.theme
        margin = theme.px(MARGIN)
        width = max(self.width() * CARD_SHARE, theme.px(360))
        top = self._words_top() + theme.px(4)
        bottom = self._main_top() - theme.px(30)
        return QRectF(self.width() - margin - width, top, width, max(bottom - top, 1.0))

    def _main_top(self) -> float:
        theme = self.theme
        return self.height() - theme.px(24 + FOOT_HEIGHT + 20) - self._main_height()

    def _main_height(self) -> int:
        """40 mm and half as much again, less in a low window."""
        least, most = self.theme.whole(LEAST_MAIN), self.theme.whole(MAIN_HEIGHT)
        return min(max(round(self.height() * MAIN_SHARE), least), most)

    def _place(self) -> None:
        theme = self.theme
        margin = theme.whole(MARGIN)
        top = round(self._main_top())
        self.main.setGeometry(margin, top, self.width() - 2 * margin, self._main_height())
        foot = self.height() - theme.whole(24 + FOOT_HEIGHT)
        wide, high = theme.whole(UNDO_WIDTH), theme.whole(FOOT_HEIGHT)
        self.undo.setGeometry(QRect(margin, foot, wide, high))
        self.back.setGeometry(QRect(self.width() - margin - wide, foot, wide, high))
        self.update()


def count_figures(count: str) -> tuple[str, str]:
    """The large figure of a count such as "2 of 6 shut", and the words beside it."""
    figure, _, rest = count.partition(" ")
    return (figure, rest) if figure.isdecimal() else ("", count)


def far_figures(row: ClockRow) -> tuple[str, str, str]:
    """The large figure of a clock, the word beside it, and the words below it.

    Minutes that are left are large: below ten as minutes and seconds ("2:39", "0:03"), so that no
    second is taken for a minute, above with their unit. With hours to go, or once it is met, the
    time of day is, after its day where it is not today's; how late a clock is stands large always.
    """
    day = f"{row.short_day} {row.time_of_day}".strip()
    counted = _MINUTES.fullmatch(row.remaining)
    if counted is None and row.urgency is Urgency.LATE and row.remaining.endswith(" over"):
        late = row.remaining.removesuffix(" over").replace(" ", "\u00a0")
        return late, "over", f"{row.meaning} {day}"
    if counted is None:
        return day, "", f"{row.meaning}, {row.remaining}"
    minutes, seconds, rest = counted.groups()
    if seconds is None and int(minutes) >= 10:
        return f"{minutes}\u00a0min", rest, f"{row.meaning} {day}"
    return f"{int(minutes or 0)}:{int(seconds or 0):02}", rest, f"{row.meaning} {day}"
