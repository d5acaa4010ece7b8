"""A run of pouch cells with one tab stop: arrow keys walk it, Enter chooses."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import PouchCell
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.placed import Placed
from packdesk.ui.widgets.pouch_cell import PouchCellView


class PouchCells(Placed):
    """Cells side by side, in as many rows as their width asks for.

    `spread` shares the whole width out between the cells of a row, as in the grid of a round;
    otherwise they stand `gap_px` apart. Only one cell is a tab stop: the one in hand or the one
    last walked to.

    Signals:
        chosen: a `PouchCell` was clicked or Enter pressed on it.
    """

    chosen = Signal(object)

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        cell_px: float = 50,
        gap_px: float = 4,
        numbered: bool = False,
        spread: bool = False,
        ground: str = "sheet",
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._cell_px = cell_px
        self._gap_px = gap_px
        self._numbered = numbered
        self._spread = spread
        self._views: list[PouchCellView] = []
        self._stop = 0
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def views(self) -> tuple[PouchCellView, ...]:
        """The cell widgets in order."""
        return tuple(self._views)

    def show_cells(self, cells: Sequence[PouchCell]) -> None:
        """Show these pouches."""
        count = len(self._views)
        while len(self._views) > len(cells):
            view = self._views.pop()
            view.hide()
            view.setParent(None)
            view.deleteLater()
        while len(self._views) < len(cells):
            self._add_view()
        for view, cell in zip(self._views, cells, strict=True):
            view.show_cell(cell)
        in_hand = [place for place, cell in enumerate(cells) if cell.in_hand]
        if not any(view.hasFocus() for view in self._views):
            self._set_stop(in_hand[0] if in_hand else min(self._stop, max(len(cells) - 1, 0)))
        if count != len(self._views):
            self.updateGeometry()
            self._place()

    def set_cell_px(self, cell_px: float) -> None:
        """Change the width of the cells in this screen's px."""
        if cell_px != self._cell_px:
            self._cell_px = cell_px
            for view in self._views:
                view.set_cell_px(cell_px)
            self.updateGeometry()
            self._place()

    def row_width(self, count: int) -> float:
        """The width of this many cells in one row."""
        return count * self._cell_px + max(count - 1, 0) * self._gap_px

    def sizeHint(self) -> QSize:
        width = round(self.row_width(len(self._views)))
        return QSize(width, self.heightForWidth(max(width, 1)))

    def minimumSizeHint(self) -> QSize:
        return QSize(round(self._cell_px), self._cell_height())

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        per_row = self._per_row(width)
        rows = max(-(-len(self._views) // per_row), 1)
        return rows * self._cell_height() + (rows - 1) * round(self._gap_px)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Walk with the arrow keys, Home and End."""
        if event.type() == QEvent.Type.KeyPress and watched in self._views:
            place = self._views.index(watched)
            per_row = self._per_row(self.width())
            target = {
                Qt.Key.Key_Right: place + 1,
                Qt.Key.Key_Left: place - 1,
                Qt.Key.Key_Down: place + per_row,
                Qt.Key.Key_Up: place - per_row,
                Qt.Key.Key_Home: 0,
                Qt.Key.Key_End: len(self._views) - 1,
            }.get(event.key())
            if target is not None:
                if 0 <= target < len(self._views):
                    self._set_stop(target)
                    self._views[target].setFocus(Qt.FocusReason.TabFocusReason)
                return True
        return super().eventFilter(watched, event)

    def _add_view(self) -> None:
        view = PouchCellView(
            self.theme,
            self,
            cell_px=self._cell_px,
            numbered=self._numbered,
            ground=self.ground_role,
        )
        view.chosen.connect(self.chosen)
        view.installEventFilter(self)
        view.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        view.show()
        self._views.append(view)

    def _set_stop(self, place: int) -> None:
        for number in {self._stop, place} & set(range(len(self._views))):
            stop = number == place
            policy = Qt.FocusPolicy.StrongFocus if stop else Qt.FocusPolicy.ClickFocus
            self._views[number].setFocusPolicy(policy)
        self._stop = place

    def _per_row(self, width: int) -> int:
        fit = int((width + self._gap_px + 0.5) // (self._cell_px + self._gap_px))
        return max(min(fit, max(len(self._views), 1)), 1)

    def _cell_height(self) -> int:
        probe = self._views[0] if self._views else None
        return probe.sizeHint().height() if probe else round(self._cell_px * 2)

    def _place(self) -> None:
        if not self._views:
            return
        per_row = self._per_row(self.width())
        height, gap = self._cell_height(), self._gap_px
        pitch = self._cell_px + gap
        if self._spread and per_row > 1:
            pitch = (self.width() - self._cell_px) / (per_row - 1)
        # A number may be wider than its cell, so a numbered cell takes the gap on both sides.
        cell = round(self._cell_px)
        side = max(int((pitch - self._cell_px) // 2), 0) if self._numbered else 0
        for place, view in enumerate(self._views):
            row, column = divmod(place, per_row)
            x = round(column * pitch) - side
            view.setGeometry(x, row * (height + round(gap)), cell + 2 * side, height)
