"""One running clock: when it is due in large figures, what remains, and a bar."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import ClockRow
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.full_card import FullCard
from packdesk.ui.widgets.small_card import SmallCard
from packdesk.ui.widgets.themed import Themed

MOST_HEIGHTS = 32


class ClockCard(Themed):
    """A clock as a card, full (198 px) or small (112 px); late turns it solid brick.

    Signals: none; the column above decides what is shown full.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None, *, full: bool = True) -> None:
        super().__init__(theme, parent, ground="cloth")
        self._row: ClockRow | None = None
        self._full = full
        self._with_note = True
        self._tight = False
        self._heights: dict[tuple[Any, ...], int] = {}
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def row(self) -> ClockRow | None:
        """The clock shown."""
        return self._row

    @property
    def full(self) -> bool:
        """Whether the card is shown at full size."""
        return self._full

    def show_row(
        self,
        row: ClockRow,
        *,
        full: bool | None = None,
        note: bool = True,
        tight: bool = False,
    ) -> None:
        """Show a clock; `full` changes the size.

        Where height is short the note gives way; then `tight` keeps a small card to its least
        height, with the whole name and what remains in the tooltip.
        """
        before = (self._row, self._full, self._with_note, self._tight)
        self._row = row
        self._full = self._full if full is None else full
        self._with_note = note
        self._tight = tight
        told = [row.name, f"load {row.tag}" if row.tag else "", row.meaning, row.day]
        told += [row.time_of_day, row.remaining, row.note]
        self.setAccessibleName(", ".join(part for part in told if part))
        if before != (row, full, note, tight):
            self.updateGeometry()
        self.setToolTip(f"{row.name}, {row.remaining}" if tight else "")
        self.update()

    def sizeHint(self) -> QSize:
        layout = self.theme.layout
        width = self.theme.whole(layout.clocks_width - 2 * layout.clocks_margin)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(150), self.heightForWidth(self.sizeHint().width()))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        """Kept for what is shown: the column tries several settings at every press."""
        row = self._row
        told = (row.name, row.tag, row.day, row.short_day, row.time_of_day) if row else ()
        note = (row.remaining, row.meaning, row.note) if row else ()
        shown = (width, told, note, self._full, self._with_note, self._tight)
        if shown not in self._heights:
            if len(self._heights) >= MOST_HEIGHTS:
                self._heights.clear()
            self._heights[shown] = self._height(width)
        return self._heights[shown]

    def restyle(self) -> None:
        self._heights.clear()
        super().restyle()

    def _height(self, width: int) -> int:
        face = self._face()
        if face is None:
            return self.theme.line(Role.BODY)
        return round(face.height(width))

    def draw(self, painter: QPainter) -> None:
        face = self._face()
        if face is not None:
            rect = QRectF(self.rect())
            face.draw(painter, rect, face.draw_ground(painter, rect))

    def _face(self) -> FullCard | SmallCard | None:
        if self._row is None:
            return None
        if self._full:
            return FullCard(self.theme, self._row, self._with_note)
        return SmallCard(self.theme, self._row, self._tight)
