"""One row of the path: its piece of the stripe, a knot, a name, progress, and loads as pails."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from packdesk.present.cards import CellState, Mark, PouchCell, StageRow
from packdesk.session.terms import Stage
from packdesk.ui.icons import draw_pail_tag
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import cut, draw_lines, wrapped
from packdesk.ui.widgets.pouch_drawing import PouchInk, draw_pouch
from packdesk.ui.widgets.strokes import CARD_RADIUS, POUCH_RADIUS, draw_outline, rounded

STRANDS = ((-8.0, 2.0), (0.0, 6.0), (8.0, 2.0))
STRIPE_AT, STRIPE_AT_RAIL = 34, 28
TEXT_AT = 64
KNOT_GAP = 3.0
_OPEN_POUCH = PouchCell(None, CellState.FILLED, "")


class PathRow(QAbstractButton):
    """A stage on the path as a button; the one looked at runs into the work area."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.ground_role = "cloth"
        self.row = StageRow(Stage.BEFORE, "", "", Mark.NEXT)
        self._shown = False
        self._woven_above = False
        self._woven_below = False
        self._words = True
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(self.update)

    @property
    def shown(self) -> bool:
        """Whether the work area holds this stage's page."""
        return self._shown

    def show_row(self, row: StageRow, *, shown: bool, woven_above: bool, woven_below: bool) -> None:
        """Show a stage; the stripe is woven above and below its knot or not yet."""
        self.row = row
        self._shown = shown
        self._woven_above = woven_above
        self._woven_below = woven_below
        loads = f"loads {', '.join(row.loads)}" if row.loads else ""
        told = (row.name, row.progress, loads, "shown" if shown else "")
        self.setAccessibleName(", ".join(part for part in told if part))
        self.update()

    def set_words(self, words: bool) -> None:
        """Show name and progress, or only the knot and the pails of the rail."""
        self._words = words
        self.update()

    def sizeHint(self) -> QSize:
        layout = self.theme.layout
        return QSize(self.theme.whole(layout.path_width), self.theme.whole(layout.path_row))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw_back(painter)
        self._draw_stripe(painter)
        self._draw_knot(painter)
        if self._words:
            self._draw_words(painter)
        else:
            self._draw_rail_loads(painter)

    @property
    def _centre(self) -> QPointF:
        rail = self.theme.layout.rail and not self._words
        return QPointF(self.theme.px(STRIPE_AT_RAIL if rail else STRIPE_AT), self.height() / 2)

    def _draw_back(self, painter: QPainter) -> None:
        theme = self.theme
        if not self._shown and not self.isDown():
            return
        back = QRectF(self.rect()).adjusted(theme.px(8), theme.px(2), theme.px(20), -theme.px(2))
        role = "sheet" if self._shown else "haze"
        painter.fillPath(rounded(back, theme.px(CARD_RADIUS)), theme.color(role))
        if self._shown and theme.tokens.outlined:
            color = theme.color("edge")
            draw_outline(painter, back, theme.px(CARD_RADIUS), theme.px(2), color)

    def _draw_stripe(self, painter: QPainter) -> None:
        theme, centre = self.theme, self._centre
        reach = theme.px(KNOT_GAP) + self._knot_height() / 2
        pieces = (
            (0.0, centre.y() - reach, self._woven_above),
            (centre.y() + reach, float(self.height()), self._woven_below),
        )
        for top, bottom, woven in pieces:
            color = theme.color("indigo" if woven else "rule")
            for shift, width in STRANDS:
                left = centre.x() + theme.px(shift) - theme.px(width) / 2
                painter.fillRect(QRectF(left, top, theme.px(width), bottom - top), color)

    def _knot_height(self) -> float:
        tall = {Mark.NOW: 33, Mark.NEXT: 26}.get(self.row.mark, 28)
        return self.theme.px(tall)

    def _draw_knot(self, painter: QPainter) -> None:
        theme, mark, centre = self.theme, self.row.mark, self._centre
        radius = theme.px(POUCH_RADIUS)
        if mark is Mark.NOW:
            width = theme.px(25)
            box = QRectF(0, 0, width, self._knot_height())
            box.moveCenter(centre)
            ground = theme.tokens.sheet if self._shown else theme.tokens.cloth
            ink = PouchInk.on_ground(theme.tokens, ground)
            draw_pouch(painter, box, _OPEN_POUCH, theme.tokens, ink)
            return
        wide = 20 if mark is Mark.NEXT else 22
        box = QRectF(0, 0, theme.px(wide), self._knot_height())
        box.moveCenter(centre)
        if mark is Mark.NEXT:
            draw_outline(painter, box, radius, theme.px(1.5), theme.color("edge"))
            return
        indigo = theme.color("indigo")
        if mark is Mark.DONE:
            painter.fillPath(rounded(box, radius), indigo)
            ground = theme.color("sheet" if self._shown else "cloth")
            for offset in (4.0, 8.0):
                seam = QRectF(box.left(), box.top() + theme.px(offset), box.width(), theme.px(1.6))
                painter.fillRect(seam, ground)
            return
        half = QRectF(box.left(), box.center().y(), box.width(), box.height() / 2)
        lower = QPainterPath()
        lower.addRect(half)
        painter.fillPath(rounded(box, radius).intersected(lower), indigo)
        draw_outline(painter, box, radius, theme.px(1.8), indigo)

    def _draw_words(self, painter: QPainter) -> None:
        theme, row = self.theme, self.row
        left, right = theme.px(TEXT_AT), self.width() - theme.px(18)
        name_color = theme.color("ink" if row.mark is not Mark.NEXT else "ink2")
        second = theme.color("ink" if self._shown else "ink2")
        name_step, note_step = theme.line(Role.BODY) * 0.94, theme.line(Role.NOTE)
        name_room = right - left
        tags = self._tags_width()
        name_width = theme.metrics(Role.BODY).horizontalAdvance(row.name)
        tags_up = not row.loads or left + name_width + theme.px(8) + tags <= right
        note_room = right - left - (0 if tags_up else tags + theme.px(6))
        notes = self._progress_lines(note_room)
        top = (self.height() - name_step - note_step * len(notes)) / 2
        name = cut(row.name, theme.metrics(Role.BODY), name_room)
        weight = Weight.BOLD if self._shown else Weight.SEMIBOLD
        font = theme.font(Role.BODY, weight)
        end = draw_lines(painter, [name], QPointF(left, top), name_step, font, name_color)
        note = theme.font(Role.NOTE, Weight.REGULAR)
        draw_lines(painter, notes, QPointF(left, end), note_step, note, second)
        if row.loads:
            middle = top + name_step / 2 if tags_up else end + note_step / 2
            self._draw_loads(painter, right, middle)
        whole = name == row.name and " ".join(notes) == row.progress
        tip = "" if whole else f"{row.name}: {row.progress}"
        if tip != self.toolTip():
            self.setToolTip(tip)

    def _progress_lines(self, room: float) -> list[str]:
        """Progress in as many lines as the row has room for, the last one cut if need be."""
        theme = self.theme
        metrics = theme.metrics(Role.NOTE, Weight.REGULAR)
        lines = wrapped(self.row.progress, metrics, max(room, 1.0))
        free = self.height() - theme.line(Role.BODY) * 0.94 - theme.px(2)
        most = max(int(free // theme.line(Role.NOTE)), 1)
        if len(lines) <= most:
            return lines
        rest = " ".join(lines[most - 1 :])
        return [*lines[: most - 1], cut(rest, metrics, room)]

    def _tags_width(self) -> float:
        return self.theme.px(28) * len(self.row.loads)

    def _draw_loads(self, painter: QPainter, right: float, middle: float) -> None:
        theme = self.theme
        x = right - self._tags_width() + theme.px(4)
        for letter in self.row.loads:
            box = QRectF(x, middle - theme.px(11), theme.px(23), theme.px(22))
            color = theme.color("ink")
            draw_pail_tag(painter, box, letter, color, theme.font(Role.BODY), theme.px(2))
            x += theme.px(28)

    def _draw_rail_loads(self, painter: QPainter) -> None:
        theme = self.theme
        count = len(self.row.loads)
        pitch = min(theme.px(25), self.height() / max(count, 1))
        top = self.height() / 2 - pitch * count / 2
        for place, letter in enumerate(self.row.loads):
            box = QRectF(theme.px(47), top + place * pitch + 1, theme.px(22), pitch - theme.px(3))
            color = theme.color("ink")
            draw_pail_tag(painter, box, letter, color, theme.font(Role.BODY), theme.px(1.8))
        tip = f"{self.row.name}: {self.row.progress}"
        if tip != self.toolTip():
            self.setToolTip(tip)
