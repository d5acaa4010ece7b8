"""The core plot as a table: every time that matters, for a screen reader and for close reading."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QPalette, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from packdesk.present.core_table import CORE_HEADER
from packdesk.present.curves import CoreRow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme

_Index = QModelIndex | QPersistentModelIndex
_TOP = QModelIndex()
_WHAT = 1


class CoreRows(QAbstractTableModel):
    """The rows as a model; a cell read out alone says its column and its row too."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._rows: tuple[CoreRow, ...] = ()

    @property
    def rows(self) -> tuple[CoreRow, ...]:
        """What is shown."""
        return self._rows

    def show_rows(self, rows: Sequence[CoreRow]) -> None:
        """Show these rows; where only figures changed, the place of the reader is kept."""
        if len(rows) == len(self._rows):
            self._rows = tuple(rows)
            last = self.index(len(rows) - 1, len(CORE_HEADER) - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self._rows = tuple(rows)
        self.endResetModel()

    def rowCount(self, parent: _Index = _TOP) -> int:
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: _Index = _TOP) -> int:
        return 0 if parent.isValid() else len(CORE_HEADER)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal:
            return CORE_HEADER[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
        return None

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row = self._rows[index.row()]
        cell = row.cells[index.column()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return cell
            case Qt.ItemDataRole.AccessibleTextRole:
                return f"{row.when}, {CORE_HEADER[index.column()]}: {cell}"
            case Qt.ItemDataRole.FontRole:
                strong = row.now or index.column() == 0
                return self._theme.font(Role.NOTE, Weight.SEMIBOLD if strong else Weight.REGULAR)
            case Qt.ItemDataRole.BackgroundRole:
                return self._theme.color("haze") if row.now else None
            case Qt.ItemDataRole.TextAlignmentRole:
                return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        return None


class CoreTable(QTableView):
    """Shows the rows with the row of now marked; arrow keys walk it, nothing can be changed."""

    ground_role = "sheet"

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._rows = CoreRows(theme, self)
        self._fresh = False
        self.setModel(self._rows)
        self.setAccessibleName("Core temperature as a table")
        self.setFrameShape(self.Shape.NoFrame)
        self.setShowGrid(False)
        self.setWordWrap(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        # Held as long as the table is: a sweep of wrappers nobody holds took a header with it.
        self._down, self._across = self.verticalHeader(), self.horizontalHeader()
        self._down.hide()
        self._down.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        across = self._across
        across.setHighlightSections(False)
        across.setSectionsClickable(False)
        for column in range(len(CORE_HEADER)):
            mode = QHeaderView.ResizeMode
            wide = mode.Stretch if column == _WHAT else mode.ResizeToContents
            across.setSectionResizeMode(column, wide)
        theme.changed.connect(self.restyle)
        self.restyle()

    @property
    def rows(self) -> tuple[CoreRow, ...]:
        """What is shown."""
        return self._rows.rows

    def show_rows(self, rows: Sequence[CoreRow]) -> None:
        """Show these rows, with now in sight where it was not shown before."""
        self._fresh = self._fresh or len(rows) != len(self._rows.rows)
        self._rows.show_rows(rows)
        self._seek_now()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._seek_now()

    def _seek_now(self) -> None:
        """Bring now into sight once, which lays out all rows: not while the plot hides them."""
        now = next((place for place, row in enumerate(self.rows) if row.now), None)
        if self._fresh and now is not None and self.isVisible():
            self._fresh = False
            self.scrollTo(self._rows.index(now, 0))

    def restyle(self) -> None:
        """Take up colours and sizes of the theme."""
        theme = self._theme
        palette = self.palette()
        for role, name in (
            (QPalette.ColorRole.Base, "sheet"),
            (QPalette.ColorRole.Text, "ink"),
            (QPalette.ColorRole.Highlight, "haze"),
            (QPalette.ColorRole.HighlightedText, "ink"),
            (QPalette.ColorRole.Button, "sheet"),
            (QPalette.ColorRole.ButtonText, "ink2"),
            (QPalette.ColorRole.WindowText, "ink2"),
        ):
            palette.setColor(role, theme.color(name))
        self.setPalette(palette)
        across = self._across
        across.setFont(theme.font(Role.NOTE, Weight.REGULAR))
        across.setStyleSheet(
            f"QHeaderView::section {{ background: {theme.color('sheet').name()};"
            f" color: {theme.color('ink2').name()}; border: none;"
            f" border-bottom: 2px solid {theme.color('edge').name()}; padding: 4px; }}"
        )
        self._rows.show_rows(self._rows.rows)

    def sizeHint(self) -> QSize:
        return QSize(self._theme.whole(742), self._theme.whole(290))
