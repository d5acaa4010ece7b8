"""One row of the path: its piece of the stripe, a knot, a name, progress, and loads as pails."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from packdesk.present.cards import CellState, Mark, PouchCell, StageRow
from packdesk.session.terms import Stage
from packdesk.ui.icons import draw_pail_tag
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, kept, wrapped
from packdesk.ui.widgets.pouch_drawing import draw_pouch
from packdesk.ui.widgets.pouch_ink import PouchInk
from packdesk.ui.widgets.strokes import CARD_RADIUS, POUCH_RADIUS, draw_outline, rounded

STRANDS = ((-8.0, 2.0), (0.0, 6.0), (8.0, 2.0))
STRIPE_AT, STRIPE_AT_RAIL = 34, 28
TEXT_AT, RIGHT_EDGE = 64, 18
KNOT_GAP = 3.0
_OPEN_POUCH = PouchCell(None, CellState.FILLED, "")


@dataclass(frozen=True, slots=True)
class RowSetting:
    """The words of a row as they fit, their height, and whether the loads stand by the name."""

    name: list[str]
    progress: list[str]
    height: float
    loads_up: bool
    whole: bool


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
        now = (row, shown, woven_above, woven_below)
        if now == (self.row, self._shown, self._woven_above, self._woven_below):
            return
        self.row, self._shown, self._woven_above, self._woven_below = now
        loads = f"loads {', '.join(row.loads)}" if row.loads else ""
        told = (row.name, row.progress, loads, "shown" if shown else "")
        self.setAccessibleName(", ".join(part for part in told if part))
        self.update()

    def set_words(self, words: bool) -> None:
        """Show name and progress, or only the knot and the pails of the rail."""
        if words != self._words:
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

    def heightForWidth(self, width: int) -> int:
        """The height in which nothing of a row with words is cut."""
        words = self._setting(width, 10_000)
        return round(words.height + self.theme.px(10))

    def _draw_words(self, painter: QPainter) -> None:
        theme, row = self.theme, self.row
        name_color = theme.color("ink" if row.mark is not Mark.NEXT else "ink2")
        second = theme.color("ink" if self._shown else "ink2")
        words = self._setting(self.width(), self.height())
        at = QPointF(theme.px(TEXT_AT), (self.height() - words.height) / 2)
        bold, note = theme.font(Role.BODY, self._weight), theme.font(Role.NOTE, Weight.REGULAR)
        note_step = theme.line(Role.NOTE)
        end = draw_lines(painter, words.name, at, self._name_step, bold, name_color)
        draw_lines(painter, words.progress, QPointF(at.x(), end), note_step, note, second)
        if row.loads:
            middle = at.y() + self._name_step / 2 if words.loads_up else end + note_step / 2
            self._draw_loads(painter, self.width() - theme.px(RIGHT_EDGE), middle)
        tip = "" if words.whole else f"{row.name}: {row.progress}"
        if tip != self.toolTip():
            self.setToolTip(tip)

    def _setting(self, width: int, height: int) -> RowSetting:
        """How the words are set in a row of this size: wrapped first, cut only as a last resort."""
        theme, row = self.theme, self.row
        names = theme.metrics(Role.BODY, self._weight)
        notes = theme.metrics(Role.NOTE, Weight.REGULAR)
        room = max(width - theme.px(TEXT_AT + RIGHT_EDGE), 1.0)
        loads = self._tags_width()
        loads_up = names.horizontalAdvance(row.name) + theme.px(8) + loads <= room
        note_room = room if loads_up or not row.loads else max(room - loads - theme.px(6), 1.0)
        name = wrapped(row.name, names, room)
        progress = wrapped(row.progress, notes, note_room)
        note_step = theme.line(Role.NOTE)
        free = height - theme.px(2)
        lines = max(int((free - note_step) // self._name_step), 1)
        whole_name = kept(name, lines, names, room)
        free -= len(whole_name) * self._name_step
        whole_progress = kept(progress, max(int(free // note_step), 1), notes, note_room)
        return RowSetting(
            whole_name,
            whole_progress,
            len(whole_name) * self._name_step + len(whole_progress) * note_step,
            loads_up,
            whole_name == name and whole_progress == progress,
        )

    @property
    def _name_step(self) -> float:
        return self.theme.line(Role.BODY) * 0.94

    @property
    def _weight(self) -> Weight:
        return Weight.BOLD if self._shown else Weight.SEMIBOLD

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
