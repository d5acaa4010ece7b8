"""A labelled choice from a list, in the look of a field; keys and a knuckle can use it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette, QWheelEvent
from PySide6.QtWidgets import (
    QComboBox,
    QListView,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.labelled import BOX_HEIGHT, Labelled
from packdesk.ui.widgets.lettering import cut, draw_lines
from packdesk.ui.widgets.strokes import FIELD_RADIUS, draw_outline, draw_wedge, rounded

ROW_HEIGHT = 57


@dataclass(frozen=True, slots=True)
class Choice:
    """One entry of a list: its key for the program, its words for the person."""

    key: str
    words: str


class TallRows(QStyledItemDelegate):
    """Gives each row of the list the height of a button: a slip there chooses another one."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex) -> QSize:
        hint = super().sizeHint(option, index)
        return QSize(hint.width() + self._theme.whole(24), self._theme.whole(ROW_HEIGHT))


class ChoiceBox(QComboBox):
    """The box: Qt's list and keys on our drawing. A wheel over it changes nothing by accident."""

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, *, ground: str = "sheet"
    ) -> None:
        super().__init__(parent)
        self.theme = theme
        self.ground_role = ground
        self._refused = False
        rows = QListView(self)
        rows.setItemDelegate(TallRows(theme, rows))
        self.setView(rows)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        theme.changed.connect(self.restyle)
        self.restyle()

    def set_refused(self, refused: bool) -> None:
        """Draw the edge thick and brick, or at rest."""
        self._refused = refused
        self.update()

    def restyle(self) -> None:
        """Take up a changed theme."""
        theme = self.theme
        self.setFont(theme.font(Role.BODY))
        palette = QPalette(self.view().palette())
        role = QPalette.ColorRole
        palette.setColor(role.Base, theme.color(self._paper()))
        palette.setColor(role.Text, theme.color("ink"))
        palette.setColor(role.Highlight, theme.color("indigo"))
        palette.setColor(role.HighlightedText, theme.color("onindigo"))
        self.view().setPalette(palette)
        self.view().setFont(theme.font(Role.BODY))
        self.setFixedHeight(theme.whole(BOX_HEIGHT))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(190), self.theme.whole(BOX_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(64), self.theme.whole(BOX_HEIGHT))

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect, radius = QRectF(self.rect()), theme.px(FIELD_RADIUS)
        painter.fillPath(rounded(rect, radius), theme.color(self._paper()))
        edge = theme.color("brick" if self._refused else "edge")
        draw_outline(painter, rect, radius, theme.px(3 if self._refused else 1.5), edge)
        ink: QColor = theme.color("ink")
        tip = QPointF(rect.right() - theme.px(19), rect.center().y() + theme.px(4))
        draw_wedge(painter, tip, theme.px(11), -theme.px(7), ink)
        words = cut(self.currentText(), theme.metrics(Role.BODY), rect.width() - theme.px(46))
        self.setToolTip("" if words == self.currentText() else self.currentText())
        step = theme.line(Role.BODY)
        at = QPointF(theme.px(13), rect.center().y() - step / 2)
        draw_lines(painter, [words], at, step, theme.font(Role.BODY), ink)

    def _paper(self) -> str:
        return "paper" if self.theme.tokens.name == "light" else self.ground_role


class ChoiceField(Labelled):
    """A label, a list to choose from, and a refusal like any field's.

    Signals:
        chosen: the person chose an entry; carries its key.
        cure_asked: the button that cures a refusal was pressed.
    """

    chosen = Signal(str)

    def __init__(
        self,
        theme: Theme,
        label: str,
        parent: QWidget | None = None,
        *,
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
        self.box = ChoiceBox(theme, self, ground=ground)
        self.box.setAccessibleName(label)
        self.box.activated.connect(self._tell)
        self._take_box(self.box)

    @property
    def key(self) -> str:
        """The key of the entry shown, or empty."""
        return self.box.currentData() or ""

    def show_choices(self, choices: Sequence[Choice], key: str = "") -> None:
        """Show a list with the entry of this key chosen, or none."""
        shown = [(self.box.itemData(i), self.box.itemText(i)) for i in range(self.box.count())]
        if shown != [(choice.key, choice.words) for choice in choices]:
            self.box.clear()
            for choice in choices:
                self.box.addItem(choice.words, choice.key)
        self.box.setCurrentIndex(self.box.findData(key))

    def _tell(self, place: int) -> None:
        self.chosen.emit(self.box.itemData(place))
