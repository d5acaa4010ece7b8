"""The far view: the next act and the most urgent time, read from two or three metres away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QRectF, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from packdesk.present.cards import ClockRow, PouchCell, TallyBoard, Urgency
from packdesk.ui.icons import Icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.clock_bar import draw_clock_bar
from packdesk.ui.widgets.lettering import cut, draw_lines, draw_right, wrapped
from packdesk.ui.widgets.main_control import MainControl, MainFace
from packdesk.ui.widgets.pouch_cells import PouchCells
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

MARGIN = 40
MAIN_HEIGHT, LEAST_MAIN, MAIN_SHARE = 228, 150, 0.3
FOOT_HEIGHT = 72
UNDO_WIDTH = 286
CARD_SHARE = 0.3
BLOCK = 14
_SMALLER = {Role.AFAR: Role.FIGURE, Role.FIGURE: Role.ACT_WIDE, Role.ACT_WIDE: Role.SAY}


@dataclass(frozen=True, slots=True)
class FarFace:
    """What is read from afar: where one is, what to do, the pouches in hand, the clocks."""

    where: str
    progress: str
    sentence: str
    main: MainFace
    cells: tuple[PouchCell, ...]
    clocks: tuple[ClockRow, ...]
    board: TallyBoard


class FarView(Themed):
    """Sentence, one clock, and the main control over the full width; no path and no plot.

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
        clock = {} if tap_clock is None else {"clock": tap_clock}
        self.main = MainControl(theme, self, ground="cloth", **clock)
        self.main.set_far(True)
        self.main.acted.connect(self.acted)
        self.main.missing_asked.connect(self.acted)
        self.cells = PouchCells(
            theme, self, cell_px=theme.px(52), gap_px=theme.px(30), ground="cloth"
        )
        self.undo = SecondControl(theme, self, ground="cloth", **clock)
        self.undo.acted.connect(self.undo_asked)
        self.back = SecondControl(theme, self, ground="cloth", **clock)
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
        self.cells.setVisible(bool(face.cells))
        self.cells.show_cells(face.cells)
        undo = face.board.undo
        self.undo.show_face(SecondFace("Undo", "Backspace", Icon.UNDO, "" if undo else "nothing"))
        self.undo.setAccessibleName(f"Undo {undo}" if undo else "Undo")
        self.setAccessibleDescription(f"{face.where}, {face.progress}. {face.sentence}")
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
        step = theme.line(Role.SAY)
        top = theme.px(24)
        draw_lines(painter, [face.where], QPointF(margin, top), step, theme.font(Role.SAY), ink)
        right = self.width() - margin
        draw_right(painter, face.progress, right, top, step, theme.font(Role.SAY), ink)
        role, lines = self._sentence()
        at = QPointF(margin, self._words_top())
        draw_lines(painter, lines, at, theme.line(role), theme.font(role), ink)
        if face.clocks:
            self._draw_clock(painter, self._card_rect(), face.clocks[0])
        self._draw_foot(painter)

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
        name_step = theme.line(Role.HEAD)
        name = cut(row.name, theme.metrics(Role.HEAD), room)
        at = QPointF(left, card.top() + theme.px(16))
        draw_lines(painter, [name], at, name_step, theme.font(Role.HEAD), ink)
        figure, rest, foot = far_figures(row)
        foot_step = theme.line(Role.SAY)
        foot_top = card.bottom() - theme.px(14) - foot_step
        words = cut(foot, theme.metrics(Role.SAY), room)
        draw_lines(painter, [words], QPointF(left, foot_top), foot_step, theme.font(Role.SAY), ink)
        bar = QRectF(left, foot_top - theme.px(20), room, theme.px(12))
        draw_clock_bar(painter, bar, row, theme)
        top, air = at.y() + name_step, theme.px(10)
        place = QRectF(left, top + air, room, bar.top() - top - 2 * air)
        self._draw_figure(painter, place, figure, rest, ink)

    def _draw_figure(
        self, painter: QPainter, box: QRectF, figure: str, rest: str, ink: QColor
    ) -> None:
        """The figure as large as its place allows, its unit small on the same line."""
        theme = self.theme
        gap = theme.px(16)
        unit = theme.metrics(Role.SAY).horizontalAdvance(rest) + gap if rest else 0.0
        font = theme.font(Role.FAR_FIGURE)
        full = theme.metrics(Role.FAR_FIGURE)
        room = max(box.width() - unit, 1.0)
        share = min(
            1.0,
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
            painter.setFont(theme.font(Role.SAY))
            x = box.left() + metrics.horizontalAdvance(figure) + gap
            painter.drawText(QPointF(x, base), rest)

    def _draw_foot(self, painter: QPainter) -> None:
        """Between Undo and the way back: the last entry and the next clock."""
        theme, face = self.theme, self._face
        ink, second = theme.color("ink"), theme.color("ink2")
        left = self.undo.geometry().right() + theme.px(28)
        room = self.back.geometry().left() - theme.px(20) - left
        half = (room - theme.px(20)) / 2
        parts = [(face.board.last_entry, face.board.saved)]
        if len(face.clocks) > 1:
            after = face.clocks[1]
            day = f"{after.day} " if after.day else ""
            parts.append(
                (f"Next clock: {day}{after.time_of_day}", f"{after.name}, {after.meaning}")
            )
        body, note = theme.line(Role.BODY), theme.line(Role.NOTE)
        top = self.undo.geometry().center().y() - (body + note) / 2
        plain = theme.font(Role.NOTE, Weight.REGULAR)
        for place, (first, below) in enumerate(parts):
            x = left + place * (half + theme.px(20))
            words = cut(first, theme.metrics(Role.BODY), half)
            end = draw_lines(painter, [words], QPointF(x, top), body, theme.font(Role.BODY), ink)
            small = cut(below, theme.metrics(Role.NOTE, Weight.REGULAR), half)
            draw_lines(painter, [small], QPointF(x, end), note, plain, second)

    def _sentence(self) -> tuple[Role, list[str]]:
        """The sentence in the largest voice in which it keeps to two lines."""
        theme, face = self.theme, self._face
        room = max(self._words_width(), 1.0)
        role = Role.AFAR
        while True:
            lines = wrapped(face.sentence, theme.metrics(role), room)
            if len(lines) <= 2 or role not in _SMALLER:
                return role, lines
            role = _SMALLER[role]

    def _words_top(self) -> float:
        return self.theme.px(36) + self.theme.line(Role.SAY)

    def _words_width(self) -> float:
        margin = self.theme.px(MARGIN)
        if self._face is not None and self._face.clocks:
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
        if self._face is not None and self._face.cells:
            room = round(self._words_width())
            size = self.cells.heightForWidth(room)
            role, lines = self._sentence()
            below = round(self._words_top() + theme.line(role) * len(lines) + theme.px(16))
            free = top - theme.whole(16) - below
            self.cells.setVisible(free >= size)
            self.cells.setGeometry(margin, below, room, size)
        self.update()


def far_figures(row: ClockRow) -> tuple[str, str, str]:
    """The large figure of a clock, its unit, and the words below it.

    Minutes that are left are large; with hours to go, or once it is met, the time of day is.
    """
    counts_minutes = row.remaining.split(" ")[1:2] in (["min"], ["s"])
    day = f"{row.day} " if row.day else ""
    if counts_minutes:
        figure, _, rest = row.remaining.partition(" ")
        return figure, rest, f"{row.meaning} {day}{row.time_of_day}"
    return row.time_of_day, row.day, f"{row.meaning}, {row.remaining}"
