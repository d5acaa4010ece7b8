"""A labelled field for typed text, with its unit inside and what is wrong with it beside it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, draw_right, wrapped
from packdesk.ui.widgets.refusal import Objection, Refusal
from packdesk.ui.widgets.strokes import FIELD_RADIUS, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

BOX_HEIGHT = 50
BESIDE_FROM = 520
"""With at least this width (design px) an objection stands to the right of the box."""


class FieldBox(QLineEdit):
    """The box itself: Qt's editing on our drawing, the unit at its right edge.

    Signals:
        committed: Enter was pressed or the focus left; carries the text as typed.
    """

    committed = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None, *, ground: str = "sheet"):
        super().__init__(parent)
        self.theme = theme
        self.ground_role = ground
        self._unit = ""
        self._refused = False
        self._told = ""
        self.setFrame(False)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.returnPressed.connect(self._commit)
        theme.changed.connect(self.restyle)
        self.restyle()

    def set_unit(self, unit: str) -> None:
        """Show a unit inside the box at its right."""
        self._unit = unit
        self.restyle()

    def set_refused(self, refused: bool) -> None:
        """Draw the edge thick and brick, or at rest."""
        self._refused = refused
        self.update()

    def set_told(self, text: str) -> None:
        """Take a text as already committed, so that leaving the box does not repeat it."""
        self._told = text

    def restyle(self) -> None:
        """Take up a changed theme: font, colours, and room for the unit."""
        theme = self.theme
        self.setFont(theme.font(Role.BODY))
        room = theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance(self._unit)
        right = round(room + theme.px(26)) if self._unit else theme.whole(12)
        self.setTextMargins(theme.whole(11), 0, right, 0)
        palette = QPalette(self.palette())
        role = QPalette.ColorRole
        palette.setColor(role.Base, QColor(Qt.GlobalColor.transparent))
        palette.setColor(role.Text, theme.color("ink"))
        palette.setColor(role.PlaceholderText, theme.color("ink2"))
        palette.setColor(role.Highlight, theme.color("indigo"))
        palette.setColor(role.HighlightedText, theme.color("onindigo"))
        self.setPalette(palette)
        self.setFixedHeight(theme.whole(BOX_HEIGHT))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(190), self.theme.whole(BOX_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(64), self.theme.whole(BOX_HEIGHT))

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if self.text() != self._told:
            self._commit()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect, radius = QRectF(self.rect()), theme.px(FIELD_RADIUS)
        painter.fillPath(rounded(rect, radius), theme.color(self._paper()))
        color = theme.color("brick" if self._refused else "edge")
        draw_outline(painter, rect, radius, theme.px(3 if self._refused else 1.5), color)
        if self._unit:
            step = theme.line(Role.NOTE)
            draw_right(
                painter,
                self._unit,
                rect.right() - theme.px(14),
                rect.center().y() - step / 2,
                step,
                theme.font(Role.NOTE, Weight.REGULAR),
                theme.color("ink2"),
            )
        painter.end()
        super().paintEvent(event)

    def _paper(self) -> str:
        """Fields are paper in the light palette; elsewhere they are the ground they stand on."""
        return "paper" if self.theme.tokens.name == "light" else self.ground_role

    def _commit(self) -> None:
        self._told = self.text()
        self.committed.emit(self.text())


class Field(Themed):
    """A label, a box and, when refused, what is wrong, the figure, advice and a cure.

    The text stays as it was typed. Wide fields show the objection beside the box, narrow ones
    under it; `objection_apart` leaves it to a `Refusal` elsewhere on the page.

    Signals:
        edited: the text changed under the person's hands.
        committed: Enter was pressed or the focus left with a changed text.
        cure_asked: the button that cures a refusal was pressed.
    """

    edited = Signal(str)
    committed = Signal(str)
    cure_asked = Signal()

    def __init__(
        self,
        theme: Theme,
        label: str,
        parent: QWidget | None = None,
        *,
        unit: str = "",
        hint: str = "",
        ground: str = "sheet",
        box_width: int = 0,
        objection_apart: bool = False,
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._label = label
        self._unit = unit
        self._box_width = box_width
        self._apart = objection_apart
        self.box = FieldBox(theme, self, ground=ground)
        self.box.set_unit(unit)
        self.box.setPlaceholderText(hint)
        self.box.setAccessibleName(f"{label} in {unit}" if unit else label)
        self.box.textEdited.connect(self.edited)
        self.box.committed.connect(self.committed)
        self.refusal = Refusal(theme, self, ground=ground)
        self.refusal.cure_asked.connect(self.cure_asked)
        self.setFocusProxy(self.box)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def text(self) -> str:
        """The text as typed."""
        return self.box.text()

    def show_text(self, text: str) -> None:
        """Put a text into the box, unless the person is typing there."""
        if self.box.hasFocus() and self.box.isModified():
            return
        if text != self.box.text():
            self.box.setText(text)
        self.box.set_told(text)

    def show_objection(self, objection: Objection | None) -> None:
        """Refuse or warn, or say that all is well."""
        refused = objection is not None and not objection.warning
        self.box.set_refused(refused)
        self.box.setAccessibleDescription(
            "" if objection is None else f"{objection.what} {objection.figure}".strip()
        )
        self.refusal.show_objection(None if self._apart else objection)
        self.updateGeometry()
        self._place()

    def sizeHint(self) -> QSize:
        width = self.theme.whole(self._box_width or 190)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(min(self._box_width or 90, 90)), self._box_bottom())

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        bottom = self._box_bottom(width)
        if self.refusal.objection is None:
            return bottom
        room, beside = self._objection_room(width)
        needed = self.refusal.heightForWidth(room)
        top = self._box_top(width) if beside else bottom + self.theme.whole(8)
        return max(bottom, top + needed)

    def restyle(self) -> None:
        super().restyle()
        self._place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def draw(self, painter: QPainter) -> None:
        theme = self.theme
        draw_lines(
            painter,
            self._label_lines(self.width()),
            QPointF(0, 0),
            theme.line(Role.NOTE),
            theme.font(Role.NOTE, Weight.REGULAR),
            theme.color("ink2"),
        )

    def _label_lines(self, width: int) -> list[str]:
        metrics = self.theme.metrics(Role.NOTE, Weight.REGULAR)
        return wrapped(self._label, metrics, float(max(width, 1))) if self._label else []

    def _box_top(self, width: int) -> int:
        lines = len(self._label_lines(width))
        return lines * self.theme.line(Role.NOTE) + (self.theme.whole(4) if lines else 0)

    def _box_bottom(self, width: int = 10_000) -> int:
        return self._box_top(width) + self.theme.whole(BOX_HEIGHT)

    def _objection_room(self, width: int) -> tuple[int, bool]:
        """The width an objection has, and whether it stands beside the box."""
        box = self.theme.whole(self._box_width)
        if box and width - box >= self.theme.whole(BESIDE_FROM - 260):
            return width - box - self.theme.whole(20), True
        return width, False

    def _place(self) -> None:
        theme, width = self.theme, self.width()
        box_width = min(theme.whole(self._box_width) or width, width)
        top = self._box_top(width)
        self.box.setGeometry(QRect(0, top, box_width, theme.whole(BOX_HEIGHT)))
        if self.refusal.objection is not None:
            room, beside = self._objection_room(width)
            height = self.refusal.heightForWidth(room)
            if beside:
                self.refusal.setGeometry(box_width + theme.whole(20), top, room, height)
            else:
                below = self._box_bottom(width) + theme.whole(8)
                self.refusal.setGeometry(0, below, room, height)
        self.update()
