"""What to have at hand, in large counts; stands where the clocks will be."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from packdesk.present.plan_offer import SupplyRow
from packdesk.ui.pages.words import let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.clocks_column import NO_CLOCKS
from packdesk.ui.widgets.empty_state import EmptyState
from packdesk.ui.widgets.lettering import draw_lines, draw_right, wrapped
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

COUNT_WIDTH, COUNT_WIDTH_NARROW = 74, 52


class SuppliesCard(Themed):
    """The shopping list as rows with hairlines between."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="cloth")
        self._rows: tuple[SupplyRow, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)

    @property
    def rows(self) -> tuple[SupplyRow, ...]:
        """The rows shown."""
        return self._rows

    def show_rows(self, rows: Sequence[SupplyRow]) -> None:
        """Show what to have at hand."""
        self._rows = tuple(rows)
        self.setVisible(bool(rows))
        self.setAccessibleName(
            "Supplies: " + "; ".join(f"{r.count} {r.name}, {r.note}" for r in rows)
        )
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        width = self.theme.whole(272)
        return QSize(width, self.heightForWidth(width))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        rows = sum(self._row_height(row, width) for row in self._rows)
        return round(self._head() + rows + self.theme.px(10))

    def draw(self, painter: QPainter) -> None:
        theme, rect = self.theme, QRectF(self.rect())
        radius = theme.px(CARD_RADIUS)
        painter.fillPath(rounded(rect, radius), theme.color("sheet"))
        if theme.tokens.outlined:
            draw_outline(painter, rect, radius, theme.px(1.5), theme.color("edge"))
        ink, second = theme.color("ink"), theme.color("ink2")
        left = theme.px(self._left)
        body, note = theme.line(self._name_role), theme.line(Role.NOTE)
        at = QPointF(left, theme.px(14))
        head = theme.line(Role.BODY)
        draw_lines(painter, ["Supplies"], at, head, theme.font(Role.BODY), ink)
        top = self._head()
        for row in self._rows:
            line = QRectF(left, top, rect.width() - 2 * left, theme.px(1.2))
            painter.fillRect(line, theme.color("rule"))
            height = self._row_height(row, self.width())
            large = theme.line(self._count_role) * 0.9
            right = left + theme.px(self._count_width - 16)
            y = top + (height - large) / 2
            draw_right(painter, row.count, right, y, large, theme.font(self._count_role), ink)
            x = left + theme.px(self._count_width)
            names, notes = self._lines(row, self.width())
            words = body * len(names) + note * len(notes)
            start = QPointF(x, top + (height - words) / 2)
            name_font = theme.font(self._name_role, Weight.SEMIBOLD)
            below = draw_lines(painter, names, start, body, name_font, ink)
            small = theme.font(Role.NOTE, Weight.REGULAR)
            draw_lines(painter, notes, QPointF(x, below), note, small, second)
            top += height

    @property
    def _left(self) -> int:
        return 12 if self.theme.layout.rail else 20

    @property
    def _count_width(self) -> int:
        return COUNT_WIDTH_NARROW if self.theme.layout.rail else COUNT_WIDTH

    @property
    def _count_role(self) -> Role:
        return Role.HEAD if self.theme.layout.rail else Role.HOUR

    @property
    def _name_role(self) -> Role:
        return Role.NOTE if self.theme.layout.rail else Role.BODY

    def _head(self) -> float:
        return self.theme.px(22) + self.theme.line(Role.BODY)

    def _row_height(self, row: SupplyRow, width: int) -> float:
        names, notes = self._lines(row, width)
        words = self.theme.line(self._name_role) * len(names) + self.theme.line(Role.NOTE) * len(
            notes
        )
        return max(words + self.theme.px(14), self.theme.px(60))

    def _lines(self, row: SupplyRow, width: int) -> tuple[list[str], list[str]]:
        room = max(width - self.theme.px(self._left + self._count_width + 14), 1.0)
        return (
            wrapped(row.name, self.theme.metrics(self._name_role, Weight.SEMIBOLD), room),
            wrapped(row.note, self.theme.metrics(Role.NOTE, Weight.REGULAR), room),
        )


class SuppliesColumn(Themed):
    """The right-hand column before any clock runs: why it is empty, and the supplies."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="cloth", fills_ground=True)
        self._empty = EmptyState(theme, self)
        self._empty.show_face(NO_CLOCKS)
        let_grow(self._empty)
        self.card = SuppliesCard(theme, self)
        inside = Themed(theme, ground="cloth")
        inside.setAutoFillBackground(False)
        self._scroll = QScrollArea(self)
        self._scroll.setWidget(inside)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.viewport().setAutoFillBackground(False)
        outside = QVBoxLayout(self)
        outside.setContentsMargins(0, 0, 0, 0)
        outside.addWidget(self._scroll)
        self._box = QVBoxLayout(inside)
        self._box.addWidget(self._empty)
        self._box.addWidget(self.card)
        self._box.addStretch(1)
        self.restyle()

    def restyle(self) -> None:
        super().restyle()
        theme = self.theme
        margin = theme.whole(theme.layout.clocks_margin)
        self.setFixedWidth(theme.whole(theme.layout.clocks_width))
        self._box.setContentsMargins(margin, margin, margin, margin)
        self._box.setSpacing(theme.whole(14))
        self._empty.setVisible(not theme.layout.rail)
