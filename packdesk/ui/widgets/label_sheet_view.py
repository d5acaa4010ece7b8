"""A sheet of labels in its true proportions: which are gone, and where the next print starts."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines
from packdesk.ui.widgets.strokes import POUCH_RADIUS, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

PAPER_EDGE = 4


@dataclass(frozen=True, slots=True)
class SheetFace:
    """A sheet by its geometry in mm, how many places are used, and how many are to print.

    Places count along the rows from the top left. `pitch` is from one label's edge to the next
    one's; `left` and `top` are the margins of the first label.
    """

    page_width_mm: float
    page_height_mm: float
    columns: int
    rows: int
    label_width_mm: float
    label_height_mm: float
    left_mm: float
    top_mm: float
    pitch_x_mm: float
    pitch_y_mm: float
    used: int
    to_print: int

    @property
    def places(self) -> int:
        """How many labels a whole sheet has."""
        return self.columns * self.rows


class LabelSheetView(Themed):
    """The sheet; a click, or arrow keys and Enter, says which place is the first free one.

    Signals:
        first_free_chosen: a place from 0, counted along the rows; all before it are used.
    """

    first_free_chosen = Signal(int)

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, *, ground: str = "sheet"
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._face: SheetFace | None = None
        self._at = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Label sheet")

    @property
    def face(self) -> SheetFace | None:
        """What is shown."""
        return self._face

    @property
    def at(self) -> int:
        """The place the arrow keys stand on, from 0."""
        return self._at

    def show_face(self, face: SheetFace) -> None:
        """Show a sheet."""
        self._face = face
        if not self.hasFocus():
            self._at = face.used
        self._at = min(self._at, face.places - 1)
        self._tell()
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        height = self.theme.whole(374)
        if self._face is None:
            return QSize(self.theme.whole(264), height)
        width = height * self._face.page_width_mm / self._face.page_height_mm
        return QSize(round(width), height)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(160), self.theme.whole(220))

    def focus_rect(self) -> QRectF:
        """Where the focus ring goes: round the place the keys stand on."""
        return QRectF(self.rect()) if self._face is None else self.place_rect(self._at)

    def place_rect(self, place: int) -> QRectF:
        """Where a place is drawn."""
        face = self._face
        page = self._page()
        mm = page.width() / face.page_width_mm
        row, column = divmod(place, face.columns)
        return QRectF(
            page.left() + (face.left_mm + column * face.pitch_x_mm) * mm,
            page.top() + (face.top_mm + row * face.pitch_y_mm) * mm,
            face.label_width_mm * mm,
            face.label_height_mm * mm,
        )

    def draw(self, painter: QPainter) -> None:
        if self._face is None:
            return
        theme, page = self.theme, self._page()
        edge = theme.px(PAPER_EDGE)
        painter.fillRect(page.translated(edge, edge), theme.color("rule"))
        painter.fillRect(page, theme.color("paper"))
        draw_outline(painter, page, 0, theme.px(1.2), theme.color("edge"))
        for place in range(self._face.places):
            box = self.place_rect(place)
            if place < self._face.used:
                self._draw_used(painter, box)
            else:
                self._draw_free(painter, box, place - self._face.used + 1)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        place = self._place_under(event.position())
        if place is not None:
            self._walk_to(place)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        place = self._place_under(event.position())
        if place is not None and place == self._at:
            self.first_free_chosen.emit(place)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self._face is None:
            super().keyPressEvent(event)
            return
        step = {
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Down: self._face.columns,
            Qt.Key.Key_Up: -self._face.columns,
        }.get(event.key())
        chooses = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if step is not None:
            if 0 <= self._at + step < self._face.places:
                self._walk_to(self._at + step)
        elif event.key() == Qt.Key.Key_Home:
            self._walk_to(0)
        elif event.key() == Qt.Key.Key_End:
            self._walk_to(self._face.places - 1)
        elif chooses and not event.isAutoRepeat():
            self.first_free_chosen.emit(self._at)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def _walk_to(self, place: int) -> None:
        self._at = place
        self._tell()
        self.update()

    def _tell(self) -> None:
        face = self._face
        state = "used" if self._at < face.used else "free"
        self.setAccessibleName(
            f"Label sheet, {face.columns} by {face.rows}, {face.used} used,"
            f" {face.to_print} to print. Place {self._at + 1} is {state}"
        )

    def _page(self) -> QRectF:
        """The page, as large as fits, at the left; its offset edge stays inside the widget."""
        face, edge = self._face, self.theme.px(PAPER_EDGE)
        room_x, room_y = self.width() - edge - 1, self.height() - edge - 1
        mm = min(room_x / face.page_width_mm, room_y / face.page_height_mm)
        return QRectF(0.5, 0.5, face.page_width_mm * mm, face.page_height_mm * mm)

    def _place_under(self, point: QPointF) -> int | None:
        if self._face is None:
            return None
        for place in range(self._face.places):
            if self.place_rect(place).contains(point):
                return place
        return None

    def _draw_used(self, painter: QPainter, box: QRectF) -> None:
        theme = self.theme
        radius = theme.px(POUCH_RADIUS)
        painter.fillPath(rounded(box, radius), theme.color("cloth"))
        inset = min(box.height() * 0.14, theme.px(6))
        painter.setPen(QPen(theme.color("edge"), theme.px(1.5)))
        painter.drawLine(
            QLineF(box.left() + inset, box.bottom() - inset, box.right() - inset, box.top() + inset)
        )

    def _draw_free(self, painter: QPainter, box: QRectF, order: int) -> None:
        """A free place: indigo with its number where a label will be printed, quiet otherwise."""
        theme = self.theme
        radius = theme.px(POUCH_RADIUS)
        if order > self._face.to_print:
            # In high contrast the edge is as white as the paper.
            quiet = theme.color("rule" if theme.tokens.outlined else "edge")
            draw_outline(painter, box, radius, theme.px(1.2), quiet)
            return
        color = theme.color("indigo" if theme.tokens.name == "light" else "onpaper")
        draw_outline(painter, box, radius, theme.px(2), color)
        step, words = theme.line(Role.NOTE), str(order)
        width = theme.metrics(Role.NOTE, Weight.SEMIBOLD).horizontalAdvance(words)
        if step > box.height() + 2 or width > box.width():
            return
        at = QPointF(box.center().x() - width / 2, box.center().y() - step / 2)
        font = theme.font(Role.NOTE, Weight.SEMIBOLD)
        draw_lines(painter, [words], at, step, font, color)
