"""One pouch as a small widget: its drawing, the wedge of the one in hand, its number, its name."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import CellState, PouchCell
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines
from packdesk.ui.widgets.pouch_drawing import (
    HEIGHT_PER_WIDTH,
    SMALLEST_PX,
    draw_pouch,
)
from packdesk.ui.widgets.pouch_ink import PouchInk
from packdesk.ui.widgets.strokes import draw_wedge, rounded
from packdesk.ui.widgets.themed import Themed

EMPTY_CELL = PouchCell(None, CellState.PLANNED, "")


class PouchCellView(Themed):
    """A pouch cell of a given width; `numbered` puts its number below it.

    Signals:
        chosen: clicked, or Enter pressed on it; carries the `PouchCell` shown.
    """

    chosen = Signal(object)

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        cell_px: float = 23,
        numbered: bool = False,
        ground: str = "cloth",
    ) -> None:
        super().__init__(theme, parent, ground=ground, fills_ground=True)
        self._cell = EMPTY_CELL
        self._cell_px = cell_px
        self._numbered = numbered
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @property
    def cell(self) -> PouchCell:
        """The pouch shown."""
        return self._cell

    def show_cell(self, cell: PouchCell) -> None:
        """Show a pouch; an unchanged one is not painted again."""
        if cell is self._cell or (cell == self._cell and self.accessibleName()):
            return
        self._cell = cell
        self.setAccessibleName(cell.label or "Pouch, planned")
        self.setToolTip(cell.label)
        self.update()

    def set_cell_px(self, cell_px: float) -> None:
        """Change the width of the drawing (16 px at least)."""
        if cell_px != self._cell_px:
            self._cell_px = max(cell_px, SMALLEST_PX)
            self.restyle()

    def sizeHint(self) -> QSize:
        width = self._cell_px
        below = self._number_room() if self._numbered else self._wedge_room()
        return QSize(round(width), round(width * HEIGHT_PER_WIDTH + below))

    def draw(self, painter: QPainter) -> None:
        theme = self.theme
        box = self.drawing_rect()
        painter.setFont(theme.font(Role.NOTE, Weight.SEMIBOLD))
        ground = getattr(theme.tokens, self.ground_role)
        draw_pouch(painter, box, self._cell, theme.tokens, PouchInk.on_ground(theme.tokens, ground))
        if self._numbered and (self._cell.number is not None or self._cell.more):
            self._draw_number(painter, box)
        elif self._cell.in_hand:
            size = min(self._cell_px * 0.6, theme.px(22))
            tip = QPointF(box.center().x(), box.bottom() + self._wedge_room() * 0.3)
            draw_wedge(painter, tip, size, size * 0.68, theme.color("ink"))

    def focus_rect(self) -> QRectF:
        """Where the focus ring goes: round the drawing, not round the number's room."""
        return self.drawing_rect()

    def drawing_rect(self) -> QRectF:
        """Where the pouch itself is drawn, above its number or wedge."""
        width = self._cell_px
        return QRectF((self.width() - width) / 2, 0, width, width * HEIGHT_PER_WIDTH)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.isAutoRepeat():
            self.chosen.emit(self._cell)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.rect().contains(event.position().toPoint()):
            self.chosen.emit(self._cell)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def _draw_number(self, painter: QPainter, box: QRectF) -> None:
        """The number below; for the one in hand inverted in a tag that points at it."""
        theme = self.theme
        hand = self._cell.in_hand
        weight = Weight.BOLD if hand else Weight.REGULAR
        font, step = theme.font(Role.NOTE, weight), theme.line(Role.NOTE)
        metrics = theme.metrics(Role.NOTE, weight)
        text = str(self._cell.number)
        if self._cell.more:
            text = f"{self._cell.more} more"
            if metrics.horizontalAdvance(text) > self.width() + 2 * min(self.x(), 0):
                text = f"+{self._cell.more}"
        width = metrics.horizontalAdvance(text)
        top = box.bottom() + theme.px(7)
        if hand:
            tag = QRectF(0, 0, width + theme.px(14), step + theme.px(2))
            tag.moveCenter(QPointF(box.center().x(), top + step / 2))
            ink = theme.color("ink")
            painter.fillPath(rounded(tag, theme.px(4)), ink)
            tip = QPointF(tag.center().x(), tag.top() - theme.px(5))
            draw_wedge(painter, tip, theme.px(12), theme.px(6), ink)
        color = theme.color("sheet" if hand else "ink2")
        at = QPointF(box.center().x() - width / 2, top)
        draw_lines(painter, [text], at, step, font, color)

    def _wedge_room(self) -> float:
        return min(self._cell_px * 0.7, self.theme.px(24)) if self._cell_px >= SMALLEST_PX else 0

    def _number_room(self) -> float:
        return self.theme.line(Role.NOTE) + self.theme.px(9)
