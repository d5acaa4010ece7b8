"""A labelled field for typed text, with its unit inside and what is wrong with it beside it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QMouseEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.labelled import BOX_HEIGHT, Labelled
from packdesk.ui.widgets.let_go import once_let_go
from packdesk.ui.widgets.lettering import draw_lines, draw_right
from packdesk.ui.widgets.strokes import FIELD_RADIUS, draw_outline, rounded


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
        self._hint = ""
        self._refused = False
        self._told = ""
        self._entered_by_pointer = False
        self.setFrame(False)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.returnPressed.connect(self._commit)
        theme.changed.connect(self.restyle)
        self.restyle()

    def set_unit(self, unit: str) -> None:
        """Show a unit inside the box at its right."""
        if unit != self._unit:
            self._unit = unit
            self.restyle()

    def set_hint(self, hint: str) -> None:
        """Show words in the empty box, in regular weight so that they do not look typed."""
        self._hint = hint
        self.update()

    def set_refused(self, refused: bool) -> None:
        """Draw the edge thick and brick, or at rest."""
        if refused != self._refused:
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
        palette.setColor(role.Highlight, theme.color("indigo"))
        palette.setColor(role.HighlightedText, theme.color("onindigo"))
        self.setPalette(palette)
        self.setFixedHeight(theme.whole(BOX_HEIGHT))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(190), self.theme.whole(BOX_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(64), self.theme.whole(BOX_HEIGHT))

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._entered_by_pointer = event.reason() == Qt.FocusReason.MouseFocusReason

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A tap into a usual answer marks it whole, as Tab does: what is typed replaces it."""
        super().mouseReleaseEvent(event)
        if self._entered_by_pointer and not self.isModified() and not self.hasSelectedText():
            self.selectAll()
        self._entered_by_pointer = False

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        once_let_go(self, self._commit_once)

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
        if self._hint and not self.text():
            step = theme.line(Role.BODY)
            at = QPointF(theme.px(13), rect.center().y() - step / 2)
            plain = theme.font(Role.BODY, Weight.REGULAR)
            draw_lines(painter, [self._hint], at, step, plain, theme.color("ink2"))
        painter.end()
        super().paintEvent(event)

    def _paper(self) -> str:
        """Fields are paper in the light palette; elsewhere they are the ground they stand on."""
        return "paper" if self.theme.tokens.name == "light" else self.ground_role

    def _commit_once(self) -> None:
        if self.text() != self._told:
            self._commit()

    def _commit(self) -> None:
        self._told = self.text()
        self.committed.emit(self.text())


class Field(Labelled):
    """A label, a box and, when refused, what is wrong, the figure, advice and a cure.

    The text stays as it was typed.

    Signals:
        edited: the text changed under the person's hands.
        committed: Enter was pressed or the focus left with a changed text.
        cure_asked: the button that cures a refusal was pressed.
    """

    edited = Signal(str)
    committed = Signal(str)

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
        super().__init__(
            theme,
            label,
            parent,
            ground=ground,
            box_width=box_width,
            objection_apart=objection_apart,
        )
        self.box = FieldBox(theme, self, ground=ground)
        self.box.set_unit(unit)
        self.box.set_hint(hint)
        self.box.setAccessibleName(f"{label} in {unit}" if unit else label)
        self.box.textEdited.connect(self.edited)
        self.box.committed.connect(self.committed)
        self._take_box(self.box)

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
            self.box.setCursorPosition(0)
        self.box.set_told(text)
